"""How long the pages of the season take: a pupil of 100 attempts, clubs of 6 to 200 pupils.

    python benchmarks/season_pages.py

Each page is asked for after a round has been logged (what the round touched is read anew) and
again after that (nothing is).  Times are CPU times of the whole request, so that other work on the
machine counts little.
"""

import os
import statistics
import sys
import tempfile
import time
import uuid
from datetime import date, timedelta

import django
import numpy as np

FOLDER = tempfile.TemporaryDirectory()
os.environ |= {
    "DJANGO_SETTINGS_MODULE": "nearmark.site.server.configured",
    "NEARMARK_DATA": FOLDER.name,
    "NEARMARK_HOSTS": "testserver",
}
django.setup()

from django.core.management import call_command  # noqa: E402 - models need the settings
from django.test import Client  # noqa: E402
from django.utils import timezone  # noqa: E402

from nearmark.coaching import Attempt  # noqa: E402
from nearmark.site.door.access import Role  # noqa: E402
from nearmark.site.models import Account, Club, Pupil, Source  # noqa: E402
from nearmark.site.season.attempt_actions import NewAttempt, keep_attempt, keep_attempts  # noqa: E402
from nearmark.site.season.club_actions import add_pupils  # noqa: E402
from nearmark.site.season.habits_cache import forget_readings  # noqa: E402
from nearmark.station import Station  # noqa: E402

SEED = 20270203
REPEATS = 7


def main() -> None:
    """Fill a site in a folder of its own, ask, print."""
    call_command("migrate", verbosity=0)
    client = _signed_in()
    print(f"seed {SEED}, {REPEATS} repeats, Python {sys.version.split()[0]}")
    for n_pupils, n_attempts in ((6, 100), (30, 30), (30, 100), (200, 100)):
        _measure(client, n_pupils, n_attempts)


def _signed_in() -> Client:
    Account.objects.make("Juniper", Role.LEAD, "four quiet otters swim")
    client = Client()
    client.post("/sign-in/", {"name": "Juniper", "password": "four quiet otters swim"})
    return client


def _measure(client: Client, n_pupils: int, n_attempts: int) -> None:

    club = _club(n_pupils, n_attempts)
    pupil = club.pupils.first()
    pages = {
        "pupil": f"/season/pupil/{pupil.pk}/",
        "club": f"/season/{club.pk}/",
        "round": f"/season/{club.pk}/round/",
    }
    for name, page in pages.items():
        forget_readings()
        cold = _asked(client, page)
        after = []
        for _ in range(REPEATS):
            _log(club, pupil, Station.COUNT, timezone.localdate(), 380.0)
            after.append(_asked(client, page))
        again = statistics.median(_asked(client, page) for _ in range(REPEATS))
        print(
            f"{n_pupils} pupils x {n_attempts}: {name:6} first {1000 * cold:5.0f} ms, "
            f"after a round {1000 * statistics.median(after):5.0f} ms, again {1000 * again:4.0f} ms"
        )


def _asked(client: Client, page: str) -> float:
    start = time.process_time()
    answer = client.get(page)
    assert answer.status_code == 200, page
    return time.process_time() - start


def _club(n_pupils: int, n_attempts: int) -> Club:
    rng = np.random.default_rng(SEED)
    club = Club.objects.create(
        name=f"{n_pupils} x {n_attempts}",
        keep_until=timezone.localdate() + timedelta(days=99),
        made_at=timezone.now(),
    )
    tries = []
    for pupil in add_pupils(club, [f"K{i}" for i in range(n_pupils)], by="Juniper"):
        for i in range(n_attempts):
            day = timezone.localdate() - timedelta(weeks=10 - i * 10 // n_attempts)
            station = list(Station)[i % 3]
            estimate = float(420 * np.exp(rng.normal(-0.1, 0.2)))
            # Each time another thing: what was seen before would not count.
            attempt = Attempt(day, pupil.name, station, f"jar {i}", estimate, 420.0)
            tries.append(NewAttempt(uuid.uuid4(), pupil, attempt))
    keep_attempts(tries, club=club, source=Source.IMPORT, by="Juniper")
    return club


def _log(club: Club, pupil: Pupil, station: Station, day: date, estimate: float) -> None:

    attempt = Attempt(day, pupil.name, station, "jar", estimate, 420.0)
    keep_attempt(
        uuid.uuid4(), club=club, pupil=pupil, attempt=attempt, source=Source.ROUND, by="Juniper"
    )


if __name__ == "__main__":
    main()
