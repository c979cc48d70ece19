"""The help of every command: each option is explained, and each example runs."""

import csv
import re
import shlex
from functools import partial
from pathlib import Path

import click
import pytest

from nearmark.cli import day_plan
from nearmark.cli.main import COMMANDS, cli
from nearmark.contest.day_flow.changes import worth_of_changes
from nearmark.demo import larkspur_valley
from nearmark.demo_season import practice_season
from nearmark.event_folder import write_event
from nearmark.event_folder.practice_log_writer import practice_log_text

NOT_RUN = {
    "serve": "it serves until somebody stops it",
    "backup": "needs a site's database; tests/site/copies runs it",
    "restore": "needs a backup; tests/site/copies runs it",
    "verify": "needs a released folder; test_event_folder_verify runs it",
}
"""Commands whose examples are only held against their options."""


def command_of(words):
    context = click.Context(cli, info_name="nearmark")
    command = cli.get_command(context, words[0])
    while isinstance(command, click.Group):
        words = words[1:]
        command = command.get_command(click.Context(command), words[0])
    return command, words[1:]


def examples_of(name):
    command, _ = command_of([name, "make"])
    shown = command.get_help(
        click.Context(command, info_name=f"nearmark {name}", max_content_width=200)
    )
    return re.findall(r"^ +nearmark (.+)$", shown.partition("Examples:")[2], re.MULTILINE)


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_has_an_example_that_its_options_take(name):
    found = examples_of(name)

    assert found
    for line in found:
        assert shlex.split(line)[0] == name
        command, words = command_of(shlex.split(line))
        command.make_context(name, words)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_says_what_it_is(name):
    command, _ = command_of([name, "make"])
    silent = [
        each.opts[-1]
        for each in command.params
        if isinstance(each, click.Option) and not (each.help or "").strip()
    ]

    assert silent == []


@pytest.fixture
def desk(tmp_path, monkeypatch):
    """A folder to work in: the demo event, its season, a list of pairs, hands.

    Each change of a day is tried on two days there, not on twenty.
    """
    monkeypatch.setattr(day_plan, "worth_of_changes", partial(worth_of_changes, n_days=2))
    monkeypatch.chdir(tmp_path)
    write_event(larkspur_valley(), tmp_path / "larkspur-valley")
    season = practice_log_text(practice_season())
    (tmp_path / "season.csv").write_text(season, encoding="utf-8", newline="")
    _write("list.csv", [["school", "member_1", "member_2"], ["Thistlebank", "Ann", "Ben"]])
    rows = [["palm", cm, f"2027-05-0{day}"] for day in (1, 2) for cm in ("7.9", "8.0", "8.1")]
    _write("hands.csv", [["reference", "reading_cm", "day"], *rows])
    return tmp_path


def _write(name, rows):
    with Path(name).open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)


@pytest.mark.slow
@pytest.mark.parametrize("name", [name for name in COMMANDS if name not in NOT_RUN])
@pytest.mark.usefixtures("desk")
def test_every_example_runs(name, run):
    if name == "cards":
        jar = "jar sphere --count 20 --width 16 --vessel cylinder:8x10 --out jar-1.jar"
        assert run(*shlex.split(jar))[0] == 0
    for line in examples_of(name):
        more = ["--no-site"] if line == "demo" else []
        status, _, err = run(*shlex.split(line), *more)
        assert status == 0, f"nearmark {line}: {err}"


def test_what_is_not_run_is_a_command():
    assert set(NOT_RUN) <= set(COMMANDS)
