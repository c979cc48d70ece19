"""``nearmark day-plan``: how a day flows through the room, before it happens."""

from dataclasses import asdict
from datetime import datetime, timedelta

import click

from nearmark.cli.present import console, json_option, plain_table, print_json
from nearmark.cli.progress import progress_bar
from nearmark.contest.day_flow import (
    Break,
    Change,
    Choice,
    Day,
    DayBands,
    Late,
    Room,
    Stop,
    day_bands,
    worth_of_changes,
)
from nearmark.contest.day_flow.room import COUNT, MEASURE, equal_heats
from nearmark.station import Station
from nearmark.words.day_flow import assumed_words, band_text, change_words, flow_words

_CHOICES = {"shortest": Choice.SHORTEST, "printed": Choice.ORDER, "any": Choice.RANDOM}

_FEW = click.IntRange(0, 20)


@click.command(
    "day-plan",
    help="How a day flows: waits, and which change helps.",
    epilog="Example: nearmark day-plan --pairs 80 --interval 20 --scales 2",
)
@click.option("--pairs", default=80, show_default=True, help="Pairs of the day.")
@click.option("--places", default=12, show_default=True, help="Pairs that scoop at once.")
@click.option("--interval", default=30.0, show_default=True, help="Minutes from start to start.")
@click.option("--minutes", default=30.0, show_default=True, help="Minutes of a pair.")
@click.option("--scales", default=1, show_default=True, help="Scales with a helper each.")
@click.option("--containers", type=_FEW, default=3, show_default=True, help="Containers to count.")
@click.option("--boxes", type=_FEW, default=2, show_default=True, help="Boxes to measure.")
@click.option("--at-once", default=2, show_default=True, help="Pairs at one container or box.")
@click.option(
    "--next",
    "choice",
    type=click.Choice(list(_CHOICES)),
    default="shortest",
    show_default=True,
    help="What a pair takes next: the shortest queue, the printed order, or any.",
)
@click.option(
    "--late",
    type=(int, int, float),
    multiple=True,
    metavar="HEAT PAIRS MINUTES",
    help="Pairs of a heat that come late.",
)
@click.option(
    "--break",
    "breaks",
    type=(float, float),
    multiple=True,
    metavar="START END",
    help="Minutes after the first start in which one scale has no helper.",
)
@click.option("--start", type=click.DateTime(["%H:%M"]), help="First start, such as 09:00.")
@click.option("--days", default=100, show_default=True, help="Simulated days.")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    *,
    pairs: int,
    places: int,
    interval: float,
    minutes: float,
    scales: int,
    containers: int,
    boxes: int,
    at_once: int,
    choice: str,
    late: tuple[tuple[int, int, float], ...],
    breaks: tuple[tuple[float, float], ...],
    start: datetime | None,
    days: int,
    as_json: bool,
) -> None:
    """Print the bands of a plan, and each change that was tried."""
    counts = [Stop(f"C{n}", Station.COUNT, COUNT, at_once) for n in range(1, containers + 1)]
    volumes = [Stop(f"B{n}", Station.VOLUME, MEASURE, at_once) for n in range(1, boxes + 1)]
    room = Room(
        (*counts, *volumes),
        places=places,
        scales=scales,
        minutes=minutes,
        choice=_CHOICES[choice],
        breaks=tuple(Break(*each) for each in breaks),
    )
    day = Day(equal_heats(pairs, places), interval, tuple(Late(*each) for each in late))
    with progress_bar(quiet=as_json) as bar:
        task = bar.add_task("Playing the days", total=2.0)
        found = day_bands(
            day, room, n_days=days, progress=lambda done: bar.update(task, completed=done)
        )
        changes = worth_of_changes(
            day, room, progress=lambda done: bar.update(task, completed=1 + done)
        )
    if as_json:
        print_json(_as_json(day, found, changes))
    else:
        _show(day, found, changes, start)


def _as_json(day: Day, found: DayBands, changes: tuple[Change, ...]) -> dict[str, object]:
    return {
        "heats": list(day.heats),
        "interval_min": day.interval_min,
        "days": found.n_days,
        "figures": asdict(found.figures),
        "heat_wait_min": [asdict(each) for each in found.heat_wait_min],
        "words": list(flow_words(found)),
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


def _show(day: Day, found: DayBands, changes: tuple[Change, ...], start: datetime | None) -> None:
    out = console()
    out.print(f"\n{day.n_pairs} pairs in {len(day.heats)} heats, {found.n_days} days played\n")
    for line in flow_words(found):
        out.print(line)
    out.print(_end(found.figures.end_min.high, start))
    table = plain_table()
    table.add_column("heat", justify="right")
    table.add_column("pairs", justify="right")
    table.add_column("a pair waits")
    for number, (n, wait) in enumerate(zip(day.heats, found.heat_wait_min, strict=True), start=1):
        table.add_row(str(number), str(n), band_text(wait))
    out.print()
    out.print(table)
    out.print("\nTried on the same days, each after those above it:", style="bold")
    for change in changes:
        out.print(f"  {change_words(change)}", highlight=False)
    out.print(f"\n{assumed_words()}\n", highlight=False)


def _end(end_min: float, start: datetime | None) -> str:
    if start is None:
        return f"The last pair leaves {end_min / 60:.1f} hours after the first start."
    return f"The last pair leaves at {start + timedelta(minutes=end_min):%H:%M} or earlier."
