"""The season room: what next, and what is refused on the way in."""

from datetime import timedelta

import pytest
from django.utils import timezone

from nearmark.site.models import (
    Club,
)

JAR = {"station": "count", "name": "jar of beans", "size": "small", "true": "420"}
"""An invented thing."""


def test_an_empty_room_teaches(coach, text_of):
    page = text_of(coach.get("/season/"))

    assert "Add a club first." in page
    assert "Open the invented season" in page


def test_a_coach_comes_in_at_the_season(coach):
    assert coach.get("/").headers["Location"] == "/season/"


def test_the_room_asks_for_pupils_then_things_then_a_round(coach, text_of, round_post):
    later = (timezone.localdate() + timedelta(days=200)).isoformat()
    coach.post("/season/make/", {"name": "Quillbank", "keep_until": later})
    club = Club.objects.get(name="Quillbank")
    page = f"/season/{club.pk}/"

    assert "Who is in the club?" in text_of(coach.get(page))
    assert "First name or code only" in text_of(coach.get(page))
    coach.post(f"{page}pupils/add/", {"names": "Ada, Bo ,, K7"})
    assert [pupil.name for pupil in club.pupils.all()] == ["Ada", "Bo", "K7"]
    assert "What will they practise with?" in text_of(coach.get(page))
    coach.post(f"{page}things/add/", JAR)
    assert "Log the first round" in text_of(coach.get(page))
    round_post(coach, club, {"Ada": "380"})
    assert "Practise count, small: jar of beans" in text_of(coach.get("/season/"))


@pytest.mark.parametrize("names", ["", " , ", "ada", "Bo, Bo", "x" * 41])
def test_pupils_are_added_all_or_none(coach, club, names):
    answer = coach.post(f"/season/{club.pk}/pupils/add/", {"names": names})

    assert answer.status_code == 422
    assert club.pupils.count() == 3


@pytest.mark.parametrize(
    "wrong",
    [
        {"true": "0"},
        {"true": "many"},
        {"layer_true": "42"},
        {"cup_g": "8", "density_g_cm3": "1"},
        {"name": "Rice"},
    ],
)
def test_a_wrong_thing_is_refused_beside_its_field(coach, club, wrong, text_of):
    answer = coach.post(f"/season/{club.pk}/things/add/", JAR | {"name": "another jar"} | wrong)

    assert answer.status_code == 422
    assert "errorlist" in text_of(answer)
    assert club.things.count() == 3


def test_a_thing_put_away_is_offered_no_more(coach, club, text_of):
    thing = club.things.get(name="rice")

    coach.post(f"/season/thing/{thing.pk}/away/")

    assert ">rice<" not in text_of(coach.get(f"/season/{club.pk}/round/"))
