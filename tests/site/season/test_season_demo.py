"""The invented season fills every page; a page is read anew where it must be."""

from datetime import date, timedelta

import pytest

from nearmark.coaching import read_club
from nearmark.site.models import (
    Club,
)
from nearmark.site.season import habits_cache as season_reading
from nearmark.site.season.demo import fill_demo_season
from nearmark.station import Station

TODAY = date(2027, 5, 5)


@pytest.mark.slow
def test_the_invented_season_fills_every_page(coach, db):
    coach.post("/season/demo/")
    club = Club.objects.get()

    pupils, pairs = club.pupils.all(), club.pairs.all()
    assert (len(pupils), len(pairs)) == (6, 3)
    assert len({row.day for row in club.attempts.all()}) == 10
    for address in (
        "/season/",
        f"/season/{club.pk}/",
        f"/season/{club.pk}/things/",
        f"/season/{club.pk}/log/",
        f"/season/{club.pk}/round/",
        *(f"/season/pupil/{pupil.pk}/" for pupil in pupils),
        *(f"/season/pair/{pair.pk}/" for pair in pairs),
    ):
        assert coach.get(address).status_code == 200, address
    assert coach.post("/season/demo/").status_code == 409


@pytest.mark.slow
def test_the_demo_event_brings_the_season_too(lead, no_event):
    lead.post("/event/demo/")

    assert Club.objects.count() == 1


def test_script_in_a_name_is_text(coach, club, round_post):
    coach.post(f"/season/{club.pk}/pupils/add/", {"names": "<script>alert(1)</script>"})
    pupil = club.pupils.get(name__startswith="<script>")
    round_post(coach, club, {pupil.name: "380"})

    for address in (f"/season/{club.pk}/", f"/season/pupil/{pupil.pk}/", f"/season/{club.pk}/log/"):
        assert "<script>alert" not in coach.get(address).content.decode()


def test_a_page_is_read_anew_for_the_stratum_of_a_new_attempt_only(club, monkeypatch, log):
    log(club, "Ada", [0.9, 1.1])
    log(club, "Ada", [0.9, 1.1], station=Station.MASS, size="", true=100)
    read = []
    real = read_club
    monkeypatch.setattr(season_reading, "read_club", lambda log: read.append(len(log)) or real(log))
    season_reading.forget_readings()

    season_reading.habits_of(club)
    log(club, "Ada", [1.0])
    season_reading.habits_of(club)

    assert sorted(read) == [2, 2, 3]


def test_the_invented_season_ends_a_week_ago(db):
    club = fill_demo_season(today=TODAY, by="Juniper")

    assert max(club.attempts.values_list("day", flat=True)) == TODAY - timedelta(days=7)
