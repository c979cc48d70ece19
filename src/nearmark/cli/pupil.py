"""``nearmark pupil``: how each pupil of a practice log reads, and what to do about it."""

from collections.abc import Mapping
from pathlib import Path

import click

from nearmark.cli.present import console, json_option, print_json
from nearmark.coaching.pupil_habit import PupilHabit, read_club
from nearmark.errors import InputError
from nearmark.event_folder.practice_log import read_practice_log
from nearmark.event_folder.problems import nearest

Habits = Mapping[str, tuple[PupilHabit, ...]]


@click.command("pupil", help="How each pupil of a practice log reads.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--pupil", "only", metavar="NAME", help="One pupil alone.")
@json_option
def command(file: Path, only: str | None, *, as_json: bool) -> None:
    """Print bias, scatter, slips and the next score of every pupil and station of FILE."""
    habits = read_club(read_practice_log(file))
    chosen = habits if only is None else {only: _one(habits, only)}
    if as_json:
        print_json({"pupils": [_as_json(name, own) for name, own in chosen.items()]})
        return
    for name, own in chosen.items():
        console().print(f"\n[bold]{name}[/bold]")
        for habit in own:
            console().print(f"  {kind(habit)}: {habit.words}")


def kind(habit: PupilHabit) -> str:
    """Station and size class, as printed."""
    return f"{habit.station}, {habit.size}" if habit.size else str(habit.station)


def _one(habits: Habits, name: str) -> tuple[PupilHabit, ...]:
    if name not in habits:
        raise InputError(
            "has no attempt in this log", where="--pupil", value=name, mend=nearest(name, habits)
        )
    return habits[name]


def _as_json(name: str, own: tuple[PupilHabit, ...]) -> dict[str, object]:
    return {"pupil": name, "stations": [_habit_as_json(habit) for habit in own]}


def _habit_as_json(habit: PupilHabit) -> dict[str, object]:
    found = habit.posterior
    return {
        "station": habit.station.value,
        "size": habit.size,
        "n": habit.n,
        "sessions": habit.n_sessions,
        "bias": found.bias,
        "bias_sd": found.bias_sd,
        "scatter": found.scatter,
        "band": list(habit.band),
        "score": habit.next_score.score,
        "p90": habit.next_score.p_at_least,
        "slips": [
            {"day": each.day.isoformat(), "thing": each.thing, "estimate": each.estimate}
            for each in habit.suspects
        ],
        "words": habit.words,
    }
