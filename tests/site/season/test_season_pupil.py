"""The page of a pupil: sensible words whatever is in the log, and nobody else named."""

import io
import re
import zipfile
from datetime import timedelta

import pytest
from django.utils import timezone

from nearmark.coaching import Layers, Sides
from nearmark.site.models import (
    BodyReading,
    PracticePair,
)
from nearmark.station import Station

EDGES = {
    "one attempt": [0.9],
    "all equal": [0.9] * 6,
    "a factor of ten": [0.95, 1.02, 0.9, 10.0, 0.97],
    "five hundred": [0.9 + 0.2 * (i * 7919 % 100) / 100 for i in range(500)],
    "absurd": [1e-5, 1e5],
}


@pytest.mark.slow
@pytest.mark.parametrize("ratios", EDGES.values(), ids=EDGES.keys())
def test_a_pupil_page_finds_sensible_words(coach, club, ratios, text_of, log):
    log(club, "Ada", ratios)

    page = text_of(coach.get(f"/season/pupil/{club.pupils.get(name='Ada').pk}/"))

    assert "Count, small" in page
    assert "nan" not in page.casefold().replace("financ", "")
    assert "points" in page
    assert ("One attempt only" in page) is (len(ratios) == 1)
    assert ("looks like a slip" in page) is (10.0 in ratios)


def test_a_pupil_page_without_an_attempt_says_what_to_do(coach, club, text_of):
    page = text_of(coach.get(f"/season/pupil/{club.pupils.first().pk}/"))

    assert "No attempt yet." in page


def test_a_pupil_page_says_what_would_bring_most_and_the_sums(coach, club, text_of, log):
    log(club, "Ada", [340 / 420] * 5, parts=Layers(34, 10, 42, 10))
    sides = Sides(12, 8, 5, (12.4, 8.0, 6.5))
    log(club, "Ada", [96 / 645], station=Station.VOLUME, parts=sides, true=645, size="")
    log(club, "Bo", [1.1] * 3)

    page = text_of(coach.get(f"/season/pupil/{club.pupils.get(name='Ada').pk}/"))

    page = re.sub(r"<[^>]*>", "", page).replace("\N{NO-BREAK SPACE}", " ")
    # 34 of 42 each time: 81 points, all of it from the layer.
    assert "Count one layer again, row by row: it is read about 19 % low." in page
    assert "81 points become about 100." in page
    assert "Two sides multiplied only (12 x 8): 12 x 8 x 5 is 480 cm" in page
    assert "mass: not tried yet" in page


def test_no_other_pupil_is_named_to_a_pupil(coach, club, text_of, log):
    for name in ("Ada", "Bo", "Quillon"):
        log(club, name, [0.9, 1.1])
    ada = club.pupils.get(name="Ada")
    PracticePair.objects.create(
        club=club, code="S1", first=ada, second=club.pupils.get(name="Quillon")
    )

    page = text_of(coach.get(f"/season/pupil/{ada.pk}/"))
    packed = zipfile.ZipFile(io.BytesIO(coach.get(f"/season/pupil/{ada.pk}/all.zip").content))
    files = " ".join(packed.read(name).decode() for name in packed.namelist())

    assert "Ada" in page
    assert "Ada" in files
    assert not [name for name in ("Quillon", ">Bo<", ",Bo,") if name in page + files]


def test_the_hand_is_calibrated_from_the_newest_day(coach, club, text_of):
    ada = club.pupils.get(name="Ada")
    day = timezone.localdate()
    BodyReading.objects.create(
        pupil=ada, reference="palm", reading_cm=6.0, day=day - timedelta(days=365)
    )

    coach.post(
        f"/season/pupil/{ada.pk}/hand/",
        {"reference": "palm", "readings": "6,9 7.0 6.8", "day": day.isoformat()},
    )

    page = text_of(coach.get(f"/season/pupil/{ada.pk}/"))
    assert "6.9 cm" in page  # the mean of 6.9, 7.0 and 6.8
    assert "measure again by" in page
    reading = ada.body_readings.get(reading_cm=6.8)
    coach.post(f"/season/hand/{reading.pk}/drop/")
    assert "1 more would do" in text_of(coach.get(f"/season/pupil/{ada.pk}/"))


@pytest.fixture
def hand(club):
    """Ada's own hand: the palm 7.1 cm and the thumb 2.0 cm."""
    ada = club.pupils.get(name="Ada")
    for name, cm in (("palm", 7.1), ("thumb", 2.0)):
        for _ in range(3):
            BodyReading.objects.create(
                pupil=ada, reference=name, reading_cm=cm, day=timezone.localdate()
            )
    return ada


@pytest.mark.parametrize(
    ("typed", "plan"),
    [("18", "2 x palm, then 2 x thumb"), ("6", "3 x thumb"), ("7,8", "palm, then a third of a")],
)
def test_a_guessed_length_is_planned_with_the_own_hand(coach, hand, typed, plan, text_of):
    page = text_of(coach.get(f"/season/pupil/{hand.pk}/", {"length": typed}))

    said = page.replace("\N{NO-BREAK SPACE}", " ").split(f"About {typed} cm: ")[1].split("<")[0]
    assert plan in said
    assert "tenth" not in said


@pytest.mark.parametrize(
    ("typed", "mend"), [("", "required"), ("palm", "number"), ("99", "Add a longer reference")]
)
def test_a_length_that_cannot_be_taken_is_refused(coach, hand, typed, mend, text_of):
    answer = coach.get(f"/season/pupil/{hand.pk}/", {"length": typed})

    assert answer.status_code == 422
    assert mend in text_of(answer)


def test_without_a_hand_there_is_no_plan(coach, club, text_of):
    ada = club.pupils.get(name="Ada")

    page = text_of(coach.get(f"/season/pupil/{ada.pk}/", {"length": "18"}))

    assert "Plan a length" not in page


@pytest.mark.parametrize("readings", ["", "palm", "0", "400", "7 x"])
def test_a_reading_that_is_no_hand_is_refused(coach, club, readings):
    ada = club.pupils.get(name="Ada")

    answer = coach.post(
        f"/season/pupil/{ada.pk}/hand/",
        {"reference": "palm", "readings": readings, "day": "2027-02-03"},
    )

    assert answer.status_code == 422
    assert not ada.body_readings.exists()
