"""The one place where the site asks the time; tests set it."""

import math
import threading
import time
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Final

from django.utils import timezone

SET_BACK: Final = timedelta(seconds=2)
"""Less than this is the usual small correction of a clock."""


def now() -> datetime:
    """The present, with its time zone (UTC)."""
    return timezone.now()


def countdown_text(left_ms: float) -> str:
    """Minutes and seconds that are left, as the scripts count them down: a begun second counts.

    >>> countdown_text(1_199_001), countdown_text(-5)
    ('20:00', '0:00')
    """
    seconds = max(0, math.ceil(left_ms / 1000))
    return f"{seconds // 60}:{seconds % 60:02d}"


class SteadyClock:
    """The time of day, except that nobody who sets the clock back gives a heat more time.

    A clock that runs on through sleep and a clock set forward look alike, so that only the other
    way is mended: ticks have passed, and the time of day has not.

    ``ticks`` (callable -> s): never goes back; may stand still while the computer sleeps.
    """

    def __init__(self, wall: Callable[[], datetime], ticks: Callable[[], float]) -> None:
        self._wall, self._ticks = wall, ticks
        self._lock = threading.Lock()
        self._last = (wall(), ticks())
        self._back = timedelta()

    def __call__(self) -> datetime:
        """The present; after the clock was set back, what it would have shown."""
        with self._lock:
            wall, ticks = self._wall(), self._ticks()
            last_wall, last_ticks = self._last
            missing = timedelta(seconds=ticks - last_ticks) - (wall - last_wall)
            if missing > SET_BACK:
                self._back += missing
            self._last = (wall, ticks)
            return wall + self._back


steady_now = SteadyClock(lambda: now(), time.monotonic)  # noqa: PLW0108 - tests replace now
"""What heats are timed by; a restart of the server forgets how far the clock was set back."""
