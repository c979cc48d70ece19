"""The certificate of the season: a page a child, plain words, no rank, names only if asked."""

import io
import re
from datetime import date, timedelta

import pypdf
import pytest

from nearmark.coaching import Attempt, attempts_in, read_club
from nearmark.demo_season import practice_season
from nearmark.errors import InputError
from nearmark.printing import season_certificates_pdf
from nearmark.station import Station

DAY = date(2027, 4, 14)
CLUB = {name: attempts_in(own) for name, own in read_club(practice_season()).items()}


def pages(pdf):
    found = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return [re.sub(r"\s+", " ", page.extract_text()) for page in found]


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.slow
def test_a_page_a_child_and_no_name_unless_asked_for(paper):
    made = season_certificates_pdf(list(CLUB.values()), club="Fernhollow", day=DAY, paper=paper)
    named = season_certificates_pdf(
        list(CLUB.values()), club="Fernhollow", day=DAY, with_names=True, paper=paper
    )

    assert len(pages(made)) == len(pages(named)) == len(CLUB)
    assert not [name for name in CLUB if name in " ".join(pages(made))]
    for name, text in zip(CLUB, pages(named), strict=True):
        assert [other for other in CLUB if other in text] == [name]


def test_nobody_is_ranked():
    text = " ".join(pages(season_certificates_pdf(list(CLUB.values()), club="", day=DAY)))

    assert "30 estimates on 10 days of practice" in text
    assert "Your closest of" in text
    assert not re.search(
        r"\b(rank|place|winner|first of|than others|average)\b", text, re.IGNORECASE
    )


def jars(first, last):
    begin = date(2027, 2, 3)
    return [
        Attempt(
            begin + timedelta(weeks=week, days=i), "Ada", Station.COUNT, f"jar {week} {i}", p, 100
        )
        for week, own in ((0, first), (10, last))
        for i, p in enumerate(own)
    ]


@pytest.mark.parametrize(
    ("first", "last", "is_said"),
    [([50, 55, 52], [80, 85, 82], True), ([80, 85, 82], [50, 55, 52], False),
     ([60, 80, 70], [70, 81, 72], False)],
    ids=["better", "lower", "not clear"],
)  # fmt: skip
def test_better_is_said_only_when_it_is_more_than_chance(first, last, is_said):
    (text,) = pages(season_certificates_pdf([jars(first, last)], club="", day=DAY))

    assert ("You got better" in text) is is_said
    assert "lower" not in text


def test_a_far_answer_is_not_put_on_the_wall():
    (text,) = pages(season_certificates_pdf([jars([3, 4, 5], [])], club="", day=DAY))

    assert "You tried 3 times." in text
    assert "closest of" not in text


@pytest.mark.parametrize("name", ["W" * 40, "#pagebreak() *Ada*", "\u05d0\u05d1"])
def test_any_name_fits_and_is_text(name):
    long = [Attempt(DAY, name, station, "#panic() " + "x" * 100, 96, 100) for station in Station]

    assert len(pages(season_certificates_pdf([long], club="C" * 90, day=DAY, with_names=True))) == 1


@pytest.mark.parametrize("children", [[], [[]]])
def test_nobody_has_no_certificate(children):
    with pytest.raises(InputError, match="nobody has an attempt"):
        season_certificates_pdf(children, club="", day=DAY)
