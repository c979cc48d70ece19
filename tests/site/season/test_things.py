"""True values: they agree with their parts, are corrected with a reason, come from the kit."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone

from nearmark.site.common import clock
from nearmark.site.models import Change, Drill, DrillItem, Thing, ThingChange

BOX = {"station": "volume", "name": "shoe box", "true": ""}
SIDES = {"length_true_cm": "10", "width_true_cm": "6", "height_true_cm": "5"}


@pytest.fixture
def tea_box(club) -> Thing:
    return club.things.get(name="tea box")


def test_the_volume_of_a_box_comes_from_its_sides(coach, club):
    coach.post(f"/season/{club.pk}/things/add/", BOX | SIDES)

    assert club.things.get(name="shoe box").true == 300


def test_a_volume_against_its_sides_is_refused_beside_the_field(coach, club, text_of):
    answer = coach.post(f"/season/{club.pk}/things/add/", BOX | SIDES | {"true": "999"})

    assert answer.status_code == 422
    assert "10 x 6 x 5 cm are 300 cm3" in text_of(answer)
    assert not club.things.filter(name="shoe box").exists()


def test_a_thing_without_any_true_value_is_refused(coach, club):
    for station in ("volume", "count"):
        answer = coach.post(
            f"/season/{club.pk}/things/add/", {"station": station, "name": "odd", "true": ""}
        )
        assert answer.status_code == 422
    assert club.things.count() == 3


def test_a_correction_is_kept_with_who_when_from_to_and_why(
    coach, club, tea_box, round_post, text_of
):
    round_post(coach, club, {"Ada": "600", "Bo": "700"}, thing="tea box")
    before = coach.get(f"/season/thing/{tea_box.pk}/")
    assert "2 attempts in the log will be worked out again" in text_of(before)

    typed = {"true": "322.4", "expanded_u": "4", "length_true_cm": "6.2", "width_true_cm": "8",
             "height_true_cm": "6.5", "why": "the long side was measured twice"}  # fmt: skip
    coach.post(f"/season/thing/{tea_box.pk}/", typed)

    tea_box.refresh_from_db()
    change = ThingChange.objects.get(thing=tea_box)
    assert (tea_box.true, tea_box.expanded_u, tea_box.length_true_cm) == (322.4, 4, 6.2)
    assert (change.by, change.n_attempts) == ("coach one", 2)
    assert change.old == {"true": 645, "expanded_u": None, "length_true_cm": 12.4}
    assert change.new == {"true": 322.4, "expanded_u": 4, "length_true_cm": 6.2}
    told = Change.objects.get(what=f"club {club.pk}: corrected a thing")
    assert told.why == "the long side was measured twice"
    page = text_of(coach.get(f"/season/thing/{tea_box.pk}/"))
    assert "True value: 645, now 322.4" in page
    assert "the long side was measured twice" in page


def test_what_was_logged_is_worked_out_again_with_the_right_number(
    coach, club, tea_box, round_post, text_of
):
    """The page states this choice: advice hangs on the number."""
    round_post(coach, club, {"Ada": "300"}, thing="tea box")
    ada = club.pupils.get(name="Ada")
    low = text_of(coach.get(f"/season/pupil/{ada.pk}/"))
    coach.post(
        f"/season/thing/{tea_box.pk}/",
        {
            "true": "300",
            "length_true_cm": "",
            "width_true_cm": "",
            "height_true_cm": "",
            "why": "x",
        },
    )

    row = club.attempts.get()
    assert (row.true, row.length_true_cm, row.estimate) == (300, None, 300)
    assert text_of(coach.get(f"/season/pupil/{ada.pk}/")) != low
    # Who was shown the wrong number has had their try: the thing is no fresh one for them.
    page = text_of(coach.get(f"/season/{club.pk}/round/?thing={tea_box.pk}"))
    assert "known to 1 of 3" in page


def test_what_was_struck_out_or_logged_at_another_filling_stays(coach, club, tea_box, round_post):
    round_post(coach, club, {"Ada": "600", "Bo": "700"}, thing="tea box")
    struck = club.attempts.get(estimate=600)
    struck.struck_at = timezone.now()
    struck.save()
    club.attempts.filter(estimate=700).update(true=500)

    coach.post(f"/season/thing/{tea_box.pk}/", {"true": "320", "why": "misread"})

    assert sorted(club.attempts.values_list("true", flat=True)) == [500, 645]
    assert ThingChange.objects.get().n_attempts == 0


@pytest.mark.parametrize(
    ("typed", "status"),
    [
        ({"true": "320"}, 422),  # no reason
        ({"true": "999", "length_true_cm": "10", "width_true_cm": "6", "height_true_cm": "5"}, 422),
        ({"true": "0", "why": "x"}, 422),
        ({"true": "645", "length_true_cm": "12.4", "width_true_cm": "8.0", "height_true_cm": "6.5",
          "why": "nothing is new"}, 422),
    ],
)  # fmt: skip
def test_a_correction_that_is_none_changes_nothing(coach, tea_box, typed, status):
    assert coach.post(f"/season/thing/{tea_box.pk}/", typed).status_code == status
    tea_box.refresh_from_db()
    assert tea_box.true == 645
    assert not ThingChange.objects.exists()


def test_only_of_a_box_the_true_value_may_be_left_out(coach, club, tea_box, text_of):
    jar = club.things.get(station="count")

    pages = [text_of(coach.get(f"/season/thing/{thing.pk}/")) for thing in (tea_box, jar)]
    optional = [bool(re.search(r"True value\s*<span[^>]*>\(if you like\)", page)) for page in pages]
    assert optional == [True, False]


def test_a_thing_that_an_open_drill_asks_is_not_corrected(coach, club, tea_box):
    now = clock.now()
    drill = Drill.objects.create(
        club=club, title="Practice", kind="drill", made_by="x", opened_at=now,
        expires_at=now + timedelta(hours=1),
    )  # fmt: skip
    DrillItem.objects.create(
        drill=drill, thing=tea_box, place=1, station="volume", name="tea box", true=645
    )
    typed = {"true": "320", "why": "misread"}

    assert coach.post(f"/season/thing/{tea_box.pk}/", typed).status_code == 409
    Drill.objects.update(closed_at=now)
    assert coach.post(f"/season/thing/{tea_box.pk}/", typed).status_code == 302


def test_the_lead_takes_a_key_with_its_uncertainty(lead, demo, club, text_of):
    page = lead.get(f"/season/{club.pk}/things/keys/")
    assert "The results of Larkspur Valley Estimation Day are not out" in text_of(page)
    first = page.context["keys"][0]

    lead.post(f"/season/{club.pk}/things/keys/", {"key": first.key_of})

    taken = club.things.get(name=first.name)
    assert taken.true == first.true
    assert 0 < taken.expanded_u == first.expanded_u < 0.05 * taken.true
    assert taken.key_of.startswith(demo.items.get(name=first.name).code)
    again = lead.get(f"/season/{club.pk}/things/keys/").context["keys"]
    assert first.key_of not in [each.key_of for each in again]


def test_a_coach_takes_no_key_before_the_results_are_out(coach, demo, club, text_of):
    address = f"/season/{club.pk}/things/keys/"

    assert coach.get(address).status_code == 409
    assert coach.post(address, {"key": "C1"}).status_code == 409
    assert "Take a key" not in text_of(coach.get(f"/season/{club.pk}/things/"))
    demo.released_at = clock.now()
    demo.save()
    assert "Take a key" in text_of(coach.get(f"/season/{club.pk}/things/"))
    assert coach.get(address).status_code == 200


def test_a_corrected_key_is_the_key_no_more(lead, demo, club):
    first = lead.get(f"/season/{club.pk}/things/keys/").context["keys"][0]
    lead.post(f"/season/{club.pk}/things/keys/", {"key": first.key_of})
    taken = club.things.get(name=first.name)

    lead.post(f"/season/thing/{taken.pk}/", {"true": "77", "why": "emptied a little"})

    taken.refresh_from_db()
    assert (taken.true, taken.key_of) == (77, "")
