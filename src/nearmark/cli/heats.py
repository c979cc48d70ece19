"""``nearmark heats``: who goes when, schools together."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import click
from rich.text import Text

from nearmark.cli.folder import folder_argument
from nearmark.cli.present import console, json_option, plain_table, print_json
from nearmark.contest import (
    Event,
    Heat,
    HeatTime,
    fill_heats,
    n_cuts,
    scheduled,
    split_schools,
    timetable,
    with_heats,
)
from nearmark.event_folder import read_event, write_event
from nearmark.words.heats import together_words
from nearmark.words.numbers import plural


@click.command("heats", help="Who goes when: heats with schools kept together.")
@folder_argument
@click.option("--places", default=12, show_default=True, help="Pairs that start together.")
@click.option(
    "--anew", is_flag=True, help="Plan all again; without it, heats that are already set stay."
)
@click.option("--start", type=click.DateTime(["%H:%M"]), help="Start of heat 1, such as 09:00.")
@click.option("--minutes", default=30, show_default=True, help="Length of a heat.")
@click.option("--interval", type=int, help="Minutes from start to start; the length by default.")
@click.option("--write", is_flag=True, help="Save the heats into the folder.")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    folder: Path,
    *,
    places: int,
    anew: bool,
    start: datetime | None,
    minutes: int,
    interval: int | None,
    write: bool,
    as_json: bool,
) -> None:
    """Print the plan; change the folder only when asked to."""
    event = read_event(folder)
    heats = fill_heats(event.pairs, places=places, kept={} if anew else scheduled(event.pairs))
    times = _times(event, heats, start, minutes, interval)
    pairs = with_heats(event.pairs, heats)
    changed = sum(new != old for new, old in zip(pairs, event.pairs, strict=True))
    if write and changed:
        write_event(replace(event, pairs=pairs), folder)
    if as_json:
        told = _as_json(event, heats, times)
        print_json(told | {"places": places, "changed": changed, "written": write})
        return
    _show(event, heats, times, places)
    _show_what_next(folder, changed, write=write)


def _times(
    event: Event,
    heats: Sequence[Heat],
    start: datetime | None,
    minutes: int,
    interval: int | None,
) -> tuple[HeatTime, ...]:
    """Planned times on the event's day; empty without a start."""
    if start is None:
        return ()
    first = datetime.combine(event.day, start.time())
    numbers = [heat.number for heat in heats]
    return timetable(numbers, first, minutes=minutes, interval_minutes=interval)


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
                "pairs": [{"code": pair.code, "school": pair.school} for pair in heat.pairs],
            }
            for heat in heats
        ],
        "split_schools": {school: list(ns) for school, ns in split_schools(heats).items()},
        "n_cuts": n_cuts(heats),
        "left_out": _left_out(event, heats),
    }


def _left_out(event: Event, heats: Sequence[Heat]) -> list[str]:
    placed = {code for heat in heats for code in heat.codes}
    return [pair.code for pair in event.pairs if pair.code not in placed]


def _show(event: Event, heats: Sequence[Heat], times: Sequence[HeatTime], places: int) -> None:
    out = console()
    out.print(Text(f"\n{event.name}: {plural(len(heats), 'heat')} of up to {places}\n", "bold"))
    starts = {time.number: f"{time.start:%H:%M}" for time in times}
    table = plain_table()
    table.add_column("heat", justify="right")
    if starts:
        table.add_column("start")
    table.add_column("pairs", justify="right")
    table.add_column("schools")
    for heat in heats:
        schools = Counter(pair.school for pair in heat.pairs)
        words = ", ".join(f"{school} {n}" for school, n in sorted(schools.items()))
        start = [starts[heat.number]] if starts else []
        table.add_row(str(heat.number), *start, str(len(heat.pairs)), Text(words))
    out.print(table)
    out.print(Text(f"\n{together_words(split_schools(heats))}"))
    left_out = _left_out(event, heats)
    if left_out:
        out.print(Text(f"In no heat (absent or withdrawn): {', '.join(left_out)}"))


def _show_what_next(folder: Path, changed: int, *, write: bool) -> None:
    out = console()
    if not changed:
        out.print(f"The folder holds these heats already: {folder}\n")
    elif write:
        out.print(f"Written to {folder}\n")
    else:
        out.print(f"Nothing is written yet; add --write to save this into {folder}\n")
