"""Take-home bags, home sheets and sums on a plain calculator, as a coach and a child meet them."""

import io
import re
import uuid
from datetime import date

import pypdf
import pytest
from django.test import Client
from django.utils import timezone

from nearmark.coaching import Attempt
from nearmark.kit import cautions, material
from nearmark.site.door.access import Role
from nearmark.site.models import BodyReading, Club, Pupil, Source
from nearmark.site.season.attempt_actions import keep_attempt
from nearmark.station import Station

DAY = date(2027, 2, 3)


@pytest.fixture
def club(demo, coached) -> Club:
    made = Club.objects.create(name="Fernhollow", keep_until=DAY, made_at=timezone.now())
    for name in ("Ada", "Bo"):
        Pupil.objects.create(club=made, name=name)
    return coached(made)


@pytest.fixture
def coach(sign_in) -> Client:
    return sign_in(Role.COACH)


def text_of(answer) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode()))


def pdf_text(answer) -> str:
    assert answer.headers["Content-Type"] == "application/pdf"
    pages = pypdf.PdfReader(io.BytesIO(answer.content)).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


def test_bags_with_pieces_turns_and_every_caution(club, coach):
    page = coach.get("/bags/", {"m": ["rice", "elbow-pasta"], "club": club.pk, "grams": "100"})

    words = text_of(page)
    assert "2 bags to take home" in words
    assert "4800" in words  # 100 g / 0.021 g of the catalogue's rice, to figures of its U
    assert re.search(r"1 Milled long-grain rice Elbow pasta", words)  # after practice 1: Ada, Bo
    assert re.search(r"2 Elbow pasta Milled long-grain rice", words)
    for caution in (*cautions(material("rice")), *cautions(material("elbow-pasta"))):
        assert caution in words


def test_the_labels_of_the_bags_on_the_page(club, coach):
    page = coach.get("/bags/", {"m": "elbow-pasta", "grams": "50", "letter": "on"})
    address = re.search(r'href="(/bags/labels.pdf\?[^"]+)"', page.content.decode())[1]

    words = pdf_text(coach.get(address.replace("&amp;", "&")))

    assert "50 g" in words
    assert "wheat" in words


@pytest.mark.parametrize(
    "asked",
    [
        {"m": "no-such-thing", "grams": "100"},
        {"m": "rice", "grams": "0"},
        {"m": "rice", "grams": "much"},
        {"m": "rice", "grams": "100", "club": "99"},
        {"m": "rice", "grams": "0.001"},
    ],
)
def test_what_cannot_be_a_bag_is_asked_again(coach, asked):
    assert coach.get("/bags/", asked).status_code == 422
    assert coach.get("/bags/labels.pdf", asked).status_code == 422


def test_labels_without_a_choice_say_what_to_do(coach):
    answer = coach.get("/bags/labels.pdf")

    assert answer.status_code == 422
    assert "Choose the bags first" in text_of(answer)


def test_a_home_sheet_has_the_own_attempts_and_hand_only(club, coach):
    ada, bo = club.pupils.get(name="Ada"), club.pupils.get(name="Bo")
    for pupil in (ada, bo):
        keep_attempt(
            uuid.uuid4(),
            club=club,
            pupil=pupil,
            attempt=Attempt(DAY, pupil.name, Station.COUNT, f"jar of {pupil.name}", 380, 420),
            source=Source.ROUND,
            by="Juniper",
        )
    BodyReading.objects.create(pupil=ada, reference="palm", reading_cm=6.9, day=DAY)
    BodyReading.objects.create(pupil=bo, reference="palm", reading_cm=7.7, day=DAY)

    words = pdf_text(coach.get(f"/pupils/{ada.pk}/home-sheet.pdf"))

    assert "jar of Ada" in words
    assert "palm 6.9 cm" in words
    assert "Bo" not in words
    assert "7.7" not in words


def test_a_pupil_without_attempts_is_told_of(club, coach):
    answer = coach.get(f"/pupils/{club.pupils.first().pk}/home-sheet.pdf")

    assert answer.status_code == 422
    assert "Log one attempt" in text_of(answer)
    assert coach.get("/pupils/999/home-sheet.pdf").status_code == 422


# Sums.


def sum_of(page) -> float:
    """The product of the numbers that the page tells of, worked out here."""
    heading = re.search(r"<h1>(.*?)</h1>", page.content.decode())[1]
    product = 1.0
    for factor in re.findall(r"\d+(?:\.\d+)?", heading):
        product *= float(factor)
    return product


@pytest.mark.parametrize("task", range(1, 9))
def test_the_right_product_is_right_and_a_zero_too_many_is_named(db, demo, task):
    client = Client()
    product = sum_of(client.get(f"/calculator/?task={task}"))

    right = client.post(f"/calculator/?task={task}", {"product": f"{product:.3f}"})
    wrong = client.post(f"/calculator/?task={task}", {"product": f"{10 * product:.3f}"})

    assert "Right:" in text_of(right)
    assert "factor of ten" in text_of(wrong)


def test_three_figures_are_honest_and_two_are_close(db, demo):
    client = Client()
    product = sum_of(client.get("/calculator/?task=1"))

    near = client.post("/calculator/?task=1", {"product": f"{1.02 * product:.0f}"})

    assert "Not yet: " in text_of(near)


@pytest.mark.parametrize("typed", ["", "much", "0", "1e99", "<b>"])
def test_no_number_is_asked_again(db, demo, typed):
    assert Client().post("/calculator/?task=1", {"product": typed}).status_code == 422


@pytest.mark.parametrize("task", ["0", "-1", "x", "9" * 30, "\u0663", ""])
def test_a_sum_that_does_not_exist_becomes_one_that_does(db, demo, task):
    assert Client().get("/calculator/", {"task": task}).status_code == 200
