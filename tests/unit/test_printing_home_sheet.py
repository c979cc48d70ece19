"""The home sheet and the bag labels: one page, the pupil's own, every caution."""

import io
import re
from datetime import date

import pypdf
import pytest

from nearmark.coaching import Attempt, BodyReference, Layers, Scoop, Sides, read_club
from nearmark.coaching.take_home import take_home_bag
from nearmark.demo_season import PAIRS, practice_season
from nearmark.errors import InputError
from nearmark.kit import material, materials
from nearmark.printing import Hand, bag_labels_pdf, home_sheet_pdf
from nearmark.printing.bag_labels import bag_label
from nearmark.printing.home_sheet import home_sheet_view
from nearmark.station import Station

DAY = date(2027, 4, 14)
CLUB = read_club(practice_season())
HAND = Hand(
    tuple(
        BodyReference(f"longest name of a reference {i}", 2.0 + i, 0.05, 0.05) for i in range(12)
    ),
    date(2027, 4, 7),
)


def pages(pdf):
    found = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return [re.sub(r"\s+", " ", page.extract_text()) for page in found]


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_all_there_can_be_fits_one_page(paper):
    far = [
        Attempt(DAY, "W" * 40, station, "x" * 100, 1.5, 10.0, "large " * 6, parts)
        for station, parts in (
            (Station.MASS, Scoop(180, 0.8)),
            (Station.COUNT, Layers(3, 0.5, 5, 2)),
            (Station.VOLUME, Sides(1, 1.5, 1, (2, 2, 2.5))),
        )
        for _ in range(3)
    ]
    own = read_club(far)["W" * 40]

    sheet = home_sheet_pdf(own, day=DAY, week=2, hand=HAND, bag="x" * 90, paper=paper)

    assert len(pages(sheet)) == 1


@pytest.mark.parametrize("pupil", CLUB)
def test_nobody_else_is_on_a_sheet(pupil):
    (text,) = pages(home_sheet_pdf(CLUB[pupil], day=DAY, week=9))

    others = {name for pair in PAIRS.values() for name in pair} - {pupil}
    assert pupil in text
    assert not [name for name in others if re.search(rf"\b{name}\b", text)]
    assert not re.search(r"\b(rank|place|best|average of)\b", text, re.IGNORECASE)


def test_the_sheet_says_what_why_and_three_tasks():
    (text,) = pages(home_sheet_pdf(CLUB["Milo"], day=DAY, bag="Elbow pasta", hand=HAND))

    assert "Practise next" in text
    assert "Practice may bring you about" in text
    # It speaks to the child, not of it to the coach.
    assert not re.search(r"\bReads about|reading high|this pupil|an item\b", text)
    assert all(f"{n}. " in text for n in (1, 2, 3))
    assert "In your bag: Elbow pasta" in text
    assert (
        "measure the references again by 12 May 2027" in text
    )  # five weeks, docs/reference/coaching.md
    assert "Mark nothing on the hand." in text
    assert "local rules" in text


def test_the_last_attempts_come_newest_first():
    view = home_sheet_view(CLUB["Milo"], day=DAY)

    assert view.advice == ()
    assert [line.what.split(",")[0] for line in view.attempts] == ["14 April 2027"] * 3
    assert all("<svg" in line.strip for line in view.attempts)


def test_advice_takes_the_place_of_one_try():
    view = home_sheet_view(CLUB["Juno"], day=DAY)

    assert any(line.startswith("Hold the empty cup first") for line in view.advice)
    assert len(view.advice) <= 2
    assert len(view.attempts) == 2


def test_one_attempt_only_is_enough():
    own = read_club([Attempt(DAY, "Ada", Station.COUNT, "jar", 380, 420)])["Ada"]

    (text,) = pages(home_sheet_pdf(own, day=DAY))

    assert "You tried it once: too early to say." in text


@pytest.mark.parametrize("name", ["#pagebreak() *Ada* [x]", "<b>&amp;", "\u05d0\u05d1"])
def test_a_name_is_text_and_never_markup(name):
    own = read_club([Attempt(DAY, name, Station.COUNT, "#panic() $x$", 380, 420)])[name]

    assert len(pages(home_sheet_pdf(own, day=DAY))) == 1


def test_two_pupils_on_one_sheet_are_refused():
    with pytest.raises(InputError, match="one pupil"):
        home_sheet_view((*CLUB["Milo"], *CLUB["Wren"]), day=DAY)


def test_every_material_of_the_catalogue_has_a_label_with_its_cautions():
    bags = [take_home_bag(each) for each in materials() if each.piece_mass_g <= 100]

    found = pages(bag_labels_pdf(bags, day=DAY))

    text = " ".join(found)
    assert len(found) == -(-len(bags) // 8)
    assert text.count("local rules") == len(bags)
    for bag in bags:
        assert all(allergen in bag_label(bag).cautions for allergen in bag.material.allergens)


def test_pieces_are_given_to_two_figures_of_their_uncertainty():
    # catalogue rice: 0.021 g, U about 30 % of 4762 = 1400, so to hundreds
    assert bag_label(take_home_bag(material("rice"))).pieces.startswith("about 4800 pieces")


@pytest.mark.parametrize(("bags", "copies"), [([], 1), ([take_home_bag(material("rice"))], 500)])
def test_no_label_and_too_many_are_refused(bags, copies):
    with pytest.raises(InputError):
        bag_labels_pdf(bags, day=DAY, copies=copies)
