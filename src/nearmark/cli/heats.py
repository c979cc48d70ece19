"""``nearmark heats``: who goes when, schools together."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import click
from rich.text import Text

from nearmark.cli.examples import examples
from nearmark.cli.folder import folder_argument
from nearmark.cli.heat_plan import Planned, places_now, planned_at_once, planned_well, rooms_of
from nearmark.cli.language import language_option
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.table import Column, show_table
from nearmark.contest import (
    Event,
    Heat,
    HeatTime,
    n_cuts,
    split_schools,
    timetable,
    with_heats,
)
from nearmark.contest.event import Pair
from nearmark.contest.heat_program import (
    MAX_HEATS,
    TIME_LIMIT_S,
    DivisionRule,
    HeatFrame,
    HeatMove,
    heat_moves,
)
from nearmark.errors import InputError
from nearmark.event_folder import read_event, write_event
from nearmark.printing.school_lists import school_lists_pdf
from nearmark.printing.wishes import Wishes
from nearmark.words.heat_plans import aim_words, gap_words, move_words, not_kept_words
from nearmark.words.heats import together_words
from nearmark.words.numbers import plural
from nearmark.words.translation import Language, spoken_in

_MAX_SHOWN = 12


@click.command(
    "heats",
    help="Who goes when: heats with schools kept together.",
    epilog=examples(
        "nearmark heats larkspur-valley",
        "nearmark heats larkspur-valley --start 09:00 --minutes 30 --write",
    ),
)
@folder_argument
@click.option(
    "--places",
    type=int,
    help="Pairs that start together; the rooms or the rule set of the event say it.",
)
@click.option(
    "--anew",
    is_flag=True,
    help="Plan all heats anew; without it, those already planned stay as they are.",
)
@click.option(
    "--few-moves", is_flag=True, help="Plan all again, and move as few pairs as possible."
)
@click.option("--best", is_flag=True, help="Look for the best plan even if nobody has a wish.")
@click.option("--quick", is_flag=True, help="Plan at once, without a look at the wishes.")
@click.option(
    "--time-limit",
    type=click.FloatRange(1, 3600),
    default=TIME_LIMIT_S,
    show_default=True,
    help="Seconds to look for the best plan.",
)
@click.option("--max-heats", type=click.IntRange(1, MAX_HEATS), help="No more heats than this.")
@click.option(
    "--divisions",
    type=click.Choice([rule.value for rule in DivisionRule]),
    default=DivisionRule.MIXED.value,
    show_default=True,
    help="Whether pairs of two divisions may go together.",
)
@click.option("--start", type=click.DateTime(["%H:%M"]), help="Start of heat 1, such as 09:00.")
@click.option("--minutes", type=int, help="Length of a heat; the rule set says it.")
@click.option("--interval", type=int, help="Minutes from start to start; the length by default.")
@click.option(
    "--school-pages",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write who goes when, a page a school, into this PDF.",
)
@click.option("--write", is_flag=True, help="Save the heats into the folder.")
@language_option
@json_option
def command(  # noqa: PLR0913 - one argument an option
    folder: Path,
    *,
    places: int | None,
    anew: bool,
    few_moves: bool,
    best: bool,
    quick: bool,
    time_limit: float,
    max_heats: int | None,
    divisions: str,
    start: datetime | None,
    minutes: int | None,
    interval: int | None,
    school_pages: Path | None,
    write: bool,
    spoken: Language,
    as_json: bool,
) -> None:
    """Print the plan; change the folder only when asked to."""
    if (few_moves and anew) or (best and quick):
        raise InputError(
            "exclude each other",
            where="--few-moves and --anew" if few_moves and anew else "--best and --quick",
            mend="Choose one",
        )
    event = read_event(folder)
    _refuse_places(event, places)
    frame = HeatFrame(
        rooms=rooms_of(event, event.rules.usual_places if places is None else places),
        first_start=None if start is None else start.time(),
        minutes=event.rules.usual_minutes if minutes is None else minutes,
        interval_minutes=interval,
        max_heats=max_heats,
        divisions=DivisionRule(divisions),
    )
    now = places_now(event)
    kept = {} if anew or few_moves else now
    asks = best or few_moves or event.heat_wishes or event.rooms or frame != _plain(frame)
    if asks and not quick:
        planned = planned_well(
            event,
            frame,
            kept=kept,
            before=now if few_moves else {},
            time_limit_s=time_limit,
            quiet=as_json,
        )
    else:
        planned = planned_at_once(event, frame, kept)
    heats = planned.heats
    times = _times(event, heats, frame)
    pairs = with_heats(event.pairs, heats)
    changed = sum(new != old for new, old in zip(pairs, event.pairs, strict=True))
    if write and changed:
        write_event(replace(event, pairs=pairs), folder)
    if school_pages:
        wishes = Wishes(start=frame.first_start, minutes=frame.minutes, interval=interval)
        with spoken_in(spoken):
            school_pages.write_bytes(school_lists_pdf(replace(event, pairs=pairs), wishes))
    moved = heat_moves([pair for pair in event.pairs if pair.heat], heats)
    if as_json:
        facts = _as_json(event, heats, times) | _more_as_json(event, planned, moved)
        facts |= {"places": frame.places, "changed": changed, "written": write}
        print_json(facts)
        return
    _show(event, heats, times, frame.places)
    _show_more(planned, moved, has_coaches=any(wish.coach for wish in event.heat_wishes))
    if school_pages:
        console().print(f"Who goes when is in {school_pages}")
    _show_what_next(folder, changed, write=write)


def _plain(frame: HeatFrame) -> HeatFrame:
    """The same day, with nothing asked of the plan."""
    return replace(frame, max_heats=None, divisions=DivisionRule.MIXED)


def _refuse_places(event: Event, places: int | None) -> None:
    if event.rooms and places is not None:
        raise InputError(
            "is given, but the event has rooms with places of their own",
            where="--places",
            value=places,
            mend="Change rooms.csv, or leave the option out",
        )
    if places is not None and places < 1:
        raise InputError("must be above zero", where="places", value=places, mend="12 is usual")


def _times(
    event: Event,
    heats: Sequence[Heat],
    frame: HeatFrame,
) -> tuple[HeatTime, ...]:
    """Planned times on the event's day; empty without a start."""
    if frame.first_start is None:
        return ()
    first = datetime.combine(event.day, frame.first_start)
    numbers = [heat.number for heat in heats]
    return timetable(numbers, first, minutes=frame.minutes, interval_minutes=frame.interval_minutes)


