"""Cards for the hall: a number for each place to scoop at, and a badge for each helper."""

from dataclasses import dataclass
from typing import Final

from nearmark.contest.event import Event
from nearmark.printing.label_grids import LabelGrid
from nearmark.printing.typesetting import typeset
from nearmark.printing.wishes import Wishes
from nearmark.printing.words import day_text, wrappable
from nearmark.words.day_roles import DayText, Role, day_text_of, day_texts, role_title

_BADGES: Final = {Role.PLACES: 3, Role.SCALE: 2, Role.POINTS: 2, Role.RUNNER: 2}
"""Badges of a role that more than one helper has; three helpers for twelve places."""

_EXTRA: Final = 3
"""Badges that say "Helper" alone."""


@dataclass(frozen=True, slots=True)
class PlaceCard:
    """The card of one place."""

    number: str
    room: str  # empty: the event has no rooms


@dataclass(frozen=True, slots=True)
class PlaceCardsView:
    """All place cards, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    cards: tuple[PlaceCard, ...]


@dataclass(frozen=True, slots=True)
class GridView:
    """Where labels lie on their sheet (mm)."""

    rows: int
    columns: int
    top: float
    left: float
    across_gap: float
    down_gap: float
    wide: float
    high: float
    is_cut: bool


@dataclass(frozen=True, slots=True)
class BadgesView:
    """All badges, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    roles: tuple[str, ...]
    grid: GridView


def place_cards_pdf(event: Event, wishes: Wishes) -> bytes:
    """Set a card for each place."""
    view = PlaceCardsView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        words=day_texts(),
        cards=place_cards(event, wishes),
    )
    return typeset("place_cards", view, day=event.day, paper=wishes.paper)


def place_cards(event: Event, wishes: Wishes) -> tuple[PlaceCard, ...]:
    """Each place of each room, counted from 1 in every room."""
    usual = event.rules.usual_places if wishes.places is None else wishes.places
    rooms = [(wrappable(room.name, 40), room.places) for room in event.rooms] or [("", usual)]
    return tuple(
        PlaceCard(str(number), room) for room, places in rooms for number in range(1, places + 1)
    )


def badges_pdf(event: Event, wishes: Wishes) -> bytes:
    """Set a badge for each helper. Raises InputError if the label grid is too fine."""
    view = BadgesView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        words=day_texts(),
        roles=(
            *(role_title(role) for role in Role for _ in range(_BADGES.get(role, 1))),
            *(day_text_of(DayText.HELPER) for _ in range(_EXTRA)),
        ),
        grid=grid_view(wishes.labels, wishes.paper),
    )
    return typeset("helper_badges", view, day=event.day, paper=wishes.paper)


def grid_view(grid: LabelGrid, paper: str) -> GridView:
    """A grid as a template wants it."""
    wide, high = grid.label_mm(paper)
    return GridView(
        grid.rows,
        grid.columns,
        grid.top_mm,
        grid.left_mm,
        grid.across_gap_mm,
        grid.down_gap_mm,
        wide,
        high,
        grid.is_cut,
    )
