"""Seats of a drill: a short code each, found again by its keyed hash; guesses are counted."""

import uuid
from collections.abc import Iterable
from datetime import datetime
from typing import Final

from django.db.models import Max, QuerySet
from django.utils.crypto import salted_hmac

from nearmark.errors import RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.door.actions import CODE_LETTERS
from nearmark.site.door.rate_limit import WrongGuessError, one_guess
from nearmark.site.drills.models import Drill, DrillSeat, RoomScreen
from nearmark.site.event.history import note
from nearmark.site.season.models import PracticePair, Pupil

SEAT_SIGNS: Final = 4
"""31**4 = 923,521 codes.  Eight wrong tries in ten minutes find one of 30 open seats with a
probability below 3e-4, and what they would find is one child's answers of today."""

SEAT_KIND: Final = "seat"

MAX_GUESTS: Final = 200


def code_of(seat: DrillSeat) -> str:
    """The code that opens a seat; worked out, never kept."""
    return code_of_token(seat.token)


def code_of_token(token: uuid.UUID) -> str:
    """Four signs from a token and the site's secret."""
    number = int(salted_hmac("nearmark seat", str(token), algorithm="sha256").hexdigest(), 16)
    signs = []
    for _ in range(SEAT_SIGNS):
        number, at = divmod(number, len(CODE_LETTERS))
        signs.append(CODE_LETTERS[at])
    return "".join(signs)


def hash_of(code: str) -> str:
    """Keyed hash of a code as typed: in any case, with or without blanks."""
    plain = "".join(code.upper().split()).replace("-", "")
    return salted_hmac("nearmark seat code", plain, algorithm="sha256").hexdigest()


def free_token() -> tuple[uuid.UUID, str]:
    """A token whose code no other seat has, and the hash of that code."""
    while True:
        token = uuid.uuid4()
        code_hash = hash_of(code_of_token(token))
        if not any(
            table.objects.filter(code_hash=code_hash).exists() for table in (DrillSeat, RoomScreen)
        ):
            return token, code_hash


def set_out(drill: Drill, sitting: Iterable[Pupil | PracticePair]) -> None:
    """Make a seat for everybody named."""
    for who in sitting:
        token, code_hash = free_token()
        DrillSeat.objects.create(
            drill=drill,
            pupil=who if isinstance(who, Pupil) else None,
            pair=who if isinstance(who, PracticePair) else None,
            token=token,
            code_hash=code_hash,
        )


def sit_down(code: str, *, address: str, own: DrillSeat | None = None) -> DrillSeat:
    """Find the seat of a code and note that it is taken; the code of a room gives a guest a seat.

    ``address``: where the guess comes from. ``own``: the seat that this browser has. Raises
    InputError: the same for a code that never was and for one of a drill that is over. Raises
    RuleError after too many wrong tries.
    """
    now = clock.now()
    try:
        with one_guess(SEAT_KIND, address, address=address):
            seat = _seats().filter(code_hash=hash_of(code)).first()
            if seat is None:
                seat = _guest_seat(code, now, own)
            if seat is None or not seat.drill.is_open(now):
                raise WrongGuessError(
                    "opens no seat, or the drill is over",
                    where="code",
                    mend="Ask your coach for the code",
                )
    except RuleError as refusal:
        raise RuleError(refusal.what, mend="Wait ten minutes, or ask your coach") from refusal
    if seat.joined_at is None:
        with writing():
            DrillSeat.objects.filter(pk=seat.pk).update(joined_at=now)
    return seat


def _guest_seat(code: str, now: datetime, own: DrillSeat | None) -> DrillSeat | None:
    """A seat for somebody without a name; who has one in this room keeps it."""
    rooms = RoomScreen.objects.select_related("drill").filter(with_guests=True)
    screen = rooms.filter(code_hash=hash_of(code)).first()
    if screen is None or not screen.drill.is_open(now):
        return None
    if own is not None and own.drill_id == screen.drill_id:
        return own
    with writing():
        seats = DrillSeat.objects.filter(drill=screen.drill_id)
        if seats.filter(pupil=None).count() >= MAX_GUESTS:
            raise RuleError("the room is full", mend="Look on with somebody else")
        token, code_hash = free_token()
        highest = seats.aggregate(Max("number"))["number__max"] or 0
        return DrillSeat.objects.create(
            drill=screen.drill,
            number=highest + 1,
            token=token,
            code_hash=code_hash,
            joined_at=now,
        )


def _seats() -> QuerySet[DrillSeat]:
    return DrillSeat.objects.select_related("drill__club", "pupil", "pair__first", "pair__second")


def seat_of(token: object, now: datetime) -> DrillSeat | None:
    """The seat of a browser, as long as its drill is open. ``token``: what the session holds."""
    seat = seat_to_look_at(token, now)
    return seat if seat is not None and seat.drill.is_open(now) else None


def seat_to_look_at(token: object, now: datetime) -> DrillSeat | None:
    """The seat of a browser, also when its drill was closed, until the afternoon is over."""
    try:
        wanted = uuid.UUID(str(token))
    except ValueError:
        return None
    seat = _seats().filter(token=wanted).first()
    return seat if seat is not None and now < seat.drill.expires_at else None


def new_code(seat: DrillSeat, *, by: str) -> str:
    """Give a seat another code; whoever sat there with the old one is out."""
    with writing():
        seat.token, seat.code_hash = free_token()
        seat.save(update_fields=["token", "code_hash"])
        note(None, by, f"gave seat {seat.pk} of drill {seat.drill_id} another code")
    return code_of(seat)
