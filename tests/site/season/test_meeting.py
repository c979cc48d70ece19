"""A meeting of a club: planned by one press, run part by part, printed, typed in afterwards."""

import io
import re
from datetime import timedelta
from itertools import pairwise

import pytest
from django.utils import timezone
from pypdf import PdfReader

from nearmark.site.common import clock
from nearmark.site.models import Club, Meeting, PracticeAttempt, Pupil, Thing
from nearmark.site.season.demo import fill_demo_season

JSON = {"Accept": "application/json"}

pytestmark = pytest.mark.django_db


@pytest.fixture
def larkspur(coached) -> Club:
    """The invented season: six pupils, four things that nobody has seen."""
    return coached(fill_demo_season(today=timezone.localdate(), by="Juniper"))


@pytest.fixture
def planned(coach, larkspur) -> Meeting:
    """Its next twenty minutes, by one press."""
    coach.post(f"/season/{larkspur.pk}/meeting/")
    return Meeting.objects.get()


def at(meeting: Meeting, words: str) -> str:
    return f"/season/meeting/{meeting.pk}/{words}"


def go_to(client, meeting: Meeting, part: int) -> None:
    client.post(at(meeting, "start/"))
    for number in range(1, part + 1):
        client.post(at(meeting, "save/"), {"go": number})


def typed(meeting: Meeting, **more: str) -> dict[str, str]:
    """A number at every place: the true value."""
    places = meeting.places.exclude(thing=None).select_related("thing")
    return {f"estimate-{place.pk}": f"{place.thing.true:g}" for place in places} | more


@pytest.mark.slow
def test_one_press_plans_the_next_twenty_minutes_for_all(coach, larkspur, text_of):
    page = text_of(coach.get(f"/season/{larkspur.pk}/"))
    assert "Plan the next 20 minutes" in page

    answer = coach.post(f"/season/{larkspur.pk}/meeting/")

    meeting = Meeting.objects.get()
    assert answer.headers["Location"] == at(meeting, "")
    assert (meeting.minutes, meeting.pupils.count(), meeting.places.count()) == (20, 6, 24)
    page = text_of(coach.get(at(meeting, "")))
    assert "jar of hazelnuts" in page
    assert "The meeting of" in text_of(coach.get(f"/season/{larkspur.pk}/"))


def test_nobody_goes_to_a_thing_whose_true_value_is_known(coach, larkspur, planned):
    for place in planned.places.exclude(thing=None):
        if place.thing.station != "mass":
            assert not larkspur.attempts.filter(pupil=place.pupil, thing=place.thing.name).exists()


@pytest.mark.slow
def test_no_true_value_is_shown_before_the_end(coach, planned, text_of):
    pages = [text_of(coach.get(at(planned, ""))), text_of(coach.get(at(planned, "type/")))]
    for part in range(6):
        go_to(coach, planned, part)
        pages.append(text_of(coach.get(at(planned, "run/"))))

    for page in pages:
        for true in ("196", "1840", "16300", "2871"):
            assert not re.search(
                rf"\b{true}\b", re.sub(r'(href|id|for|name|src)="[^"]*"', "", page)
            )
    coach.post(at(planned, "save/"), typed(planned) | {"go": "6"})
    assert "196" in text_of(coach.get(at(planned, "done/")))


def test_a_child_who_is_missing_is_planned_around_at_once(coach, larkspur, planned):
    here = [p.pk for p in larkspur.pupils.exclude(name="Kai")]

    coach.post(at(planned, "again/"), {"here": here, "minutes": "16", "scales": "2"})

    meeting = Meeting.objects.get()
    assert (meeting.minutes, meeting.scales, meeting.pupils.count()) == (16, 2, 5)
    assert not meeting.places.filter(pupil__name="Kai").exists()


def test_who_leaves_in_the_middle_takes_nothing_away(coach, larkspur, planned):
    go_to(coach, planned, 2)
    first = planned.places.filter(slot=0).exclude(thing=None).first()
    coach.post(at(planned, "save/"), {f"estimate-{first.pk}": "300"})
    leaver = planned.pupils.exclude(pk=first.pupil_id).first()
    here = [p.pk for p in larkspur.pupils.exclude(pk=leaver.pk)]

    coach.post(at(planned, "again/"), {"here": here, "minutes": "20", "scales": "1"})

    slots = set(planned.places.filter(pupil=leaver).values_list("slot", flat=True))
    assert slots == {0}  # the slot that is past stays; nothing of the second was written down
    assert planned.places.filter(slot=1).count() == 5
    assert larkspur.attempts.filter(key=first.key).exists()
    for pupil in planned.pupils.all():
        own = list(planned.places.filter(pupil=pupil).order_by("slot"))
        names = [place.thing_id for place in own if place.thing_id]
        assert len(set(names)) == len(names)
        kinds = [(p.thing.station, p.thing.size) if p.thing else None for p in own]
        assert not any(a and a == b for a, b in pairwise(kinds))


