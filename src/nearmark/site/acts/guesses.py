"""Failed guesses are counted; too many close that door for a while."""

from datetime import timedelta
from typing import Final

from nearmark.errors import RuleError
from nearmark.site import clock
from nearmark.site.models import Attempt

WINDOW: Final = timedelta(minutes=10)
MOST_PER_SUBJECT: Final = 8
"""A one-time code has 31**8 values: even a million guesses find one of 20 open codes with a
probability below 3e-5.  There is no limit in all: it would let one child shut the door for
everybody."""


def refuse_if_closed(kind: str, subject: str) -> None:
    """Refuse to look at another guess while there were too many.

    Parameters
    ----------
    kind : str
        ``password``, ``pin`` or ``code``.
    subject : str
        What is guessed at, and from where.

    Raises
    ------
    RuleError
    """
    now = clock.now()
    # Guesses of the future are of before the clock was set back: they would shut it for hours.
    recent = Attempt.objects.filter(
        kind=kind, subject=subject[:80], at__gt=now - WINDOW, at__lte=now
    )
    if recent.count() >= MOST_PER_SUBJECT:
        raise RuleError(
            "too many wrong tries", mend="Wait ten minutes, or ask the lead for a new code"
        )


def count_failure(kind: str, subject: str) -> None:
    """Remember a wrong guess, and forget those that no longer count.

    Parameters
    ----------
    kind, subject : str
    """
    now = clock.now()
    Attempt.objects.filter(at__lt=now - WINDOW).delete()
    Attempt.objects.create(kind=kind, subject=subject[:80], at=now)
