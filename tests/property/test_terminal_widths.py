"""At no width of a terminal is a number cut, and what is left out is said."""

import io
import os
import re
import string
from contextlib import redirect_stdout, suppress
from dataclasses import replace
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.console import Console

from nearmark.cli import day_plan, main
from nearmark.cli.present import console
from nearmark.cli.standings_table import show_places, show_schools
from nearmark.cli.table import Column, show_table
from nearmark.contest import rank_confidence, results
from nearmark.contest.day_flow.changes import worth_of_changes
from nearmark.contest.day_flow.summary import day_bands
from nearmark.contest.scoring import points_text
from nearmark.demo_season import practice_season
from nearmark.event_folder import write_event
from nearmark.event_folder.practice_log_writer import practice_log_text
from nearmark.words.numbers import probability_text

WIDTHS = st.integers(40, 200)
NAMES = st.text(string.ascii_letters + " .-'[]\u00f1\u0141\u6771", min_size=1, max_size=60)
MARKED = [str(width) for width in (40, 41, 60, 79, 80, 85, 90, 120, 200)]


class Terminal(io.StringIO):
    """A text that says it is a terminal."""

    encoding = "utf-8"

    def isatty(self):
        return True


def terminal(width):
    return Console(highlight=False, file=Terminal(), width=width, color_system=None)


def on_terminal(width, *words):
    """What a command prints in a terminal so many columns wide."""
    out = Terminal()
    environment = patch.dict(os.environ, COLUMNS=str(width), NO_COLOR="1")
    with redirect_stdout(out), environment, suppress(SystemExit):
        main(words)
    return re.sub(r"\x1b\[[\d;]*m", "", out.getvalue())


@pytest.mark.slow
@given(WIDTHS, NAMES, st.integers(1, 12))
def test_place_total_and_stays_are_whole_at_any_width(small_event, width, name, n_more):
    pairs = tuple(replace(pair, school=name) for pair in small_event.pairs)
    more = tuple(replace(small_event.items[2], code=f"B{n}") for n in range(2, 2 + n_more))
    outcome = results(replace(small_event, pairs=pairs, items=small_event.items + more))
    confidence = rank_confidence(outcome, n_draws=100, seed=1)
    out = terminal(width)

    show_places(out, outcome, confidence)
    show_schools(out, outcome)

    said = out.file.getvalue()
    lines = [line.split() for line in said.splitlines()]
    assert all(cell_len(line) <= width for line in said.splitlines())
    for pair in outcome.pairs:
        total = points_text(pair.total, outcome.event.rules.decimals)
        stays = probability_text(confidence.place_stands(pair.pair.code) or 0)
        place = str(pair.place or pair.pair.status.value)
        own = next(line for line in lines if pair.pair.code in line[:2])
        assert own[0] == place
        assert total in own
        assert not pair.place or " ".join(own).endswith(stays)


@given(WIDTHS, st.lists(st.tuples(NAMES, *[st.integers(0, 10**9)] * 4), max_size=5))
def test_no_number_is_cut_and_what_is_left_out_is_named(width, rows):
    columns = [
        Column("name", wraps=True),
        *(Column(heading, right=True) for heading in ("first", "second")),
        *(Column(heading, right=True, may_go=True) for heading in ("third", "fourth")),
    ]
    out = terminal(width)

    show_table(out, columns, [[str(cell) for cell in row] for row in rows])

    said = out.file.getvalue()
    for _, *kept in rows:
        assert all(str(number) in said.split() for number in kept[:2])
        for heading, number in zip(("third", "fourth"), kept[2:], strict=True):
            assert str(number) in said.split() or f"{heading}" in said.partition("No room")[2]


def test_piped_a_row_is_one_line(capsys):
    show_table(console(), [Column("name", wraps=True), Column("n", right=True)], [["x " * 90, "7"]])

    assert capsys.readouterr().out.splitlines()[1] == f"{'x ' * 89}x   7"


@pytest.fixture(scope="module")
def long_named(small_event, tmp_path_factory):
    """A folder whose schools have names of sixty characters."""
    folder = tmp_path_factory.mktemp("wide") / "event"
    pairs = tuple(replace(p, school=f"{p.school} ".ljust(60, "x")) for p in small_event.pairs)
    write_event(replace(small_event, pairs=pairs), folder)
    return folder


@pytest.mark.slow
@pytest.mark.parametrize(
    "words",
    [
        ["score", "--draws", "100"],
        ["key", "--budgets"],
        ["check"],
        ["heats", "--quick", "--places", "2", "--start", "09:00"],
    ],
    ids=lambda words: words[0],
)
def test_every_number_of_an_event_command_is_whole_at_any_width(long_named, words):
    """Digits that stand together when piped stand together in the terminal."""
    command, *options = words
    numbers = numbers_of(piped(command, str(long_named), *options))
    assert numbers
    for width in MARKED:
        said = on_terminal(width, command, str(long_named), *options)
        if "No room here for" not in said:
            assert numbers <= numbers_of(said)


@pytest.fixture(scope="module")
def season(tmp_path_factory):
    """The practice log of the invented season."""
    file = tmp_path_factory.mktemp("season") / "season.csv"
    file.write_text(practice_log_text(practice_season()), encoding="utf-8", newline="")
    return file


@pytest.mark.slow
@pytest.mark.parametrize("command", ["pupil", "pairs", "meeting"])
def test_every_number_of_a_season_command_is_whole_at_any_width(season, command):
    numbers = numbers_of(piped(command, str(season)))
    assert numbers
    for width in MARKED[::3]:
        assert numbers <= numbers_of(on_terminal(width, command, str(season)))


@pytest.mark.slow
@pytest.mark.parametrize(
    "words",
    [
        [
            "plan",
            "--count",
            "2500",
            "--piece-mass",
            "0.4",
            "--piece-cv",
            "10",
            "--resolution",
            "0.1",
        ],
        ["day-plan", "--pairs", "12", "--days", "2"],
        ["buy", "--places", "12", "--pairs", "80", "--scoop", "split-pea:500"],
        ["bags", "chickpea"],
        ["pour", "--material", "chickpea", "--count", "900"],
        [
            *("count", "--sample", "150:53.8", "--sample", "150:53.6", "--sample", "150:54.1"),
            *("--gross", "1176.8", "--tare", "141.7", "--resolution", "0.1"),
        ],
        ["meeting", "--here", "Ada,Bo,Cleo"],
    ],
    ids=lambda words: words[0],
)
def test_every_number_of_a_command_is_whole_at_any_width(words, monkeypatch):
    # How a day flows is computed once and shown at every width.
    for compute in (day_bands, worth_of_changes):
        monkeypatch.setattr(day_plan, compute.__name__, once(compute))
    numbers = numbers_of(piped(*words))
    assert numbers
    for width in MARKED:
        assert numbers <= numbers_of(on_terminal(width, *words))


def once(compute):
    """What is computed at the first call is given at each."""
    found: list[Any] = []

    def give(*given, **named):
        if not found:
            found.append(compute(*given, **named))
        return found[0]

    return give


def piped(*words):
    """What a command prints into a file, where nothing is cut."""
    out = io.StringIO()
    with redirect_stdout(out), suppress(SystemExit):
        main(words)
    return out.getvalue()


def numbers_of(said):
    """The numbers as they stand, digits and marks together."""
    return set(re.findall(r"\d(?:[\d.,:]*\d)?", said))
