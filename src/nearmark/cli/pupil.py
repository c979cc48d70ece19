"""``nearmark pupil``: what would gain each pupil most, how they read, what to practise next."""

from collections.abc import Collection, Mapping
from pathlib import Path

import click
from rich.text import Text

from nearmark.cli.examples import examples
from nearmark.cli.home_sheets import write_certificates, write_home_sheets
from nearmark.cli.language import language_option
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.pupil_progress import bests_as_json, progress_as_json
from nearmark.coaching.acts import Step
from nearmark.coaching.advice import Trial, pupil_advice
from nearmark.coaching.kinds import Stratum
from nearmark.coaching.practice_plan import (
    ITEMS_OF_A_SESSION,
    PlannedItem,
    kinds_of,
    what_next,
)
from nearmark.coaching.progress import Progress, best_attempts, progress_of
from nearmark.coaching.pupil_habit import PupilHabit, attempts_in, read_club
from nearmark.coaching.slips import slips_among
from nearmark.errors import InputError
from nearmark.event_folder.practice_log import read_practice_log
from nearmark.event_folder.problems import nearest
from nearmark.words.coaching_advice import trial_words
from nearmark.words.coaching_habits import habit_words, reason_words
from nearmark.words.coaching_progress import best_words, progress_words
from nearmark.words.coaching_steps import slip_words
from nearmark.words.sides import kind_words
from nearmark.words.translation import Language, spoken_in

Habits = Mapping[str, tuple[PupilHabit, ...]]


@click.command(
    "pupil",
    help="Who guesses low or high, and what to practise next.",
    epilog=examples(
        "nearmark pupil season.csv",
        "nearmark pupil season.csv --pupil Milo --sheets home",
    ),
)
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
@click.option(
    "--certificates",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write the certificates of the season (PDF), a page a pupil.",
)
@click.option("--names", is_flag=True, help="Print the names on the certificates.")
@click.option("--letter", is_flag=True, help="US letter paper instead of A4.")
@language_option
@json_option
def command(  # noqa: PLR0913 - one argument an option
    file: Path,
    only: str | None,
    n_items: int,
    sheets: Path | None,
    certificates: Path | None,
    *,
    names: bool,
    letter: bool,
    spoken: Language,
    as_json: bool,
) -> None:
    """Print bias, scatter, slips and the next score of every pupil and station of FILE."""
    log = read_practice_log(file)
    habits = read_club(log)
    known = kinds_of(habits)
    chosen = habits if only is None else {only: _one(habits, only)}
    written = []
    with spoken_in(spoken):
        if sheets is not None:
            written = write_home_sheets(chosen, log, sheets, known=known, letter=letter)
        if certificates is not None:
            write_certificates(chosen, log, certificates, names=names, letter=letter)
    if as_json:
        pupils = [_as_json(name, own, known, n_items) for name, own in chosen.items()]
        print_json(
            {
                "pupils": pupils,
                "club": progress_as_json(_club_progress(habits)),
                "sheets": [str(path) for path in written],
                "certificates": None if certificates is None else str(certificates),
            }
        )
        return
    for name, own in chosen.items():
        console().print(Text.assemble("\n", (name, "bold")))
        for line in _lines(own, what_next(own, known, n_items)):
            console().print(f"  {line}", markup=False)
    if only is None:
        console().print(Text.assemble("\n", ("All pupils", "bold")))
        for each in _club_progress(habits):
            console().print(f"  {progress_words(each)}", markup=False)
    for path in written:
        console().print(f"Home sheet: {path}", markup=False)
    if certificates is not None:
        console().print(f"Certificates: {certificates}", markup=False)


def _lines(own: tuple[PupilHabit, ...], plan: tuple[PlannedItem, ...]) -> list[str]:
    return [
        *(f"{trial.station}: {trial_words(trial)}" for trial in pupil_advice(attempts_in(own))),
        *(f"Next: {kind_words(i.station, i.size)}: {reason_words(i)}." for i in plan),
        *(f"{kind_words(h.station, h.size)}: {habit_words(h)}" for h in own),
        *map(progress_words, progress_of({"": attempts_in(own)})),
        *map(best_words, best_attempts(attempts_in(own))),
        *(
            f"{each.day}, {each.thing}: {slip_words(slip)}"
            for each, slip in slips_among(attempts_in(own))
        ),
    ]


def _club_progress(habits: Habits) -> tuple[Progress, ...]:
    return progress_of({name: attempts_in(own) for name, own in habits.items()})


def _one(habits: Habits, name: str) -> tuple[PupilHabit, ...]:
    if name not in habits:
        raise InputError(
            "has no attempt in this log", where="--pupil", value=name, mend=nearest(name, habits)
        )
    return habits[name]


def _as_json(
    name: str, own: tuple[PupilHabit, ...], known: Collection[Stratum], n_items: int
) -> dict[str, object]:
    return {
        "pupil": name,
        "advice": [_advice_as_json(trial) for trial in pupil_advice(attempts_in(own))],
        "next": [_item_as_json(item) for item in what_next(own, known, n_items)],
        "stations": [_habit_as_json(habit) for habit in own],
        "progress": progress_as_json(progress_of({"": attempts_in(own)})),
        "bests": bests_as_json(best_attempts(attempts_in(own))),
    }


def _advice_as_json(trial: Trial) -> dict[str, object]:
    return {
        "station": trial.station.value,
        "steps": [_step_as_json(step) for step in trial.steps],
        "before": trial.before,
        "after": trial.after,
        "least_gain": trial.least,
        "n": trial.n,
        "sureness": None if trial.sureness is None else trial.sureness.value,
        "words": trial_words(trial),
    }


def _step_as_json(step: Step) -> dict[str, object]:
    return {"act": step.act.value, "amount": step.amount}


def _item_as_json(item: PlannedItem) -> dict[str, object]:
    return {
        "station": item.station.value,
        "size": item.size,
        "worth": item.worth,
        "reason": reason_words(item),
    }


def _habit_as_json(habit: PupilHabit) -> dict[str, object]:
    found, scoops = habit.posterior, habit.scoops
    return {
        "station": habit.station.value,
        "size": habit.size,
        "n": habit.n,
        "n_known": habit.n_known,
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
        "sums": [
            {
                "day": each.day.isoformat(),
                "thing": each.thing,
                "slip": slip.slip.value,
                "product": slip.product,
            }
            for each, slip in slips_among(habit.attempts)
        ],
        "cup": None
        if scoops is None
        else {
            "tare_share": scoops.tare_share,
            "p_tare": scoops.p_tare,
            "cups": [
                {"cup_g": cup.cup_g, "off_g": cup.off_g, "score": cup.next_score.score}
                for cup in scoops.cups
            ],
        },
        "words": habit_words(habit),
    }
