"""``nearmark day-plan``: how a day flows through its rooms, before it happens."""

from collections.abc import Callable
from dataclasses import asdict
from datetime import datetime, time
from typing import Any

import click

from nearmark.cli.examples import examples
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.progress import progress_bar
from nearmark.cli.table import Column, show_table
from nearmark.contest.day_flow.changes import Change, worth_of_changes
from nearmark.contest.day_flow.day import Late
from nearmark.contest.day_flow.options import DayOptions
from nearmark.contest.day_flow.room import Break, Choice, Overrun
from nearmark.contest.day_flow.summary import DayBands, day_bands
from nearmark.contest.day_flow.times import Minutes
from nearmark.words.day_changes import change_words, changes_head
from nearmark.words.day_flow import assumed_words, band_text, flow_words, order_words
from nearmark.words.numbers import plural

_CHOICES = {
    "shortest": Choice.SHORTEST,
    "printed": Choice.ORDER,
    "any": Choice.RANDOM,
    "habit": Choice.HABIT,
}
_USUAL = DayOptions()
_TIMES = {
    "arrive": "after the start of its heat",
    "scoop": "at a place",
    "weigh": "on the scale",
    "put_back": "for the helper, to put a cup away",
    "count": "at a container",
    "measure": "at a box",
}


def _number(name: str, text: str, *, of: str = "") -> Callable[..., Any]:
    usual = getattr(_USUAL, of or name)
    return click.option(
        f"--{name.replace('_', '-')}", of or name, default=usual, show_default=True, help=text
    )


def _times(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add an option for each time of a pair."""
    for name, text in reversed(_TIMES.items()):
        usual = getattr(_USUAL, name)
        function = click.option(
            f"--{name.replace('_', '-')}",
            name,
            type=(float, float, float),
            default=(usual.low, usual.usual, usual.high),
            show_default=True,
            metavar="SHORT USUAL LONG",
            help=f"Minutes {text}.",
        )(function)
    return function


@click.command(
    "day-plan",
    help="How a day flows: waits, and which change helps.",
    epilog=examples(
        "nearmark day-plan --pairs 80 --interval 20 --scales 2 --days 20",
    ),
)
@_number("pairs", "Pairs of the day.")
@_number("rooms", "Rooms; the pairs are shared out.")
@_number("places", "Pairs that scoop at once, in a room.")
@click.option(
    "--room",
    "named_rooms",
    type=(str, int),
    multiple=True,
    metavar="NAME PLACES",
    help="A room with its own places, instead of --rooms and --places.",
)
@_number("scales", "Scales in a room.")
@_number("helpers", "Helpers at the scales of a room.")
@_number("containers", "Containers to count.")
@_number("boxes", "Boxes to measure.")
@_number("at_container", "Pairs that have room at a container.")
@_number("at_box", "Pairs that have room at a box.")
@_number("minutes", "Minutes of a pair.")
@click.option(
    "--interval",
    "interval_min",
    type=float,
    help="Minutes from start to start; without it, those of a pair.",
)
@click.option(
    "--next",
    "choice",
    type=click.Choice(list(_CHOICES)),
    default="shortest",
    show_default=True,
    help="What a pair takes next: the shortest queue, the printed order, any, or by habit.",
)
@click.option(
    "--run-over", is_flag=True, help="Pairs finish everything; the next heat of the room waits."
)
@click.option("--not-returned", is_flag=True, help="Scoops do not go back into the buckets.")
@click.option(
    "--late",
    type=(int, int, float),
    multiple=True,
    metavar="HEAT PAIRS MINUTES",
    help="Pairs of a heat that come late, such as a school; of the first room.",
)
@click.option(
    "--break",
    "breaks",
    type=(float, float),
    multiple=True,
    metavar="START END",
    help="Minutes after the first start in which one helper of a room is away.",
)
@_times
@click.option("--start", type=click.DateTime(["%H:%M"]), help="First start, such as 09:00.")
@click.option("--days", default=100, show_default=True, help="Simulated days.")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    *,
    named_rooms: tuple[tuple[str, int], ...],
    choice: str,
    run_over: bool,
    not_returned: bool,
    late: tuple[tuple[int, int, float], ...],
    breaks: tuple[tuple[float, float], ...],
    start: datetime | None,
    days: int,
    as_json: bool,
    **given: float | tuple[float, float, float] | None,
) -> None:
    """Print the bands of a plan, and each change that was tried."""
    values: dict[str, Any] = {
        name: Minutes(*value) if isinstance(value, tuple) else value
        for name, value in given.items()
    }
    if values["interval_min"] is None:
        values["interval_min"] = values["minutes"]
    if named_rooms:
        names, places = zip(*named_rooms, strict=True)
        values |= {"rooms": len(names), "names_of_rooms": names, "places_of_rooms": places}
    options = DayOptions(
        **values,
        choice=_CHOICES[choice],
        overrun=Overrun.LATER if run_over else Overrun.UNDONE,
        is_returned=not not_returned,
        late=tuple(Late(*each) for each in late),
        breaks=tuple(Break(*each) for each in breaks),
    )
    rooms = options.planned()
    with progress_bar(quiet=as_json) as bar:
        task = bar.add_task("Playing the days", total=2.0)
        found = day_bands(
            rooms, n_days=days, progress=lambda done: bar.update(task, completed=done)
        )
        changes = worth_of_changes(
            rooms, progress=lambda done: bar.update(task, completed=1 + done)
        )
    first = None if start is None else start.time()
    if as_json:
        print_json(_as_json(options, found, changes, first))
    else:
        _show(options, found, changes, first)


def _as_json(
    options: DayOptions, found: DayBands, changes: tuple[Change, ...], start: time | None
) -> dict[str, object]:
    return {
        "interval_min": options.interval_min,
        "days": found.n_days,
        "figures": asdict(found.figures),
        "rooms": [
            {
                "name": room.name,
                "heats": list(room.heats),
                "heat_wait_min": [asdict(each) for each in room.heat_wait_min],
                "heat_start_min": [asdict(each) for each in room.over_time.starts_min],
                "order_wait_min": [asdict(each) for each in room.order_wait_min],
                "end_min": asdict(room.over_time.end_min),
            }
            for room in found.rooms
        ],
        "words": list(flow_words(found, start)),
        "changes": [
            asdict(each)
            | {
                "kind": each.kind.value,
                "is_worth_it": each.is_worth_it,
                "words": change_words(each),
            }
            for each in changes
        ],
    }


def _show(
    options: DayOptions, found: DayBands, changes: tuple[Change, ...], start: time | None
) -> None:
    out = console()
    out.print(f"\n{plural(options.pairs, 'pair')}, {plural(found.n_days, 'day')} played\n")
    for line in flow_words(found, start):
        out.print(line)
    columns = (
        Column("room", right=True, wraps=True),
        *(Column("heat", right=True), Column("pairs", right=True)),
        Column("a pair waits", wraps=True),
    )
    rows = [
        (room.name, str(number), str(n), band_text(wait))
        for room in found.rooms
        for number, (n, wait) in enumerate(zip(room.heats, room.heat_wait_min, strict=True), 1)
    ]
    out.print()
    show_table(out, columns, rows)
    for room in found.rooms:
        words = " ".join(order_words(room.order_wait_min))
        out.print(f"\nRoom {room.name}, by who hands in the cup. {words}", highlight=False)
    out.print(f"\n{changes_head(changes)}", style="bold")
    for change in changes:
        out.print(f"  {change_words(change)}", highlight=False)
    out.print(f"\n{assumed_words()}\n", highlight=False)