def _as_json(event: Event, heats: Sequence[Heat], times: Sequence[HeatTime]) -> dict[str, Any]:
    planned = {time.number: time for time in times}
    return {
        "event": event.name,
        "heats": [
            {
                "number": heat.number,
                "name": heat.name,
                "start": planned[heat.number].start.isoformat() if planned else None,
                "end": planned[heat.number].end.isoformat() if planned else None,
                "pairs": [_pair_as_json(pair) for pair in heat.pairs],
            }
            for heat in heats
        ],
        "split_schools": {school: list(ns) for school, ns in split_schools(heats).items()},
        "n_cuts": n_cuts(heats),
        "left_out": _left_out(event, heats),
    }


def _pair_as_json(pair: Pair) -> dict[str, str]:
    room = {"room": pair.room} if pair.room else {}
    return {"code": pair.code, "school": pair.school, **room}


def _more_as_json(event: Event, planned: Planned, moved: Sequence[HeatMove]) -> dict[str, Any]:
    """What only a plan with wishes, rooms or a search has to say."""
    if not (planned.levels or event.heat_wishes or event.rooms):
        return {}
    return {
        "aims": [
            {"aim": level.aim, "value": level.value, "bound": level.bound, "gap": level.gap}
            for level in planned.levels
        ],
        "not_kept": [
            {"fault": each.fault, "who": each.who, "pairs": list(each.codes)}
            for each in planned.breaks
        ],
        "moves": [
            {"pair": move.code, "school": move.school, "from": list(move.old), "to": list(move.new)}
            for move in moved
        ],
    }


def _left_out(event: Event, heats: Sequence[Heat]) -> list[str]:
    placed = {code for heat in heats for code in heat.codes}
    return [pair.code for pair in event.pairs if pair.code not in placed]


def _show(event: Event, heats: Sequence[Heat], times: Sequence[HeatTime], places: int) -> None:
    out = console()
    out.print(Text(f"\n{event.name}: {plural(len(heats), 'heat')} of up to {places}\n", "bold"))
    starts = {time.number: f"{time.start:%H:%M}" for time in times}
    columns = (
        Column("heat", right=True),
        *((Column("start"),) if starts else ()),
        Column("pairs", right=True),
        Column("schools", wraps=True),
        *((Column("room", wraps=True),) if event.rooms else ()),
    )
    rows = []
    for number, room, pairs in _rows(heats):
        schools = Counter(pair.school for pair in pairs)
        words = ", ".join(f"{school} {n}" for school, n in sorted(schools.items()))
        start = [starts[number]] if starts else []
        where = [room] if event.rooms else []
        rows.append((str(number), *start, str(len(pairs)), words, *where))
    show_table(out, columns, rows)
    out.print(Text(f"\n{together_words(split_schools(heats))}"))
    left_out = _left_out(event, heats)
    if left_out:
        out.print(Text(f"In no heat (absent or withdrawn): {', '.join(left_out)}"))


def _rows(heats: Sequence[Heat]) -> Iterator[tuple[int, str, list[Pair]]]:
    """Heat, room and pairs, a line each."""
    for heat in heats:
        for room in sorted({pair.room for pair in heat.pairs}):
            yield heat.number, room, [pair for pair in heat.pairs if pair.room == room]


def _show_more(planned: Planned, moved: Sequence[HeatMove], *, has_coaches: bool) -> None:
    out = console()
    for level in planned.levels:
        out.print(Text(f"{aim_words(level, has_coaches=has_coaches)} {gap_words(level)}"))
    if planned.breaks:
        out.print(Text("\nThis quick plan does not look at the wishes:", "bold"))
    for each in planned.breaks:
        out.print(Text(f"  {not_kept_words(each)}"))
    if planned.levels and moved:
        out.print(Text(f"\n{plural(len(moved), 'pair')} that had a place would change it:", "bold"))
        for move in moved[:_MAX_SHOWN]:
            out.print(Text(f"  {move_words(move)}"))
        if len(moved) > _MAX_SHOWN:
            out.print(Text(f"  and {len(moved) - _MAX_SHOWN} more; --json names them all"))


def _show_what_next(folder: Path, changed: int, *, write: bool) -> None:
    out = console()
    if not changed:
        out.print(f"The folder holds these heats already: {folder}\n")
    elif write:
        out.print(f"Written to {folder}\n")
    else:
        out.print(f"Nothing is written yet; add --write to save this into {folder}\n")
