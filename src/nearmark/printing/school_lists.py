"""Who goes when: a page for each school with its pairs, their heats and rooms."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from nearmark.contest.event import Event, Pair
from nearmark.contest.pair_code import checked_codes
from nearmark.printing.heat_lists import heat_lists
from nearmark.printing.typesetting import typeset
from nearmark.printing.wishes import Wishes, planned_starts, planned_times
from nearmark.printing.words import day_text, members_text, wrappable
from nearmark.words.day_roles import day_texts
from nearmark.words.heats import school_start_words
from nearmark.words.letters import come_early
from nearmark.words.numbers import plural


@dataclass(frozen=True, slots=True)
class SchoolPair:
    """One pair of a school."""

    pair: str  # its code with the check character
    names: str  # empty: not wanted


@dataclass(frozen=True, slots=True)
class SchoolHeat:
    """Pairs of the school that go together."""

    heat: str  # with its room, if the event has rooms
    when: str  # empty: not known
    pairs: tuple[SchoolPair, ...]


@dataclass(frozen=True, slots=True)
class School:
    """One school and its pairs, by heat."""

    name: str
    n_pairs: int
    counted: str
    first: str  # when the first of them start, in words; empty: not known
    heats: tuple[SchoolHeat, ...]


@dataclass(frozen=True, slots=True)
class SchoolListsView:
    """All schools, ready to be set."""

    event: str
    day: str
    venue: str
    words: dict[str, str]
    early: str
    names: bool
    has_times: bool
    schools: tuple[School, ...]


def school_lists_pdf(event: Event, wishes: Wishes) -> bytes:
    """Set the pages. Raises InputError if there are no pairs."""
    view = SchoolListsView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        venue=wrappable(event.venue, 120),
        words=day_texts(),
        early=come_early(),
        names=wishes.names,
        has_times=wishes.start is not None,
        schools=schools_of(event, wishes),
    )
    return typeset("school_lists", view, day=event.day, paper=wishes.paper, large=wishes.large)


def schools_of(event: Event, wishes: Wishes) -> tuple[School, ...]:
    """Every school by name, its pairs in the order of the heats."""
    lists, times = heat_lists(event), planned_times(event, wishes)
    checked = checked_codes(pair.code for heat in lists for pair in heat.pairs)
    heats: dict[str, list[SchoolHeat]] = defaultdict(list)
    members: dict[str, list[Pair]] = defaultdict(list)
    for heat in lists:
        for school in dict.fromkeys(pair.school for pair in heat.pairs):
            together = [pair for pair in heat.pairs if pair.school == school]
            members[school] += together
            heats[school].append(
                SchoolHeat(
                    heat.title,
                    times.get(together[0].heat, ""),
                    tuple(
                        SchoolPair(checked[p.code], members_text(p) if wishes.names else "")
                        for p in together
                    ),
                )
            )
    starts = planned_starts(event, wishes)
    return tuple(
        School(
            name=wrappable(name, 90),
            n_pairs=len(members[name]),
            counted=plural(len(members[name]), "pair"),
            first=_first_start(members[name], starts),
            heats=tuple(heats[name]),
        )
        for name in sorted(heats)
    )


def _first_start(pairs: list[Pair], starts: dict[str, datetime]) -> str:
    known = [starts[pair.heat] for pair in pairs if pair.heat in starts]
    return school_start_words(min(known).time()) if known else ""
