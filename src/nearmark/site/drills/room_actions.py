"""A drill on a screen for the room: begin it, go on step by step, let guests in.

All answer one thing at a time.  The true value of a thing leaves the server with the last step of
its reveal, and not before.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

import numpy as np

from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.drills.models import Drill, DrillItem, DrillSeat, RoomPhase, RoomScreen
from nearmark.site.drills.room_reveal import reveal_steps
from nearmark.site.drills.seat_actions import free_token

MAX_TABLE: Final = 40

LATE: Final = timedelta(seconds=4)
"""What was sent at the last second still arrives."""


@dataclass(frozen=True, slots=True)
class RoomNow:
    """Where a room is.

    ``item``: the thing; ``None`` before the first and after the last. ``n_steps``: of its reveal.
    ``left_ms``: to guess, ms.
    """

    screen: RoomScreen
    item: DrillItem | None
    n_items: int
    phase: RoomPhase
    left_ms: int
    n_steps: int

    @property
    def is_over(self) -> bool:
        """Whether the last thing is past."""
        return self.screen.place > self.n_items

    @property
    def is_revealed(self) -> bool:
        """Whether the true value is out."""
        return self.phase is RoomPhase.CLOSED and self.screen.n_revealed >= self.n_steps

    @property
    def key(self) -> str:
        """Changes whenever the room goes on."""
        n = self.screen.n_revealed if self.phase is RoomPhase.CLOSED else 0
        return f"{self.screen.place}-{self.phase}-{n}"


def room_now(drill: Drill) -> RoomNow:
    """Where a room is; guesses close by themselves when their time is up."""
    screen = drill.room
    items = list(drill.items.all())
    item = items[screen.place - 1] if 1 <= screen.place <= len(items) else None
    phase, left = RoomPhase(screen.phase), 0
    if phase is RoomPhase.GUESSING:
        left = max(0, _left_ms(screen))
        phase = RoomPhase.GUESSING if left else RoomPhase.CLOSED
    n_steps = len(reveal_steps(item)) if item is not None else 0
    return RoomNow(screen, item, len(items), phase, left, n_steps)


def _left_ms(screen: RoomScreen) -> int:
    if screen.phase_began_at is None:
        return 0
    gone = clock.steady_now() - screen.phase_began_at
    return round((timedelta(seconds=screen.seconds) - gone) / timedelta(milliseconds=1))


def begin_room(
    drill: Drill, *, seconds: int, with_guests: bool, rng: np.random.Generator
) -> RoomScreen:
    """Give a drill that was just opened its screen, and its seats numbers that say no name."""
    token, code_hash = free_token()
    seats = list(drill.seats.all())
    for seat, number in zip(seats, rng.permutation(len(seats)), strict=True):
        seat.number = int(number) + 1
    DrillSeat.objects.bulk_update(seats, ["number"])
    return RoomScreen.objects.create(
        drill=drill, seconds=seconds, with_guests=with_guests, token=token, code_hash=code_hash
    )


def go_on(drill: Drill, *, seen: str, reveals_all: bool = False) -> None:
    """The next step of a room; of two who press on one screen (its key ``seen``), one counts."""
    with writing():
        drill.refresh_from_db(fields=["closed_at"])
        if not drill.is_open(clock.now()):
            raise RuleError("it is closed", where=drill.title, mend="Open another one")
        drill.room = RoomScreen.objects.select_for_update().get(drill=drill)
        now = room_now(drill)
        if now.key != seen or now.is_over:
            return
        screen = now.screen
        if now.item is None or now.is_revealed:
            _set(screen, place=screen.place + 1, phase=RoomPhase.SHOWN)
        elif now.phase is RoomPhase.SHOWN:
            _set(screen, place=screen.place, phase=RoomPhase.GUESSING)
        elif now.phase is RoomPhase.GUESSING:
            _set(screen, place=screen.place, phase=RoomPhase.CLOSED)
        else:
            n = now.n_steps if reveals_all else screen.n_revealed + 1
            _set(screen, place=screen.place, phase=RoomPhase.CLOSED, n_revealed=n)


def _set(screen: RoomScreen, *, place: int, phase: RoomPhase, n_revealed: int = 0) -> None:
    # The reveal goes on: what was closed then stays closed since then.
    if phase != screen.phase or place != screen.place:
        screen.phase_began_at = clock.steady_now()
    screen.place, screen.phase, screen.n_revealed = place, phase.value, n_revealed
    screen.save()


def takes_guess(drill: Drill, item: DrillItem) -> bool:
    """Whether a guess at a thing that arrives now counts."""
    screen = RoomScreen.objects.get(drill=drill)
    if item.place != screen.place or screen.phase_began_at is None or screen.n_revealed:
        return False
    since = clock.steady_now() - screen.phase_began_at
    if screen.phase == RoomPhase.GUESSING:
        return since < timedelta(seconds=screen.seconds) + LATE
    return screen.phase == RoomPhase.CLOSED and since < LATE


def sit_at_table(seat: DrillSeat, table: int | None) -> None:
    """Say at which table a seat is, from 1 to ``MAX_TABLE``; none: it plays in the room."""
    if table is not None and not 1 <= table <= MAX_TABLE:
        raise InputError(
            "is no table", where="table", value=table, mend=f"Write 1 to {MAX_TABLE}, or nothing"
        )
    with writing():
        DrillSeat.objects.filter(pk=seat.pk).update(table=table)


def relay_pairs(drill: Drill, seats: Iterable[DrillSeat]) -> list[tuple[int, int]]:
    """Who takes turns, by number: partners of the club, and guests with who joined next."""
    here = [seat for seat in seats if seat.number and seat.joined_at]
    of_pupil = {seat.pupil_id: seat.number or 0 for seat in here if seat.pupil_id}
    pairs = [
        (of_pupil[first], of_pupil[second])
        for first, second in drill.club.pairs.values_list("first", "second")
        if first in of_pupil and second in of_pupil
    ]
    guests = sorted(seat.number or 0 for seat in here if seat.pupil_id is None)
    pairs += list(zip(guests[::2], guests[1::2], strict=False))
    return [(min(pair), max(pair)) for pair in pairs]
