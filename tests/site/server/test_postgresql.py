"""The same promises on the other database: keeping, waiting for each other, revisions, migrations.

``tools/with-postgresql`` starts a server that is thrown away; ``.ci/run`` does so.
"""

import os
import subprocess
import sys
from pathlib import Path

import pytest

SITE_TESTS = Path(__file__).parents[1]
TELLING = (
    "server/test_concurrency.py",
    "event/test_event_store.py",
    "event_day/answers/test_answers.py",
    "event_day/answers/test_entry_posts.py",
    "event/test_standing_results.py",
    "event/test_revision_of_acts.py",
    "server/test_speed.py",
)
MIN_NUMBER = 90
"""Tests in these files; a run that collects next to nothing is no proof."""


@pytest.mark.slow
def test_the_site_keeps_its_promises_on_postgresql():
    address = os.environ.get("NEARMARK_TEST_POSTGRESQL")
    if not address and os.environ.get("CI") != "true":
        pytest.skip("no PostgreSQL: run it by tools/with-postgresql")
    assert address, "CI has to start PostgreSQL: tools/with-postgresql ./dev test"
    # A run of its own: which database it is is in Django's settings.
    environment = {k: v for k, v in os.environ.items() if not k.startswith("PYTEST_")}
    environment |= {"NEARMARK_DATABASE_URL": address}
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:xdist"]

    run = subprocess.run(
        [*command, *(str(SITE_TESTS / name) for name in TELLING)],
        env=environment,
        cwd=SITE_TESTS.parents[1],
        capture_output=True,
        text=True,
        timeout=600,
        check=False,
    )

    told = run.stdout[-4000:] + run.stderr[-1000:]
    assert run.returncode == 0, told
    assert int(run.stdout.rsplit(" passed", 1)[0].split()[-1]) >= MIN_NUMBER, told
