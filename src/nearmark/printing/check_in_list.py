"""The check-in list of each heat: who is expected, who came, whose sheet came back."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from nearmark.contest.event import Event, Pair, PairStatus
from nearmark.contest.pair_code import checked_codes, with_check
from nearmark.printing.heat_lists import heat_lists
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, members_text, wrappable
from nearmark.words.day_roles import day_texts
from nearmark.words.feedback_page import status_of_pair
from nearmark.words.replies import sheets_and_children

NO_TIMES: Final[Mapping[str, str]] = MappingProxyType({})

MAX_ROOMY: Final = 30
"""Characters of a school or of names that fit one line in larger type."""


@dataclass(frozen=True, slots=True)
class CheckInLine:
    """One pair as the list shows it; ``note`` says what is unusual about it."""

    pair: str
    school: str
    names: str
    note: str


@dataclass(frozen=True, slots=True)
class CheckInHeat:
    """One heat, on pages of its own."""

    title: str
    counted: str
    planned: str  # when it is planned; empty: not known
    lines: tuple[CheckInLine, ...]
    spare_codes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CheckInView:
    """All lists, ready to be set."""

    event: str
    day: str
    venue: str
    names: bool
    is_roomy: bool  # no name of a school is long, so that larger type fits
    words: dict[str, str]
    heats: tuple[CheckInHeat, ...]


def check_in_list_pdf(
    event: Event,
    *,
    paper: str = "a4",
    names: bool = False,
    large: bool = False,
    times: Mapping[str, str] | None = None,
) -> bytes:
    """Set the check-in lists, a heat a page.

    ``paper``: ``a4`` or ``us-letter``. ``names``: whether the children's names stand beside the
    codes. ``large``: large print. ``times``: when each heat is planned, by the heat of its pairs.
    Returns: a PDF; the heading of a long list is on every page. Raises InputError if
    there are no pairs, or a code cannot carry a check character.
    """
    view = check_in_view(event, names=names, times=times or {})
    return typeset("check_in_list", view, day=event.day, paper=paper, large=large)


def check_in_view(
    event: Event, *, names: bool = False, times: Mapping[str, str] = NO_TIMES
) -> CheckInView:
    """What the lists say, as text."""
    heats = heat_lists(event)
    checked = checked_codes(pair.code for heat in heats for pair in heat.pairs)
    return CheckInView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        venue=wrappable(event.venue, 120),
        names=names,
        is_roomy=all(
            len(text) <= MAX_ROOMY
            for heat in heats
            for pair in heat.pairs
            for text in (pair.school, members_text(pair) if names else "")
        ),
        words=day_texts(),
        heats=tuple(
            CheckInHeat(
                title=heat.title,
                counted=_counted(heat.pairs),
                planned=times.get(heat.pairs[0].heat, ""),
                lines=tuple(_line(pair, checked[pair.code], names=names) for pair in heat.pairs),
                spare_codes=tuple(map(with_check, heat.spare_codes)),
            )
            for heat in heats
        ),
    )


def _line(pair: Pair, checked: str, *, names: bool) -> CheckInLine:
    notes = [status_of_pair(pair.status)] if pair.status is not PairStatus.ENTERED else []
    return CheckInLine(
        pair=checked,
        school=wrappable(pair.school, 60),
        names=members_text(pair) if names else "",
        note=", ".join([*notes, *([status_of_pair(PairStatus.ENTERED)] if pair.is_solo else [])]),
    )


def _counted(pairs: tuple[Pair, ...]) -> str:
    children = sum(len(pair.members) for pair in pairs)
    return sheets_and_children(len(pairs), children)
