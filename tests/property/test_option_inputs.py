"""Every option and argument of every command with odd values: never a traceback, nothing half-done.

The options are taken from the commands themselves, so that a new one is tried without a word here.
"""

import os

import click
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nearmark.cli import demo, jars, serve
from nearmark.cli.main import COMMANDS, cli

N_DRAWN = int(os.environ.get("NEARMARK_DRAWN_INPUTS", "60"))

USUAL = {
    "demo": "new --no-pages --no-site",
    "serve": "--data new --local --https",
    "doctor": "--data site",
    "backup": "new.backup --data site",
    "restore": "site/nearmark.sqlite3 --data new --yes",
    "handbook": "--to new.pdf --handout",
    "plan": "--count 400 --material chickpea --resolution 0.1",
    "count": "--sample 150:61.2 --sample 150:61.9 --gross 2890.4 --tare 412.3 --resolution 0.1",
    "volume": "--length 12.4,12.5 --width 8.0 --height 6.5 --resolution 0.1",
    "net": "--gross 108.6 --tare 8.6 --resolution 0.1",
    "pour": "--material chickpea --count 400",
    "jar": "sphere --count 20 --width 6 --vessel cylinder:5x8 --out new.jar",
    "cards": "small-bean.jar --to new",
    "jars make": "--count 1 --out new",
    "buy": "--scoop chickpea:1000 --container chickpea:2000 --places 10 --pairs 40",
    "pairs-import": "list.csv event --write",
    "day-plan": "--pairs 8 --days 2",
    "heats": "event --places 4 --write",
    "sheets": "event --to new",
    "key": "event",
    "score": "event --draws 100 --export new",
    "check": "event",
    "print": "event --to new",
    "verify": "event",
    "points": "440 421",
    "meeting": "season.csv",
    "pupil": "season.csv",
    "pairs": "season.csv",
    "bags": "chickpea --pupil Ada",
    "measure-plan": "30 --references hand.csv",
    "lean": "--sigma 10",
    "expected": "--bias 5 --scatter 10",
}
"""A command line of each that is right, or refused for a reason of its own."""

SLOW = {"cards", "handbook", "sheets", "print"}
"""Typesetting takes a second; only what is refused before it is tried."""


def command_of(name: str) -> click.Command:
    command: click.Command = cli
    for word in name.split():
        assert isinstance(command, click.Group)
        found = command.get_command(click.Context(cli), word)
        assert found is not None
        command = found
    return command


def all_commands() -> set[str]:
    found = set()
    for name in COMMANDS:
        command = command_of(name)
        parts = command.commands if isinstance(command, click.Group) else None
        found |= {name} if parts is None else {f"{name} {part}" for part in parts}
    return found


def test_every_command_is_tried():
    assert set(USUAL) == all_commands()


@pytest.fixture
def quiet_commands(monkeypatch):
    """No server that stays, no jars of a library settled in processes of their own."""
    monkeypatch.setattr(demo, "_serve", lambda *_: None)
    monkeypatch.setattr(serve, "prepare", lambda _: None)
    monkeypatch.setattr(serve, "run", lambda _: None)
    monkeypatch.setattr(jars, "_make", lambda *_, **__: 0)


def changed(draw, odd: st.SearchStrategy[str], name: str) -> list[str]:
    """The usual words of a command with one or two of its parameters changed or added."""
    words = [*name.split(), *USUAL[name].split()]
    for parameter in draw(
        st.lists(st.sampled_from(command_of(name).params), min_size=1, max_size=2)
    ):
        value = draw(odd)
        if isinstance(parameter, click.Option):
            option = draw(st.sampled_from(parameter.opts))
            if parameter.is_flag:
                words.append(option)
            elif option in words and draw(st.booleans()):
                words[words.index(option) + 1] = value
            else:
                words += [f"{option}={value}"] if draw(st.booleans()) else [option, value]
        else:
            n_words = len(name.split())
            place = [p for p in command_of(name).params if isinstance(p, click.Argument)]
            at = n_words + place.index(parameter)
            words[at : at + draw(st.integers(0, 1))] = [value]
    return words


@pytest.mark.slow
@settings(
    max_examples=N_DRAWN,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(st.data())
def test_no_option_of_any_command_breaks_it(quiet_commands, command_line, odd, data):
    del quiet_commands
    names = sorted(set(USUAL) - SLOW) * 4 + sorted(SLOW)
    words = changed(data.draw, odd, data.draw(st.sampled_from(names)))
    if data.draw(st.booleans()):
        words.append("--json")

    assert command_line.faults(words) == [], words