def test_a_slot_of_which_something_is_written_down_is_not_planned_again(coach, larkspur, planned):
    go_to(coach, planned, 1)
    place = planned.places.filter(slot=0).exclude(thing=None).first()
    coach.post(at(planned, "save/"), {f"estimate-{place.pk}": "300"})
    before = list(planned.places.filter(slot=0).values_list("pupil", "thing"))
    here = list(larkspur.pupils.values_list("pk", flat=True))[:5]

    coach.post(at(planned, "again/"), {"here": here, "minutes": "20", "scales": "1"})

    assert list(planned.places.filter(slot=0).values_list("pupil", "thing")) == before


def test_a_result_is_kept_by_one_tap_and_once(coach, larkspur, planned):
    go_to(coach, planned, 1)
    place = planned.places.filter(slot=0).exclude(thing=None).first()
    n = larkspur.attempts.count()
    for _ in range(2):
        answer = coach.post(
            at(planned, "save/"),
            {f"estimate-{place.pk}": "300"},
            headers={"Accept": "application/json"},
        )

    assert (answer.status_code, answer.json()) == (200, {"refusals": {}})
    assert larkspur.attempts.count() == n + 1
    row = larkspur.attempts.get(key=place.key)
    assert (row.pupil_id, row.thing, row.estimate) == (place.pupil_id, place.thing.name, 300)
    assert row.pair is not None


def test_a_number_typed_again_strikes_out_the_one_before(coach, larkspur, planned):
    go_to(coach, planned, 1)
    place = planned.places.filter(slot=0).exclude(thing=None).first()
    for number in ("30", "300"):
        coach.post(at(planned, "save/"), {f"estimate-{place.pk}": number})

    rows = larkspur.attempts.filter(thing=place.thing.name, pupil=place.pupil)
    assert [(row.estimate, row.struck_at is None) for row in rows] == [(30, False), (300, True)]


@pytest.mark.parametrize("number", ["many", "-3", "0", "1e400", "9" * 12])
def test_a_number_that_is_none_keeps_all_back_and_everything_typed(
    coach, larkspur, planned, number, text_of
):
    go_to(coach, planned, 1)
    first, second = planned.places.filter(slot=0).exclude(thing=None)[:2]
    n = larkspur.attempts.count()
    said = {f"estimate-{first.pk}": "301", f"estimate-{second.pk}": number, "go": "2"}

    answer = coach.post(at(planned, "save/"), said)
    told = coach.post(at(planned, "save/"), said, headers=JSON)

    assert (answer.status_code, told.status_code) == (422, 422)
    assert list(told.json()["refusals"]) == [str(second.pk)]
    assert 'value="301"' in text_of(answer)
    assert larkspur.attempts.count() == n
    planned.refresh_from_db()
    assert planned.part == 1


def test_the_parts_go_on_and_the_countdown_runs(coach, planned, monkeypatch):
    now = clock.now()
    monkeypatch.setattr(clock, "now", lambda: now)
    coach.post(at(planned, "start/"))
    assert coach.get(at(planned, "now/")).json() == {"part": 0, "left_ms": 120_000}
    now += timedelta(seconds=30)
    assert coach.get(at(planned, "now/")).json()["left_ms"] == 90_000

    coach.post(at(planned, "save/"), {"go": "1"})
    coach.post(at(planned, "save/"), {"go": "1"})  # a second screen presses too
    coach.post(at(planned, "save/"), {"go": "0"})

    assert coach.get(at(planned, "now/")).json() == {"part": 1, "left_ms": 240_000}
    coach.post(at(planned, "save/"), {"go": "99"})
    assert coach.get(at(planned, "run/")).headers["Location"] == at(planned, "done/")


