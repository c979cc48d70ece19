"""Progress on the pages of pupil, pair and club, and the certificates of a club."""

import io
import re

import pypdf
import pytest

LEARNS = [0.5, 0.55, 0.52, 0.58, 0.7, 0.75, 0.9, 0.95, 0.92, 0.97]
SAYS_COUNT = re.compile(r"Count: 54 points in the first four weeks, 94 in the last four: 40 better")


@pytest.fixture
def learning(club, pair, log):
    for name in ("Ada", "Bo"):
        log(club, name, LEARNS)
    return club


def test_pupil_pair_and_club_say_the_same_progress(coach, learning, pair, text_of):
    ada = learning.pupils.get(name="Ada")

    for address in (
        f"/season/pupil/{ada.pk}/",
        f"/season/pair/{pair.pk}/",
        f"/season/{learning.pk}/",
    ):
        page = text_of(coach.get(address)).replace("\N{NO-BREAK SPACE}", " ")
        page = re.sub(r"\s+", " ", page)
        assert "Better at count." in page, address
        assert SAYS_COUNT.search(page), address
        assert "Count from 54 to 94 points." in page, address


def test_only_a_pupil_has_bests(coach, learning, pair, text_of):
    ada = learning.pupils.get(name="Ada")

    assert "the closest of 10 tries" in text_of(coach.get(f"/season/pupil/{ada.pk}/"))
    assert "the closest of" not in text_of(coach.get(f"/season/{learning.pk}/"))


def test_a_club_that_has_just_begun_shows_no_progress(coach, club, log, text_of):
    log(club, "Ada", [0.9, 1.1])

    assert "Progress" not in text_of(coach.get(f"/season/{club.pk}/"))


def test_certificates_hold_names_only_when_asked_for(coach, learning):
    address = f"/season/{learning.pk}/certificates.pdf"

    plain, named = (
        [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(answer.content)).pages]
        for answer in (coach.get(address), coach.get(address, {"names": "on"}))
    )

    assert len(plain) == len(named) == 2
    assert not any("Ada" in page for page in plain)
    assert ["Ada" in page for page in named] == [True, False]


def test_a_club_without_an_attempt_has_no_certificate(coach, club):
    answer = coach.get(f"/season/{club.pk}/certificates.pdf")

    assert answer.status_code == 422
    assert "nobody has an attempt yet" in answer.content.decode()
