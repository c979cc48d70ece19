"""The scoop ladder on the site: one line a try, kept as an ordinary attempt with its cup."""

import re

import pytest

from nearmark.site.models import Thing


@pytest.fixture
def cups(club):
    """A light and a heavy cup of rice, and a scoop whose cup nobody weighed."""
    Thing.objects.create(
        club=club, station="mass", name="rice in a glass", true=100, cup_g=182, density_g_cm3=0.78
    )
    Thing.objects.create(club=club, station="mass", name="peas", true=100)
    return club


@pytest.fixture
def ladder(coach, cups, text_of):
    ada = cups.pupils.get(name="Ada")

    class Ladder:
        pupil = ada
        address = f"/season/pupil/{ada.pk}/ladder/"

        def hidden(self):
            page = coach.get(self.address).content.decode()
            found = re.findall(r'type="hidden" name="(key|cup|cups|target)" value="([^"]*)"', page)
            return dict(found)

        def page(self):
            return text_of(coach.get(self.address)).replace("\N{NO-BREAK SPACE}", " ")

        def add(self, line, **more):
            return coach.post(f"{self.address}add/", self.hidden() | {"line": line} | more)

    return Ladder()


def test_a_try_is_an_ordinary_attempt_with_its_cup(ladder, text_of):
    assert "Cup 1, rice: 50 g." in ladder.page()

    ladder.add("cup 2: 100 -> 87")

    row = ladder.pupil.attempts.get()
    assert (row.station, row.thing, row.true, row.estimate) == ("mass", "rice in a glass", 100, 87)
    assert (row.cup_g, row.density_g_cm3) == (182, 0.78)
    page = ladder.page()
    assert "87 g for 100 g: 13 g too little, 87 points." in page
    # What says most of the cups is now the light one.
    assert "Cup 1, rice: 50 g." in page


def test_the_grams_alone_mean_the_proposed_try(ladder):
    ladder.add("61,5")

    row = ladder.pupil.attempts.get()
    assert (row.thing, row.true, row.estimate) == ("rice", 50, 61.5)
    assert "Cup 2, rice in a glass: 50 g." in ladder.page()


def test_a_cup_nobody_weighed_is_no_rung(ladder):
    page = ladder.page()

    assert "rice in a glass" in page
    assert "peas" not in page


@pytest.mark.parametrize(
    ("line", "why"),
    [("cup 3: 100 -> 87", "cups 1 to 2"), ("cup 2: 87 -> 100", "50, 100 or 150"),
     ("about 90", "cannot be read"), ("", "required")],
)  # fmt: skip
def test_a_line_that_cannot_be_meant_keeps_nothing_and_says_why(ladder, line, why, text_of):
    answer = ladder.add(line)

    assert answer.status_code == 422
    page = text_of(answer)
    assert why.casefold() in page.casefold()
    assert line in page
    assert not ladder.pupil.attempts.exists()


def test_a_try_sent_twice_is_kept_once(ladder, coach):
    same = ladder.hidden() | {"line": "61"}

    for _ in range(2):
        assert coach.post(f"{ladder.address}add/", same).status_code == 302

    assert ladder.pupil.attempts.count() == 1


def test_cups_that_changed_since_the_page_was_loaded_are_looked_at_again(ladder, cups, text_of):
    before = ladder.hidden()
    Thing.objects.create(
        club=cups, station="mass", name="oats", true=100, cup_g=4, density_g_cm3=0.4
    )

    answer = ladder.add("cup 1: 100 -> 87", cups=before["cups"])

    assert answer.status_code in {409, 422}
    assert "has changed" in text_of(answer)
    assert not ladder.pupil.attempts.exists()


def test_who_takes_the_cup_for_content_compares_two_cups(ladder):
    assert "Two cups" not in ladder.page()

    for line in ("1: 100 -> 111", "2: 100 -> 50", "1: 50 -> 60", "2: 150 -> 99", "2: 50 -> 9"):
        ladder.add(line)

    page = ladder.page()
    assert "Put 173 g of anything into cup 1: now both weigh the same" in page
    assert "With this cup most points are lost" in page


def test_without_a_cup_the_page_says_what_to_add(coach, club, text_of):
    club.things.all().delete()
    ada = club.pupils.get(name="Ada")

    page = text_of(coach.get(f"/season/pupil/{ada.pk}/ladder/"))

    assert "There is no cup yet." in page


def test_no_other_pupil_is_named(ladder, cups, log):
    for name in ("Ada", "Bo", "Quillon"):
        log(cups, name, [0.9, 1.1])

    assert "Quillon" not in ladder.page()
