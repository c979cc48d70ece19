"""Fresh jars for every club, poured while nobody needs the computer."""

import uuid
from datetime import date, timedelta

import numpy as np
import pytest
from django.utils import timezone

from nearmark.charts.ready_jars import ready_jars
from nearmark.site.common import clock
from nearmark.site.door.access import Role
from nearmark.site.drills.jar_columns import STOCK, band_to_pour, draw_jars, fresh_jars
from nearmark.site.jars import build as jar_build
from nearmark.site.jars.build import Exhibit
from nearmark.site.jobs import worker
from nearmark.site.models import (
    Club,
    Drill,
    DrillItem,
    HeatRun,
    Job,
    PracticeAttempt,
    PracticeJar,
    Pupil,
    Thing,
)
from nearmark.site.server import pour_ahead as ahead


@pytest.fixture
def club(demo, coached) -> Club:
    made = Club.objects.create(
        name="Fernhollow", keep_until=date(2028, 7, 31), made_at=timezone.now()
    )
    Pupil.objects.create(club=made, name="Ada")
    return coached(made)


@pytest.fixture
def quick(monkeypatch) -> list[str]:
    """A workshop that hands out the jars of the package; the sizes it was asked for."""
    ready = {name: next(j for j in ready_jars() if j.name.startswith(name)) for name in STOCK}
    asked: list[str] = []

    def pour(band, shape, seed, *, step):
        del shape, seed
        asked.append(band)
        step(50, 100)
        return Exhibit(ready[band].jar, ready[band].shell, ready[band].told)

    monkeypatch.setattr(jar_build, "pour", pour)
    return asked


def asked_in_a_drill(club: Club, jar: PracticeJar, **more) -> Drill:
    now = clock.now()
    drill = Drill.objects.create(
        club=club, title="x", kind="drill", made_by="x", opened_at=now,
        expires_at=now + timedelta(hours=1), **more,
    )  # fmt: skip
    DrillItem.objects.create(
        drill=drill, jar=jar, place=1, station="count", name=jar.code, true=jar.count
    )
    return drill


def test_a_club_finds_fresh_jars_of_every_size_without_an_event(no_event, club, quick):
    while ahead.pour_ahead():
        pass

    found = [jar.band for jar in fresh_jars(club)]
    assert {band: found.count(band) for band in STOCK} == STOCK
    assert not PracticeJar.objects.filter(is_open=True).exists(), "nobody practises on them freely"
    assert band_to_pour() is None
    jar = fresh_jars(club).first()
    asked_in_a_drill(club, jar, closed_at=clock.now())
    assert band_to_pour() == jar.band


def test_chance_takes_the_fresh_jar_first(club, quick):
    ahead.pour_ahead()
    fresh = fresh_jars(club).get()
    for _ in range(3):
        PracticeJar.objects.create(
            code=f"J{PracticeJar.objects.count() + 10}", kind="poured", band="small", what="x",
            count=300, made_by="x", made_at=clock.now(),
        )  # fmt: skip

    (drawn,) = draw_jars(club, {"small": 1}, rng=np.random.default_rng(1))
    assert drawn == fresh


def test_without_a_club_nothing_is_poured(no_event, quick):
    assert not ahead.pour_ahead()
    assert quick == []


def test_nothing_is_poured_while_people_need_the_computer(demo, club, quick):
    run = HeatRun.objects.create(event=demo, heat="1", started_at=clock.steady_now(), minutes=20)
    assert not ahead.pour_ahead()
    run.delete()

    jar = PracticeJar.objects.create(
        code="J01", kind="poured", band="small", what="x", count=300, made_by="x",
        made_at=clock.now(),
    )  # fmt: skip
    drill = asked_in_a_drill(club, jar)
    assert not ahead.pour_ahead()
    drill.delete()

    Job.objects.create(kind="feedback", asked_by="x", asked_at=clock.now())
    assert not ahead.pour_ahead()
    assert quick == []


def test_a_pour_that_runs_makes_room(club, quick, monkeypatch):
    monkeypatch.setattr(ahead, "LOOK_EVERY_S", 0.0)
    answers = iter([False, True])
    monkeypatch.setattr(ahead, "is_needed", lambda: next(answers))

    assert not ahead.pour_ahead()
    assert quick == ["small"]
    assert not PracticeJar.objects.exists()


def test_the_worker_pours_only_when_it_is_switched_on(club, quick, settings, monkeypatch):
    monkeypatch.setattr(worker, "IDLE", [ahead.pour_ahead])
    settings.NEARMARK_POUR_AHEAD = False
    assert not worker.use_idle_time()
    settings.NEARMARK_POUR_AHEAD = True
    assert worker.use_idle_time()


def test_where_nothing_is_fresh_the_club_is_led_to_a_fresh_jar(club, quick, sign_in, source_of):
    Thing.objects.create(club=club, station="count", name="beans", size="small", true=300)
    PracticeAttempt.objects.create(
        key=uuid.uuid4(), club=club, pupil=club.pupils.get(), day=date(2027, 2, 3),
        at=clock.now(), station="count", size="small", thing="beans", estimate=280, true=300,
        source="round", by="x",
    )  # fmt: skip
    ahead.pour_ahead()
    coach = sign_in(Role.COACH)
    page = source_of(coach.get(f"/season/{club.pk}/"))
    assert f"/drills/club/{club.pk}/?fresh=1" in page
    jar = fresh_jars(club).get()
    form = source_of(coach.get(f"/drills/club/{club.pk}/?fresh=1"))
    assert f'value="{jar.pk}"' in form
    assert "poured ahead, nobody has seen it" in form
