"""Who goes when: a page for each school with its pairs and their heats."""

from dataclasses import dataclass

from nearmark.contest.event import Event
from nearmark.contest.pair_code import checked_codes
from nearmark.printing.heat_lists import heat_lists
from nearmark.printing.typesetting import typeset
from nearmark.printing.wishes import Wishes, planned_times
from nearmark.printing.words import day_text, members_text, wrappable
from nearmark.words.day_roles import day_texts


@dataclass(frozen=True, slots=True)
class SchoolPair:
    """One pair of a school."""

    pair: str
    names: str
    heat: str
    when: str


@dataclass(frozen=True, slots=True)
class School:
    """One school and its pairs, by heat."""

    name: str
    pairs: tuple[SchoolPair, ...]


@dataclass(frozen=True, slots=True)
class SchoolListsView:
    """All schools, ready to be set."""

    event: str
    day: str
    venue: str
    words: dict[str, str]
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
        names=wishes.names,
        has_times=wishes.start is not None,
        schools=schools_of(event, wishes),
    )
    return typeset("school_lists", view, day=event.day, paper=wishes.paper, large=wishes.large)


def schools_of(event: Event, wishes: Wishes) -> tuple[School, ...]:
    """Every school by name, its pairs in the order of the heats."""
    heats, times = heat_lists(event), planned_times(event, wishes)
    checked = checked_codes(pair.code for heat in heats for pair in heat.pairs)
    found: dict[str, list[SchoolPair]] = {}
    for heat in heats:
        for pair in heat.pairs:
            found.setdefault(pair.school, []).append(
                SchoolPair(
                    checked[pair.code],
                    members_text(pair) if wishes.names else "",
                    heat.title,
                    times.get(pair.heat, ""),
                )
            )
    return tuple(School(wrappable(name, 90), tuple(found[name])) for name in sorted(found))
