"""``nearmark pairs``: who of each pair should decide, station by station."""

from collections import defaultdict
from collections.abc import Iterable
from pathlib import Path

import click
import numpy as np
from rich.text import Text

from nearmark.cli.examples import examples
from nearmark.cli.numbers import number
from nearmark.cli.pair_together import Contest, read_items, together_words
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.pupil_progress import progress_as_json
from nearmark.coaching.assignment import Assignment
from nearmark.coaching.attempt import Attempt
from nearmark.coaching.pair_habits import PairReading, read_pair
from nearmark.coaching.progress import progress_of
from nearmark.coaching.pupil_habit import attempts_in, read_club
from nearmark.errors import InputError
from nearmark.event_folder.practice_log import read_practice_log
from nearmark.words.coaching_pairs import pair_words
from nearmark.words.coaching_progress import progress_words
from nearmark.words.sides import kind_words


@click.command(
    "pairs",
    help="Who of each pair should decide, and how sure that is.",
    epilog=examples(
        "nearmark pairs season.csv",
    ),
)
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--corrected", is_flag=True, help="Remove each pupil's known bias before averaging.")
@click.option(
    "--seed", type=click.IntRange(0), default=1, show_default=True, help="Same number, same draws."
)
@click.option(
    "--items",
    multiple=True,
    metavar="STATION=N",
    help="Items of the contest, such as count=3 (mass=1, count=3, volume=2 when not said).",
)
@click.option("--alone", metavar="MIN", help="Minutes an item takes when one decides.")
@click.option("--both", metavar="MIN", help="Minutes an item takes when both work it out.")
@click.option("--minutes", metavar="MIN", help="Minutes for all items.")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    file: Path,
    seed: int,
    items: tuple[str, ...],
    alone: str | None,
    both: str | None,
    minutes: str | None,
    *,
    corrected: bool,
    as_json: bool,
) -> None:
    """Print the advice to every pair of FILE, with the probability that it is right."""
    contest = _contest(items, alone, both, minutes)
    log = read_practice_log(file)
    pairs, rng = _members(log), np.random.default_rng(seed)
    habits = read_club(log)
    read = {
        pair: read_pair(habits.get(first, ()), habits.get(second, ()), rng, corrected=corrected)
        for pair, (first, second) in pairs.items()
    }
    plans = {
        pair: contest.plan((reading.first.station, reading.advice) for reading in own)
        for pair, own in read.items()
    }
    gone = {
        pair: progress_of({name: attempts_in(habits.get(name, ())) for name in members})
        for pair, members in pairs.items()
    }
    if as_json:
        print_json(
            {
                "pairs": [
                    _as_json(pair, pairs[pair], own, plans[pair])
                    | {"progress": progress_as_json(gone[pair])}
                    for pair, own in read.items()
                ]
            }
        )
        return
    for pair, own in read.items():
        first, second = pairs[pair]
        plan = plans[pair]
        console().print(Text.assemble("\n", (pair, "bold"), f": {first} and {second}"))
        for reading in own:
            kind = kind_words(reading.first.station, reading.first.size)
            console().print(f"  {kind}: {pair_words(reading)}", markup=False)
        if plan is None:
            console().print("  No station both have practised yet.")
        else:
            console().print(f"  {together_words(plan, first, second)}", markup=False)
        for each in gone[pair]:
            console().print(f"  {progress_words(each)}", markup=False)


def _contest(
    items: tuple[str, ...], alone: str | None, both: str | None, minutes: str | None
) -> Contest:
    """Time counts only when it is said how long an item takes alone, and how long together."""
    wanted = read_items(items)
    if alone is None and both is None and minutes is None:
        return Contest(wanted)
    if alone is None or both is None or minutes is None:
        raise InputError(
            "belong together",
            where="--alone, --both, --minutes",
            mend="Give all three, or none: without times the best plan is the one of most points",
        )
    times = [
        number(text, where, "min")
        for text, where in ((alone, "--alone"), (both, "--both"), (minutes, "--minutes"))
    ]
    if min(times) <= 0:
        raise InputError(
            "must be above zero",
            where="--alone, --both, --minutes",
            value=f"{min(times):g}",
            mend="Give the minutes",
        )
    return Contest(wanted, *times)


def _members(log: Iterable[Attempt]) -> dict[str, tuple[str, str]]:
    members: dict[str, set[str]] = defaultdict(set)
    for attempt in log:
        if attempt.pair:
            members[attempt.pair].add(attempt.pupil)
    if not members:
        raise InputError(
            "names no pair", where="column pair", mend="Write the pair's code beside each attempt"
        )
    for pair, pupils in members.items():
        if len(pupils) > 2:
            raise InputError(
                f"has {len(pupils)} pupils",
                where=f"pair {pair}",
                value=", ".join(sorted(pupils)),
                mend="A pair has two; give the others another code",
            )
    # With one pupil there is nothing to decide.
    both = {pair: sorted(own) for pair, own in sorted(members.items()) if len(own) == 2}
    if not both:
        raise InputError(
            "no pair has attempts of both its pupils",
            where="column pair",
            mend="Write the same code beside the attempts of both",
        )
    return {pair: (first, second) for pair, (first, second) in both.items()}


def _as_json(
    pair: str,
    members: tuple[str, str],
    own: tuple[PairReading, ...],
    plan: Assignment | None,
) -> dict[str, object]:
    first, second = members
    return {
        "pair": pair,
        "first": first,
        "second": second,
        "stations": [_reading_as_json(reading) for reading in own],
        "together": None if plan is None else _plan_as_json(plan),
    }


def _reading_as_json(reading: PairReading) -> dict[str, object]:
    advice = reading.advice
    return {
        "station": reading.first.station.value,
        "size": reading.first.size,
        "n": [reading.first.n, reading.second.n],
        "decides": advice.mode.value,
        "p_right": advice.p_right,
        "is_clear": reading.is_clear,
        "gain": advice.gain,
        "gain_sd": advice.gain_sd,
        "teach": None if advice.teach_first is None else advice.teach_first.value,
        "correlation": reading.correlation,
        "options": [
            {"mode": o.mode.value, "score": o.score, "p90": o.p90, "p_near": o.p_near}
            for o in advice.options
        ],
        "n_common": reading.n_common,
        "replayed": [{"mode": m.value, "score": s} for m, s in reading.replayed.items()],
        "words": pair_words(reading),
    }


def _plan_as_json(plan: Assignment) -> dict[str, object]:
    return {
        "modes": [{"station": s.value, "mode": mode.value} for s, mode in plan.modes.items()],
        "mean_score": plan.mean_score,
        "p_all_90": plan.p_all_90,
        "minutes": plan.minutes,
    }
