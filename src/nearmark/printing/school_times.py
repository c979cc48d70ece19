"""Who goes when, a page a school: what a coach takes home before the day."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.contest.event import Event, Pair
from nearmark.contest.heat_records import TAKES_PART, heat_name
from nearmark.contest.heat_times import HeatTime
from nearmark.errors import InputError
from nearmark.printing.heat_lists import counted_order, heat_title
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, members_text, wrappable
from nearmark.words.heats import school_start_words
from nearmark.words.numbers import plural


@dataclass(frozen=True, slots=True)
class SchoolTimesRow:
    """Pairs of the school that go together."""

    heat: str
    time: str  # empty: the times are not known
    room: str  # empty: the event has no rooms
    pairs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SchoolTimesPage:
    """One school."""

    school: str
    counted: str
    first: str  # when the first of them start, in words; empty: not known
    rows: tuple[SchoolTimesRow, ...]


@dataclass(frozen=True, slots=True)
class SchoolTimesView:
    """All schools, ready to be set."""

    event: str
    day: str
    venue: str
    names: bool
    has_times: bool
    has_rooms: bool
    schools: tuple[SchoolTimesPage, ...]


def school_times_pdf(
    event: Event, times: Sequence[HeatTime], *, paper: str = "a4", names: bool = False
) -> bytes:
    """Set who goes when, a page a school.

    ``times``: of the heats, in any number; a heat without one has none on the page. ``names``:
    whether the children's names are beside the codes. Raises InputError if nobody has a heat.
    """
    view = school_times_view(event, times, names=names)
    return typeset("school_times", view, day=event.day, paper=paper)


def school_times_view(
    event: Event, times: Sequence[HeatTime], *, names: bool = False
) -> SchoolTimesView:
    """What the pages say, as text."""
    of: dict[str, list[Pair]] = defaultdict(list)
    for pair in event.pairs:
        if pair.status in TAKES_PART and pair.heat:
            of[pair.school].append(pair)
    if not of:
        raise InputError("are in no heat yet", where="pairs", mend="Plan the heats first")
    return SchoolTimesView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        venue=wrappable(event.venue, 120),
        names=names,
        has_times=bool(times),
        has_rooms=any(pair.room for pairs in of.values() for pair in pairs),
        schools=tuple(_page(school, of[school], times, names=names) for school in sorted(of)),
    )


def _page(
    school: str, pairs: Sequence[Pair], times: Sequence[HeatTime], *, names: bool
) -> SchoolTimesPage:
    at = {heat_name(time.number): time for time in times}
    together: dict[tuple[str, str], list[Pair]] = defaultdict(list)
    for pair in sorted(pairs, key=lambda p: (counted_order(p.heat), p.room, counted_order(p.code))):
        together[pair.heat, pair.room].append(pair)
    starts = [at[pair.heat].start for pair in pairs if pair.heat in at]
    return SchoolTimesPage(
        school=wrappable(school, 60),
        counted=plural(len(pairs), "pair"),
        first=school_start_words(min(starts).time()) if starts else "",
        rows=tuple(
            SchoolTimesRow(
                heat=heat_title(heat),
                time=f"{at[heat].start:%H:%M}–{at[heat].end:%H:%M}" if heat in at else "",  # noqa: RUF001
                room=wrappable(room, 40),
                pairs=tuple(_pair_text(pair, names=names) for pair in members),
            )
            for (heat, room), members in together.items()
        ),
    )


def _pair_text(pair: Pair, *, names: bool) -> str:
    return f"{pair.code}  {members_text(pair)}" if names else pair.code
