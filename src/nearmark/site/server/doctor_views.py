"""Whether everything is ready: what ``nearmark doctor`` says, in the browser."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from urllib.parse import urlsplit

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from nearmark.site.common import clock
from nearmark.site.common.responses import show
from nearmark.site.server.doctor import Check, checks


@dataclass(frozen=True, slots=True)
class DoctorView:
    """Every check, those to look at first."""

    title: str
    checks: list[Check]
    n_bad: int
    now: datetime


def doctor(request: HttpRequest) -> HttpResponse:
    """Every check, those to look at first."""
    url = getattr(settings, "NEARMARK_URL", "") or request.build_absolute_uri("/")
    address = urlsplit(url)
    now = clock.now()
    found = checks(
        Path(getattr(settings, "NEARMARK_DATA", "")),
        port=address.port or (443 if address.scheme == "https" else 80),
        address=address.hostname or "",
        url=url,
        now=now,
    )
    first = sorted(found, key=lambda check: check.is_good)
    n_bad = sum(not check.is_good for check in found)
    return show(request, "server/doctor", DoctorView("Is everything ready", first, n_bad, now))
