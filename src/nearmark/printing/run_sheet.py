"""The run sheet of the day, and one for each role: what happens when, heat by heat."""

from dataclasses import dataclass
from datetime import time
from typing import Final

from nearmark.contest.event import Event
from nearmark.printing.heat_lists import heat_lists
from nearmark.printing.typesetting import typeset
from nearmark.printing.wishes import Wishes, planned_times
from nearmark.printing.words import day_text, wrappable
from nearmark.words.day_roles import (
    Moment,
    Role,
    day_texts,
    heat_counted,
    moment_words,
    role_short,
    role_steps,
    role_title,
)
from nearmark.words.replies import sheets_and_children

BEFORE_MIN: Final = {Moment.SET_UP: 120, Moment.BRIEFING: 45, Moment.CHECK_IN: 30}
"""Minutes before the first start (common practice, no source)."""

_AFTER: Final = (
    Moment.READINGS,
    Moment.OPENING,
    Moment.MERGING,
    Moment.PLACES,
    Moment.TIDY,
)
_DOES: Final = {
    Moment.SET_UP: (Role.LEAD, Role.PLACES, Role.SCALE),
    Moment.BRIEFING: (Role.LEAD,),
    Moment.CHECK_IN: (Role.DOOR,),
    Moment.BETWEEN: (Role.PLACES, Role.RUNNER),
    Moment.READINGS: (Role.FIRST_CLERK, Role.SECOND_CLERK, Role.THIRD_READER),
    Moment.OPENING: (Role.LEAD, Role.POINTS),
    Moment.MERGING: (Role.POINTS,),
    Moment.PLACES: (Role.LEAD,),
    Moment.TIDY: (Role.PLACES, Role.RUNNER, Role.LEAD),
}


@dataclass(frozen=True, slots=True)
class RoleLine:
    """One role in short."""

    title: str
    short: str


@dataclass(frozen=True, slots=True)
class RunLine:
    """One line of the day."""

    when: str  # planned; empty: to be written in
    what: str
    who: str
    is_heat: bool


@dataclass(frozen=True, slots=True)
class RunSheetView:
    """The day by the clock, ready to be set."""

    event: str
    day: str
    venue: str
    words: dict[str, str]
    lines: tuple[RunLine, ...]
    roles: tuple[RoleLine, ...]
    has_times: bool


@dataclass(frozen=True, slots=True)
class RoleHeat:
    """One heat on the sheet of a role."""

    title: str
    counted: str
    when: str


@dataclass(frozen=True, slots=True)
class RolePage:
    """The sheet of one role."""

    title: str
    short: str
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RoleSheetsView:
    """A page for each role, ready to be set."""

    event: str
    day: str
    words: dict[str, str]
    pages: tuple[RolePage, ...]
    heats: tuple[RoleHeat, ...]
    has_times: bool


def role_lines() -> tuple[RoleLine, ...]:
    """All roles in short."""
    return tuple(RoleLine(role_title(role), role_short(role)) for role in Role)


def run_sheet_pdf(event: Event, wishes: Wishes) -> bytes:
    """Set the run sheet of the day. Raises InputError if there are no pairs."""
    view = run_sheet_view(event, wishes)
    return typeset("run_sheet", view, day=event.day, paper=wishes.paper, large=wishes.large)


def run_sheet_view(event: Event, wishes: Wishes) -> RunSheetView:
    """What the run sheet says, as text."""
    heats = role_heats(event, wishes)
    moments = [_line(m, _before(wishes.start, m)) for m in BEFORE_MIN]
    lines = [
        RunLine(heat.when, heat_counted(heat.title, heat.counted), _who(Role.CLOCK), is_heat=True)
        for heat in heats
    ]
    return RunSheetView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        venue=wrappable(event.venue, 120),
        words=day_texts(),
        lines=(*moments, *lines, *map(_line, (Moment.BETWEEN, *_AFTER))),
        roles=role_lines(),
        has_times=wishes.start is not None,
    )


def role_heats(event: Event, wishes: Wishes) -> tuple[RoleHeat, ...]:
    """Every heat with its planned time and how many come."""
    times = planned_times(event, wishes)
    return tuple(
        RoleHeat(
            heat.title,
            sheets_and_children(len(heat.pairs), sum(len(p.members) for p in heat.pairs)),
            times.get(heat.pairs[0].heat, ""),
        )
        for heat in heat_lists(event)
    )


def role_sheets_pdf(event: Event, wishes: Wishes) -> bytes:
    """Set a page for each role. Raises InputError if there are no pairs."""
    view = RoleSheetsView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        words=day_texts(),
        pages=tuple(
            RolePage(role_title(role), role_short(role), role_steps(role)) for role in Role
        ),
        heats=role_heats(event, wishes),
        has_times=wishes.start is not None,
    )
    return typeset("role_sheets", view, day=event.day, paper=wishes.paper, large=wishes.large)


def _line(moment: Moment, when: str = "") -> RunLine:
    return RunLine(when, moment_words(moment), _who(*_DOES[moment]), is_heat=False)


def _who(*roles: Role) -> str:
    return ", ".join(map(role_title, roles))


def _before(start: time | None, moment: Moment) -> str:
    if start is None:
        return ""
    minute = (start.hour * 60 + start.minute - BEFORE_MIN[moment]) % (24 * 60)
    return f"{minute // 60:02d}:{minute % 60:02d}"