@pytest.mark.slow
def test_the_printed_page_is_typed_in_on_one_screen_in_its_order(coach, larkspur, planned, text_of):
    pdf = PdfReader(io.BytesIO(coach.get(at(planned, ".pdf").replace("/.pdf", ".pdf")).content))
    paper = pdf.pages[0].extract_text()
    screen = text_of(coach.get(at(planned, "type/")))
    names = [pupil.name for pupil in larkspur.pupils.all()]

    assert len(pdf.pages) == 1
    tally = paper[paper.index("write each number") :]
    places = [tally.index(name) for name in names]
    assert places == sorted(places)
    assert [screen.index(f"<h2>{name}</h2>") for name in names] == sorted(
        screen.index(f"<h2>{name}</h2>") for name in names
    )
    for true in ("196", "1840", "16300", "2871"):
        assert true not in paper.replace("\N{NO-BREAK SPACE}", "")

    answer = coach.post(at(planned, "save/"), typed(planned) | {"page": "type"})

    assert answer.headers["Location"] == at(planned, "done/")
    page = text_of(coach.get(at(planned, "done/")))
    n = planned.places.exclude(thing=None).count()
    assert page.count("<strong>100 points</strong>") == n
    assert "without a number" not in page


def test_thirty_children_fit_one_page(coach, club, text_of):
    for i in range(27):
        Pupil.objects.create(club=club, name=f"Child {i}")
    for i in range(20):
        Thing.objects.create(club=club, station="count", name=f"a jar of beans {i}", true=100 + i)
    coach.post(f"/season/{club.pk}/meeting/")
    meeting = Meeting.objects.get()
    Meeting.objects.update(lessons=[])
    coach.post(at(meeting, "again/"), {
        "here": list(club.pupils.values_list("pk", flat=True)), "minutes": "20", "scales": "3",
    })  # fmt: skip

    for paper in ("a4", "letter"):
        meeting = Meeting.objects.get()
        content = coach.get(f"/season/meeting/{meeting.pk}.pdf?paper={paper}").content
        assert len(PdfReader(io.BytesIO(content)).pages) == 1


def test_a_club_that_never_scored_is_taught_in_order_and_goes_on_next_time(coach, club, text_of):
    coach.post(f"/season/{club.pk}/meeting/")
    first = Meeting.objects.get()
    page = text_of(coach.get(at(first, "")))
    assert "Hold 100 g" in page
    assert first.places.count() == 0

    coach.post(at(first, "finish/"))
    coach.post(f"/season/{club.pk}/meeting/")

    second = Meeting.objects.last()
    assert second.lessons == ["calculator", "pairs"]
    assert {place.slot for place in second.places.all()} == {0, 1}
    go_to(coach, second, 3)
    coach.post(at(second, "save/"), typed(second))
    coach.post(f"/season/{club.pk}/meeting/")
    assert Meeting.objects.last().lessons == []


def test_where_nothing_is_fresh_the_plan_says_what_to_pour(coach, club, text_of, round_post):
    round_post(coach, club, {"Ada": "380", "Bo": "400", "Quillon": "420"})

    coach.post(f"/season/{club.pk}/meeting/")

    page = text_of(coach.get(at(Meeting.objects.get(), "")))
    assert "count, small: nothing is fresh for 3 children. Pour a new jar" in page
    assert 'href="/jars/">shelf of practice jars' in page
    assert not Meeting.objects.get().places.filter(thing__name="jar of beans").exists()


def test_nobody_here_is_refused(coach, planned, text_of):
    answer = coach.post(at(planned, "again/"), {"minutes": "20", "scales": "1"})

    assert answer.status_code == 422
    assert "Tick at least one child" in text_of(answer)
    assert Meeting.objects.get().pk == planned.pk


def test_a_plan_is_made_anew_until_it_is_begun(coach, larkspur, planned):
    coach.post(f"/season/{larkspur.pk}/meeting/")
    assert Meeting.objects.count() == 1

    coach.post(at(Meeting.objects.get(), "start/"))
    coach.post(f"/season/{larkspur.pk}/meeting/")
    assert Meeting.objects.count() == 2


def test_a_pupil_who_is_deleted_leaves_no_place(coach, larkspur, planned):
    pupil = larkspur.pupils.get(name="Kai")
    coach.post(f"/season/pupil/{pupil.pk}/delete/", {"is_sure": "on"})

    assert planned.pupils.count() == 5
    assert planned.places.count() == 20
    assert coach.get(at(planned, "")).status_code == 200
    assert not PracticeAttempt.objects.filter(pupil=pupil.pk).exists()


@pytest.mark.slow
def test_a_coach_opens_the_meetings_of_the_own_clubs_only(coach, planned, sign_in):
    planned.club.coaches.clear()

    for words in ("", "run/", "type/", "done/", "now/"):
        assert coach.get(at(planned, words)).status_code == 403
    assert coach.post(at(planned, "save/"), {"go": "1"}).status_code == 403
