"""``nearmark meeting``: the next meeting of a club by the minute, for who is here."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

import click

from nearmark.cli.examples import examples
from nearmark.cli.present import console, json_option, print_json
from nearmark.coaching.advice import Trial, station_advice
from nearmark.coaching.attempt import Attempt
from nearmark.coaching.meeting_plan import MeetingPlan, learners_here, plan_meeting
from nearmark.coaching.meeting_rota import Equipment, Slot
from nearmark.coaching.pupil_habit import read_club
from nearmark.coaching.seen_truth import Thing, truths_seen, with_history
from nearmark.coaching.teaching_order import ORDER, lessons_left
from nearmark.coaching.timetable import MAX_MIN, MIN_MIN, USUAL_MIN, Part
from nearmark.errors import InputError
from nearmark.event_folder.practice_log import read_practice_log
from nearmark.station import Station
from nearmark.words.coaching_meeting import (
    fetch_words,
    part_title,
    part_words,
    refill_words,
    rest_words,
    station_words,
)

Advice = Mapping[tuple[str, Station], Trial | None]

NO_TRUTH: Final = 0.0
"""Of a thing that is only named: nobody can have seen it."""


@click.command(
    "meeting",
    help="The next meeting by the minute, for who is here.",
    epilog=examples(
        "nearmark meeting --here Ada,Bo,Cleo",
        "nearmark meeting season.csv --minutes 30",
    ),
)
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option(
    "--minutes",
    default=USUAL_MIN,
    show_default=True,
    type=click.IntRange(MIN_MIN, MAX_MIN),
    help="How long the meeting is.",
)
@click.option("--here", metavar="NAMES", help="Who is here, with commas between; else all of FILE.")
@click.option(
    "--thing",
    "new",
    multiple=True,
    metavar="STATION[,SIZE],NAME",
    help="A thing that nobody has seen, besides those of FILE.",
)
@click.option(
    "--scales",
    default=1,
    show_default=True,
    type=click.IntRange(0, 60),
    help="How many scales there are.",
)
@click.option("--calculators", type=click.IntRange(0, 60), help="Else one for each.")
@click.option(
    "--held",
    default=0,
    show_default=True,
    type=click.IntRange(0, len(ORDER)),
    help="Without FILE: how many of the first lessons were held.",
)
@json_option
def command(  # noqa: PLR0913 - one argument an option
    file: Path | None,
    *,
    minutes: int,
    here: str | None,
    new: tuple[str, ...],
    scales: int,
    calculators: int | None,
    held: int,
    as_json: bool,
) -> None:
    """Print the plan; without FILE it is that of a club that never scored."""
    log = () if file is None else with_history(read_practice_log(file))
    things = _things(log, new)
    habits = read_club(log)
    names = _names(here, log)
    plan = plan_meeting(
        learners_here(names, habits, things, truths_seen(log)),
        things,
        minutes=minutes,
        equipment=Equipment(scales, calculators),
        pairs=_pairs(log),
        lessons=() if log else lessons_left(held),
    )
    advice = _advice(log)
    if as_json:
        print_json(_as_json(plan, advice))
        return
    for line in _lines(plan, advice):
        console().print(line, markup=False)


def _names(here: str | None, log: Sequence[Attempt]) -> list[str]:
    if here is None:
        names = sorted({each.pupil for each in log})
        if not names:
            raise InputError("is nobody", where="--here", mend="Write who is here: --here Ada,Bo")
        return names
    return [name.strip() for name in here.split(",") if name.strip()]


def _things(log: Sequence[Attempt], new: Sequence[str]) -> list[Thing]:
    """Things of a log as they were last filled, and new ones."""
    found = {each.thing: Thing(*each.stratum, each.thing, each.true) for each in log}
    for text in new:
        parts = [part.strip() for part in text.split(",")]
        if len(parts) not in (2, 3) or parts[0] not in list(Station) or not parts[-1]:
            raise InputError(
                "is no thing", where="--thing", value=text, mend="Write count,small,jar of beans"
            )
        size = parts[1] if len(parts) == 3 else ""
        found[parts[-1]] = Thing(Station(parts[0]), size, parts[-1], NO_TRUTH)
    return list(found.values())


def _pairs(log: Sequence[Attempt]) -> list[tuple[str, str]]:
    members: dict[str, set[str]] = defaultdict(set)
    for each in log:
        if each.pair:
            members[each.pair].add(each.pupil)
    both = [sorted(own) for _, own in sorted(members.items()) if len(own) == 2]
    return [(first, second) for first, second in both]


def _advice(log: Sequence[Attempt]) -> Advice:
    own: dict[tuple[str, Station], list[Attempt]] = defaultdict(list)
    for each in log:
        own[each.pupil, each.station].append(each)
    return {key: station_advice(attempts) for key, attempts in own.items()}


def _lines(plan: MeetingPlan, advice: Advice) -> list[str]:
    things = ", ".join(thing.name for thing in plan.fetch)
    fetch = [line for line in (things, *fetch_words(plan)) if line]
    lines = [f"Fetch: {'; '.join(fetch)}"] if fetch else []
    for part in plan.parts:
        ends = part.begins_min + part.minutes
        lines.append(f"{part.begins_min:2d} to {ends} min  {part_title(part)}")
        lines += [f"  {line}" for line in _part_lines(part, plan, advice)]
    return [*lines, *map(refill_words, plan.refills)]


def _part_lines(part: Part, plan: MeetingPlan, advice: Advice) -> list[str]:
    if part.slot is not None:
        return [_place_line(name, thing, advice) for name, thing in plan.slots[part.slot].items()]
    return list(part_words(part, plan))


def _place_line(name: str, thing: Thing | None, advice: Advice) -> str:
    if thing is None:
        return f"{name}: {rest_words()}"
    return f"{name}: {thing.name}. {_said(name, thing, advice)}"


def _said(name: str, thing: Thing, advice: Advice) -> str:
    return station_words(thing.station, advice.get((name, thing.station)))


def _as_json(plan: MeetingPlan, advice: Advice) -> dict[str, object]:
    return {
        "parts": [
            {
                "kind": part.kind.value,
                "title": part_title(part),
                "begins_min": part.begins_min,
                "minutes": part.minutes,
                "words": None if part.slot is not None else _part_lines(part, plan, advice),
                "places": None if part.slot is None else _slot(plan.slots[part.slot], advice),
            }
            for part in plan.parts
        ],
        "fetch": [_thing(thing) for thing in plan.fetch],
        "scales": plan.most_scales,
        "calculators": plan.most_calculators,
        "partners": [
            {"pupils": list(each.names), "compare": each.thing and each.thing.name}
            for each in plan.partners
        ],
        "refills": [
            {"station": each.station.value, "size": each.size, "n_pupils": each.n_pupils}
            for each in plan.refills
        ],
    }


def _slot(slot: Slot, advice: Advice) -> list[dict[str, object]]:
    return [
        {
            "pupil": name,
            "thing": None if thing is None else _thing(thing),
            "say": rest_words() if thing is None else _said(name, thing, advice),
        }
        for name, thing in slot.items()
    ]


def _thing(thing: Thing) -> dict[str, object]:
    return {"station": thing.station.value, "size": thing.size, "name": thing.name}
