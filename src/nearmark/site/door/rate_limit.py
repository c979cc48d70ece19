"""Guesses at passwords, PINs and codes are counted; too many close that door for a while."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.db.models import Count, Max, Min, QuerySet

from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.door.models import Attempt, Device

WINDOW: Final = timedelta(minutes=10)
MAX_PER_SUBJECT: Final = 8
"""A one-time code has 31**8 values: even a million guesses find one of 20 open codes with a
probability below 3e-5.  There is no limit in all: it would let one child shut the door for
everybody."""

MAX_PER_ADDRESS: Final = 40
"""Of one device, whatever it guesses at.  Behind a router that gives all devices one address this
closes the door for all of them; who is in already stays in."""

MIN_TOLD: Final = 5
"""Fewer wrong tries from one address are anybody's slips."""


class WrongGuessError(InputError):
    """The guess was looked at and was wrong."""


@contextmanager
def one_guess(kind: str, subject: str, *, address: str) -> Iterator[None]:
    """Count a guess before it is looked at; it is taken back unless it turns out wrong.

    Counting first makes the check and the count one step: of many guesses at once no more are
    looked at than are allowed.

    ``kind``: ``password``, ``pin``, ``code`` or ``seat``. ``subject``: what is guessed at, and from
    where. Raises RuleError after too many wrong tries.
    """
    _refuse_too_many(kind, subject, address)  # reads only: a flood takes no lock
    with writing():
        _refuse_too_many(kind, subject, address)
        now = clock.now()
        Attempt.objects.filter(at__lt=now - WINDOW).delete()
        guess = Attempt.objects.create(
            kind=kind, subject=subject[:80], address=address[:45], at=now
        )
    is_wrong = False
    try:
        yield
    except WrongGuessError:
        is_wrong = True
        raise
    finally:
        if not is_wrong:
            with writing():
                guess.delete()


def _refuse_too_many(kind: str, subject: str, address: str) -> None:
    recent = _recent(clock.now())
    if (
        recent.filter(kind=kind, subject=subject[:80]).count() >= MAX_PER_SUBJECT
        or recent.filter(address=address[:45]).count() >= MAX_PER_ADDRESS
    ):
        raise RuleError(
            "too many wrong tries", mend="Wait ten minutes, or ask the lead for a new code"
        )


def _recent(now: datetime) -> QuerySet[Attempt]:
    # Guesses of the future are of before the clock was set back: they would shut it for hours.
    return Attempt.objects.filter(at__gt=now - WINDOW, at__lte=now)


@dataclass(frozen=True, slots=True)
class Guesser:
    """A device from which many wrong tries came."""

    address: str
    n_wrong: int  # in the last ten minutes
    last: datetime
    refused_until: datetime | None  # no further try from there is looked at before
    known_as: tuple[str, ...]  # devices that are in from this address: who, and with what


def guessers() -> list[Guesser]:
    """Devices from which many wrong tries came in the last ten minutes, the worst first."""
    now = clock.now()
    found = (
        _recent(now)
        .exclude(address="")
        .values_list("address")
        .annotate(n=Count("pk"), first=Min("at"), last=Max("at"))
        .filter(n__gte=MIN_TOLD)
        .order_by("-n")
    )
    return [
        Guesser(
            address,
            n_wrong,
            last,
            first + WINDOW if n_wrong >= MAX_PER_ADDRESS else None,
            _known_as(address, now),
        )
        for address, n_wrong, first, last in found
    ]


def _known_as(address: str, now: datetime) -> tuple[str, ...]:
    devices = Device.objects.filter(address=address, revoked_at=None, expires_at__gt=now)
    return tuple(map(str, devices.select_related("account").order_by("-seen_at")[:3]))
