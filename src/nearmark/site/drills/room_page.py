"""What a screen for the room shows: no name, no code of a child, no true value before its time."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from django.urls import reverse

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.coaching import middle_of, middle_result, spread_of
from nearmark.site.common import clock
from nearmark.site.drills.models import Drill, DrillItem, DrillSeat, RoomPhase
from nearmark.site.drills.room_actions import RoomNow, room_now
from nearmark.site.drills.room_games import RoomGuesses, game_lines, guesses_in, n_told
from nearmark.site.drills.room_reveal import jar_of, layers_of, reveal_steps, with_unit
from nearmark.site.drills.seat_actions import code_of_token
from nearmark.site.jars.actions import pass_for
from nearmark.site.jars.views import Scene, scene
from nearmark.station import Station
from nearmark.words.deviations import AxisCentre
from nearmark.words.numbers import capital
from nearmark.words.room import guessed_words, half_words, joined_words, middle_words, spread_words

STRIP_PX: Final = 420
"""Drawn narrow and shown wide, so that its words are large."""


@dataclass(frozen=True, slots=True)
class ThingResult:
    """One thing at the end."""

    name: str
    truth: str
    middle: str
    strip: str  # SVG


@dataclass(frozen=True, slots=True)
class RoomView:
    """The screen."""

    title: str
    drill: Drill
    key: str
    state: str  # join, shown, guessing, closed, revealed or over
    lines: Sequence[str]  # what is said beneath the heading
    left: str
    left_ms: int
    strip: str  # SVG; empty before the first guess
    games: Sequence[str]
    things: Sequence[ThingResult]  # at the end
    # Where people join (at the end: the handout), the code of guests, and both to be scanned.
    code: str
    address: str
    picture: str
    scene: Scene | None  # a jar; it is drawn again when ``scene_key`` changes
    scene_key: str
    n_off: int  # taken off the jar
    # What the next press does; empty: nothing.
    button: str
    button_all: str


def room_view(drill: Drill) -> RoomView:
    """The screen as it is now, but for the address where people join."""
    now = room_now(drill)
    here = [seat for seat in drill.seats.all() if seat.joined_at is not None]
    is_over = now.is_over or not drill.is_open(clock.now())
    state = _state(now, is_over=is_over)
    item = None if is_over else now.item
    guesses = guesses_in(drill)
    at_item = guesses.at.get(item.place, {}) if item else {}
    is_told = state == "revealed"
    return RoomView(
        title=capital(item.name) if item else drill.title,
        drill=drill,
        key=now.key,
        state=state,
        lines=_lines(now, state, here, list(at_item.values())),
        left=clock.countdown_text(now.left_ms),
        left_ms=now.left_ms,
        strip=_strip(item, list(at_item.values()), is_told=is_told) if item else "",
        games=game_lines(drill, guesses, now, here) if is_told or state == "over" else (),
        things=_things(guesses, now) if state == "over" else (),
        code=code_of_token(drill.room.token) if drill.room.with_guests else "",
        address="",
        picture="",
        scene=_scene(item, now) if item else None,
        scene_key=_scene_key(item, now) if item else "",
        n_off=min(drill.room.n_revealed, len(layers_of(item))) if item else 0,
        button="" if is_over else _BUTTONS.get(state, "Next step"),
        button_all="Show all at once" if state == "closed" and now.n_steps > 1 else "",
    )


_BUTTONS: Final = {
    "join": "Show the first thing",
    "shown": "Start the countdown",
    "guessing": "Close the guesses",
    "revealed": "Next thing",
}


def _state(now: RoomNow, *, is_over: bool) -> str:
    if is_over:
        return "over"
    if now.item is None:
        return "join"
    return "revealed" if now.is_revealed else now.phase.value


def _lines(
    now: RoomNow, state: str, here: Sequence[DrillSeat], values: Sequence[float]
) -> list[str]:
    if state == "join" or now.item is None:
        return [joined_words(len(here))] if state == "join" else []
    if state == RoomPhase.SHOWN:
        return []
    if state == RoomPhase.GUESSING:
        return [guessed_words(len(values), len(here))]
    steps = reveal_steps(now.item)[: now.screen.n_revealed]
    if state == "revealed":
        said = [steps[-1]]
        if values:
            found = middle_result(values, now.item.true)
            said += [middle_words(found), half_words(spread_of(values), now.item.true)]
        return [line for line in said if line]
    return [*_spread_lines(values, Station(now.item.station)), *steps[-1:]]


def _spread_lines(values: Sequence[float], station: Station) -> list[str]:
    if not values:
        return []
    found = spread_of(values)
    low, middle, high = (
        with_unit(number, station) for number in (found.low, found.middle, found.high)
    )
    return [spread_words(found, low, middle, high)]


def _strip(item: DrillItem, values: Sequence[float], *, is_told: bool) -> str:
    """Guesses around their own middle, without a number; after the reveal around the true value."""
    if len(values) < (1 if is_told else 2):
        return ""
    middle = middle_of(values)
    centre = item.true if is_told else middle
    marks = [Mark(value / centre) for value in values]
    if is_told and len(values) > 1:
        marks.append(Mark(middle / centre, "middle of the room", MarkKind.MEAN))
    return strip_svg(
        marks,
        width_px=STRIP_PX,
        title="Guesses of the room",
        centre=AxisCentre.TRUE if is_told else AxisCentre.MIDDLE,
    )


def _things(guesses: RoomGuesses, now: RoomNow) -> list[ThingResult]:
    """Every thing that was revealed."""
    found = []
    for item in guesses.items[: n_told(now)]:
        values = list(guesses.at.get(item.place, {}).values())
        middle = middle_words(middle_result(values, item.true)) if values else ""
        strip = _strip(item, values, is_told=True)
        found.append(ThingResult(capital(item.name), reveal_steps(item)[-1], middle, strip))
    return found


def _scene(item: DrillItem, now: RoomNow) -> Scene | None:
    """The jar; all of it only once its layers come off."""
    jar = jar_of(item)
    if jar is None:
        return None
    seen = scene(jar, None)
    if item.drill.pictures_only:
        return replace(seen, shell="")
    if not layers_of(item) or not now.screen.n_revealed:
        return seen
    return replace(seen, whole=reverse("jar-part", args=[pass_for(jar, "whole")]))


def _scene_key(item: DrillItem, now: RoomNow) -> str:
    if jar_of(item) is None:
        return f"{item.place}"
    return f"{item.place}-{'whole' if now.screen.n_revealed else 'shell'}"
