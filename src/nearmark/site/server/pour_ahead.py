"""Pour fresh jars for the clubs while nothing else is asked of this computer."""

import secrets
import time
from collections.abc import Callable
from typing import Final

from nearmark.site.common import clock
from nearmark.site.drills.jar_columns import band_to_pour
from nearmark.site.drills.models import Drill
from nearmark.site.event.load import current_event
from nearmark.site.event_day.heats.state import halls_now
from nearmark.site.jars import build as jar_build
from nearmark.site.jars.actions import keep_exhibit
from nearmark.site.jobs.models import Job, JobState

POURED_BY: Final = "Nearmark"
LOOK_EVERY_S: Final = 2.0
"""How soon a pour makes room for people."""


class NotNow(Exception):  # noqa: N818 - reads as the fact it states
    """Somebody needs this computer; the pour is thrown away and begun again later."""


def is_needed() -> bool:
    """Whether people need the computer: a heat runs, a drill is open, or work was asked for."""
    if any(hall.is_running for hall in halls_now(current_event())):
        return True
    if Drill.objects.filter(closed_at=None, expires_at__gt=clock.now()).exists():
        return True
    return Job.objects.filter(state=JobState.WAITING).exists()


def pour_ahead() -> bool:
    """Pour one jar if a club has too few fresh ones; whether one was put on the shelf."""
    band = None if is_needed() else band_to_pour()
    if band is None:
        return False
    try:
        made = jar_build.pour(band, None, secrets.randbits(48), step=_making_room())
    except NotNow:
        return False
    keep_exhibit(made, by=POURED_BY, how="poured ahead", is_ahead=True)
    return True


def _making_room() -> Callable[[int, int], None]:
    looked_at = time.monotonic()

    def step(_n_done: int, _n_all: int) -> None:
        nonlocal looked_at
        if time.monotonic() - looked_at < LOOK_EVERY_S:
            return
        looked_at = time.monotonic()
        if is_needed():
            raise NotNow

    return step
