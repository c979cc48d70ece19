"""``nearmark pupil``: how each pupil of a practice log reads, and what to do about it."""

from collections.abc import Mapping
from pathlib import Path

import click
from rich.text import Text

from nearmark.cli.home_sheets import write_home_sheets
from nearmark.cli.present import console, json_option, print_json
from nearmark.coaching.attempt import Station
from nearmark.coaching.lost_points import LostPoints, lost_points
from nearmark.coaching.practice_plan import PlannedItem, needs, plan_session
from nearmark.coaching.pupil_habit import PupilHabit, read_club
from nearmark.coaching.scoop_habit import scoop_habit_if_known
from nearmark.coaching.volume_slips import slips_among
from nearmark.errors import InputError
from nearmark.event_folder.practice_log import read_practice_log
from nearmark.event_folder.problems import nearest

ITEMS_OF_A_SESSION = 4

Habits = Mapping[str, tuple[PupilHabit, ...]]


@click.command("pupil", help="How each pupil of a practice log reads.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--pupil", "only", metavar="NAME", help="One pupil alone.")
@click.option(
    "--items",
    "n_items",
    default=ITEMS_OF_A_SESSION,
    show_default=True,
    type=click.IntRange(1, 100),
    help="How many items the next session has.",
)
@click.option(
    "--sheets",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Write a home sheet each (PDF).",
)
@click.option("--letter", is_flag=True, help="US letter paper instead of A4.")
@json_option
def command(
    file: Path,
    only: str | None,
    n_items: int,
    sheets: Path | None,
    *,
    letter: bool,
    as_json: bool,
) -> None:
    """Print bias, scatter, slips and the next score of every pupil and station of FILE."""
    log = read_practice_log(file)
    habits = read_club(log)
    chosen = habits if only is None else {only: _one(habits, only)}
    written = [] if sheets is None else write_home_sheets(chosen, log, sheets, letter=letter)
    if as_json:
        pupils = [_as_json(name, own, n_items) for name, own in chosen.items()]
        print_json({"pupils": pupils, "sheets": [str(path) for path in written]})
        return
    for name, own in chosen.items():
        console().print(Text.assemble("\n", (name, "bold")))
        for habit in own:
            console().print(f"  {kind(habit)}: {habit.words}", markup=False)
            for line in _details(habit):
                console().print(f"    {line}", markup=False)
        for item in _next(own, n_items):
            console().print(
                f"  Next: {_named(item.station, item.size)}: {item.reason}.", markup=False
            )
    for path in written:
        console().print(f"Home sheet: {path}", markup=False)


def kind(habit: PupilHabit) -> str:
    """Station and size class, as printed."""
    return _named(habit.station, habit.size)


def _named(station: Station, size: str) -> str:
    return f"{station}, {size}" if size else str(station)


def _next(own: tuple[PupilHabit, ...], n_items: int) -> tuple[PlannedItem, ...]:
    return plan_session(needs(own, {}), n_items)


def _details(habit: PupilHabit) -> list[str]:
    lost, scoops = lost_points(habit.attempts), scoop_habit_if_known(habit.attempts)
    return [
        *([lost.words] if lost else []),
        *([scoops.words] if scoops else []),
        *(f"{each.day}, {each.thing}: {slip.words}" for each, slip in slips_among(habit.attempts)),
    ]


def _one(habits: Habits, name: str) -> tuple[PupilHabit, ...]:
    if name not in habits:
        raise InputError(
            "has no attempt in this log", where="--pupil", value=name, mend=nearest(name, habits)
        )
    return habits[name]


def _as_json(name: str, own: tuple[PupilHabit, ...], n_items: int) -> dict[str, object]:
    return {
        "pupil": name,
        "stations": [_habit_as_json(habit) for habit in own],
        "next": [
            {"station": item.station.value, "size": item.size, "reason": item.reason}
            for item in _next(own, n_items)
        ],
    }


def _lost_as_json(lost: LostPoints | None) -> dict[str, object] | None:
    if lost is None:
        return None
    parts = [{"part": part, "points": points} for part, points in lost.by_part.items()]
    return {"n": lost.n, "total": lost.total, "by_part": parts}


def _habit_as_json(habit: PupilHabit) -> dict[str, object]:
    found, scoops = habit.posterior, scoop_habit_if_known(habit.attempts)
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
        "lost": _lost_as_json(lost_points(habit.attempts)),
        "sums": [
            {
                "day": each.day.isoformat(),
                "thing": each.thing,
                "slip": found.slip.value,
                "product_cm3": found.product_cm3,
            }
            for each, found in slips_among(habit.attempts)
        ],
        "cup": None
        if scoops is None
        else {"tare_share": scoops.tare_share, "p_tare": scoops.p_tare, "words": scoops.words},
        "words": habit.words,
    }
