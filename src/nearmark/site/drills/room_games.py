"""Guesses of a room and the games that are played with them, by number of seat."""

from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.coaching import (
    attempts_in,
    closest_at_tables,
    guess_points,
    personal_bests,
    relays,
    team_total,
)
from nearmark.site.drills.models import Drill, DrillAnswer, DrillItem, DrillSeat
from nearmark.site.drills.room_actions import RoomNow, relay_pairs
from nearmark.site.season.habits_cache import habits_of
from nearmark.words.room import bests_words, closest_words, relay_words, total_words


@dataclass(frozen=True, slots=True)
class RoomGuesses:
    """Guesses at every thing: place -> number of the seat -> guess."""

    items: list[DrillItem]
    at: dict[int, dict[int, float]]

    def points(self, place: int) -> dict[int, float]:
        """Number of the seat -> points."""
        true = self.items[place - 1].true
        return {seat: guess_points(guess, true) for seat, guess in self.at.get(place, {}).items()}


def guesses_in(drill: Drill) -> RoomGuesses:
    """All guesses of a room so far."""
    items = list(drill.items.all())
    at: dict[int, dict[int, float]] = {}
    rows = DrillAnswer.objects.filter(seat__drill=drill).values_list(
        "item__place", "seat__number", "estimate"
    )
    for place, number, estimate in rows:
        at.setdefault(place, {})[number or 0] = float(estimate)
    return RoomGuesses(items, at)


def game_lines(
    drill: Drill, guesses: RoomGuesses, now: RoomNow, here: Sequence[DrillSeat]
) -> list[str]:
    """What the games of a room are at."""
    n = n_told(now)
    rounds = [guesses.points(place) for place in range(1, n + 1)]
    said = []
    if now.item is not None and now.is_revealed:
        item = now.item
        tables = {seat.number or 0: seat.table for seat in here if seat.table}
        at_item = guesses.at.get(item.place, {})
        closest = closest_at_tables(at_item, item.true, tables) if len(at_item) > 1 else {}
        said = [
            bests_words(personal_bests(rounds[-1], _before(drill, guesses, item, here))),
            *(closest_words(table, seats) for table, seats in closest.items()),
        ]
    said.append(relay_words(relays(rounds, relay_pairs(drill, here)), n))
    if any(rounds):
        said.append(total_words(*team_total(rounds)))
    return [line for line in said if line]


def n_told(now: RoomNow) -> int:
    """Things whose true value is out."""
    is_open = now.item is not None and not now.is_revealed
    return min(now.screen.place - is_open, now.n_items)


def _before(
    drill: Drill, guesses: RoomGuesses, item: DrillItem, here: Sequence[DrillSeat]
) -> dict[int, list[float]]:
    """Points of every earlier guess of each seat at this station: in the room and in the log."""
    before: dict[int, list[float]] = {}
    for earlier in guesses.items[: item.place - 1]:
        if earlier.station == item.station:
            for number, points in guesses.points(earlier.place).items():
                before.setdefault(number, []).append(points)
    asked = {each.name for each in guesses.items}
    habits = habits_of(drill.club) if any(seat.pupil_id for seat in here) else {}
    for seat in here:
        for attempt in attempts_in(habits.get(seat.pupil.name, ())) if seat.pupil else ():
            if attempt.station.value == item.station and attempt.thing not in asked:
                own = guess_points(attempt.estimate, attempt.true)
                before.setdefault(seat.number or 0, []).append(own)
    return before
