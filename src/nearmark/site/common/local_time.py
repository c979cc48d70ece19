"""The time zone of this computer, which every time on a page is shown in."""

import os
import time
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Final
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.utils import timezone

from nearmark.site.common import clock

_LOCALTIME: Final = Path("/etc/localtime")
_HOUR: Final = timedelta(hours=1)


def local_zone(environment: Mapping[str, str] = os.environ, localtime: Path = _LOCALTIME) -> str:
    """Name of the time zone of this computer.

    ``environment``: ``TZ`` comes first. ``localtime``: a link into the zone files, on most systems.
    Returns where no name is to be had: the present offset in whole hours, else UTC.
    """
    named = environment.get("TZ", "").removeprefix(":")
    linked = str(localtime.resolve()).partition("/zoneinfo/")[2] if localtime.exists() else ""
    for name in (named, linked):
        if name and _is_known(name):
            return name
    return offset_zone(timedelta(seconds=time.localtime().tm_gmtoff))


def offset_zone(offset: timedelta) -> str:
    """A zone that is nothing but an offset; minutes have no such name.

    ``offset``: east of Greenwich.

    >>> offset_zone(timedelta(hours=2)), offset_zone(timedelta(hours=5, minutes=30))
    ('Etc/GMT-2', 'UTC')
    """
    hours, rest = divmod(offset, _HOUR)
    return "UTC" if rest or not hours else f"Etc/GMT{-hours:+d}"


def _is_known(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True


def time_text(at: datetime) -> str:
    """A moment, with its time zone, as people here say it."""
    return f"{timezone.localtime(at):%Y-%m-%d %H:%M}"


def local_day(moment: datetime) -> date:
    """The day on the wall of the room."""
    return timezone.localdate(moment)


def today() -> date:
    """The day in the time zone of the site."""
    return timezone.localdate(clock.now())
