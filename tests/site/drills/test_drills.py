"""Drills: a pupil joins by a code, answers, is told; nothing else opens; all is kept once."""

import re
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import URLPattern, get_resolver
from django.utils import timezone

from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.door.access import Role
from nearmark.site.door.rate_limit import MAX_PER_SUBJECT
from nearmark.site.drills import actions as drills
from nearmark.site.drills import seat_actions as drill_seats
from nearmark.site.drills.actions import Plan
from nearmark.site.drills.mock_event import mock_results, seat_label
from nearmark.site.models import (
    Club,
    Device,
    Drill,
    DrillAnswer,
    DrillKind,
    DrillSeat,
    PracticeAttempt,
    PracticePair,
    Pupil,
    Thing,
)

NAMES = ("Ada", "Bo", "Cleo", "Dov")


@pytest.fixture
def club(demo, coached) -> Club:
    made = Club.objects.create(
        name="Fernhollow", keep_until=date(2028, 7, 31), made_at=timezone.now()
    )
    ada, bo, cleo, dov = (Pupil.objects.create(club=made, name=name) for name in NAMES)
    PracticePair.objects.create(club=made, code="P1", first=ada, second=bo)
    PracticePair.objects.create(club=made, code="P2", first=cleo, second=dov)
    Thing.objects.create(
        club=made, station="count", name="jar of peas", true=420, layer_true=42, layers_true=10
    )
    Thing.objects.create(
        club=made,
        station="volume",
        name="tea box",
        true=645,
        length_true_cm=12.4,
        width_true_cm=8,
        height_true_cm=6.5,
    )
    Thing.objects.create(
        club=made, station="mass", name="rice", true=100, cup_g=8.6, density_g_cm3=0.8
    )
    return coached(made)


def opened(club: Club, *, kind: DrillKind = DrillKind.DRILL, pairs: bool = False, **more) -> Drill:
    sitting: list[Any] = list(club.pairs.all() if pairs else club.pupils.all())
    things = [club.things.get(name=name) for name in ("jar of peas", "tea box", "rice")]
    return drills.open_drill(club, Plan("Monday", kind, things, sitting, **more), by="Juniper")


def seated(drill: Drill, called: str) -> Client:
    """A phone on which somebody has typed their own code."""
    seat = next(seat for seat in drill.seats.all() if seat.called == called)
    client = Client()
    answer = client.post("/drill/", {"code": drill_seats.code_of(seat)})
    assert answer.headers["Location"] == "/drill/now/"
    return client


def item(drill: Drill, name: str) -> str:
    return f"/drill/thing/{drill.items.get(name=name).pk}/"


def text_of(answer) -> str:
    words = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return re.sub(r"\s+", " ", words)


# Joining.


def test_a_code_opens_the_own_seat_and_asks_the_first_thing(club):
    client = seated(opened(club), "Ada")

    page = client.get("/drill/now/", follow=True)

    assert "Jar of peas" in text_of(page)
    assert "1 of 3" in text_of(page)


@pytest.mark.parametrize("write", [str.lower, lambda c: f"{c[:2]} {c[2:]}", lambda c: f" {c} "])
def test_a_code_may_be_typed_as_children_type(club, write):
    drill = opened(club)
    code = drill_seats.code_of(drill.seats.first())

    assert Client().post("/drill/", {"code": write(code)}).status_code == 302


def test_codes_are_four_signs_differ_and_are_not_kept(club):
    drill = opened(club)
    codes = [drill_seats.code_of(seat) for seat in drill.seats.all()]

    assert len(set(codes)) == len(codes) == 4
    assert all(re.fullmatch(r"[2-9A-HJ-NP-Y]{4}", code) for code in codes)
    kept = str(list(DrillSeat.objects.values_list()))
    assert not [code for code in codes if code in kept]


def test_a_wrong_code_says_no_more_than_that(club):
    opened(club)

    answer = Client().post("/drill/", {"code": "ZZZZ"})

    assert answer.status_code == 422
    assert "Ask your coach" in text_of(answer)
    assert not [name for name in NAMES if name in text_of(answer)]


def test_guessing_is_stopped_for_ten_minutes(club, fake_clock):
    drill = opened(club)
    client = Client()
    for _ in range(MAX_PER_SUBJECT):
        assert client.post("/drill/", {"code": "ZZZZ"}).status_code == 422
    code = drill_seats.code_of(drill.seats.first())

    assert client.post("/drill/", {"code": code}).status_code == 409
    fake_clock.forward(minutes=11)
    assert client.post("/drill/", {"code": code}).status_code == 302


def test_opening_the_page_by_a_link_with_the_code_uses_nothing_up(club):
    drill = opened(club)
    client = Client()

    client.get(f"/drill/?code={drill_seats.code_of(drill.seats.first())}")

    assert client.get("/drill/now/").headers["Location"] == "/drill/"
    assert drill.seats.filter(joined_at=None).count() == 4


@pytest.mark.parametrize("end", ["closed", "expired", "another code"])
def test_a_seat_ends(club, fake_clock, end):
    drill = opened(club)
    client = seated(drill, "Ada")
    if end == "closed":
        drills.close(drill, by="Juniper")
    elif end == "expired":
        fake_clock.forward(hours=5)
    else:
        drill_seats.new_code(drill.seats.first(), by="Juniper")

    answer = client.get("/drill/now/")

    assert "over" in text_of(answer)
    client.post(item(drill, "jar of peas"), {"estimate": "400"})
    assert not DrillAnswer.objects.exists()


# Nothing else opens.


def address(pattern) -> str:
    return "/" + re.sub(r"<int:\w+>", "1", str(pattern).replace("<str:kind>", "sample"))


@pytest.mark.slow
@pytest.mark.parametrize("was_coach", [False, True], ids=["own phone", "the coach's tablet"])
def test_a_seat_opens_nothing_beyond_what_is_open_to_everybody(club, sign_in, was_coach):
    drill = opened(club)
    stranger = Client()
    client = sign_in(Role.COACH) if was_coach else Client()
    client.post("/drill/", {"code": drill_seats.code_of(drill.seats.first())})
    came_in = []
    for pattern in get_resolver("nearmark.site.server.urls").url_patterns:
        assert isinstance(pattern, URLPattern)
        name = str(pattern.name)
        if name.startswith("seat") or name in {"sign-out", "unlock", "calculator"}:
            continue
        where = address(pattern.pattern)
        for ask in ("get", "post") if was_coach else ("get",):
            seen = getattr(client, ask)(where)
            usual = getattr(stranger, ask)(where)
            shut = seen.status_code == 302 and seen.headers["Location"].startswith("/unlock/")
            alike = seen.status_code == usual.status_code
            if not (shut or alike):
                came_in.append((name, ask, seen.status_code, usual.status_code))

    assert came_in == []


def test_the_coach_s_tablet_is_locked_when_a_pupil_sits_down(club, sign_in):
    drill = opened(club)
    client = sign_in(Role.COACH)
    client.post("/drill/", {"code": drill_seats.code_of(drill.seats.first())})

    assert client.get("/drills/").headers["Location"] == "/unlock/?next=%2Fdrills%2F"
    assert Device.objects.get(account__name="coach one").locked
    page = client.get("/drill/now/", follow=True)
    assert "coach one" not in text_of(page)
    assert "Overview" not in text_of(page)


def test_no_page_of_a_seat_names_anybody_else(club):
    drill = opened(club)
    seated(drill, "Bo").post(item(drill, "jar of peas"), {"estimate": "500"})
    client = seated(drill, "Ada")
    pages = [client.get("/drill/"), client.get("/drill/now/", follow=True)]
    pages += [
        client.post(item(drill, name), {"estimate": "500"}, follow=True)
        for name in ("jar of peas", "tea box", "rice")
    ]
    pages.append(client.get("/drill/now/"))

    seen = " ".join(page.content.decode() for page in pages)

    assert "Ada" in seen
    assert not [name for name in (*NAMES[1:], "P1", "P2") if re.search(rf"\b{name}\b", seen)]


def test_a_thing_of_another_drill_cannot_be_answered(club):
    one, other = opened(club), opened(club)
    client = seated(one, "Ada")

    assert client.post(item(other, "rice"), {"estimate": "90"}).headers["Location"] == "/drill/now/"
    assert not DrillAnswer.objects.exists()


# Answering.


def test_an_answer_is_scored_shown_and_kept(club):
    drill = opened(club)
    client = seated(drill, "Ada")

    page = client.post(
        item(drill, "jar of peas"),
        {"estimate": "378", "layer": "42", "layers": "9"},
        follow=True,
    )

    # |378 - 420| / 420 = 10 %: 90 points; all of it from the layers, 9 of 10.
    assert "90 of 100 points" in text_of(page)
    assert "There are 10 layers, not 9. That gives 420: 100 points instead of 90." in text_of(page)
    assert "<svg" in page.content.decode()
    row = PracticeAttempt.objects.get()
    assert (row.pupil.name, row.source, row.estimate, row.layer_true) == ("Ada", "drill", 378, 42)
    assert row.day == timezone.localdate()


def test_a_slip_of_the_sum_is_said_first(club):
    drill = opened(club)

    page = seated(drill, "Ada").post(
        item(drill, "tea box"),
        {"estimate": "6448", "length": "12.4", "width": "8", "height": "6.5"},
        follow=True,
    )

    assert "A factor of ten: 12.4 x 8 x 6.5 is 645 cm³." in text_of(page)


def test_sent_twice_it_counts_once_and_the_first_counts(club):
    drill = opened(club)
    client = seated(drill, "Ada")
    where = item(drill, "rice")

    first = client.post(where, {"estimate": "90"})
    again = client.post(where, {"estimate": "90"})
    other = client.post(where, {"estimate": "100"}, follow=True)

    assert first.headers["Location"] == where
    assert again.status_code == 200
    assert "You said 90" in text_of(other)
    assert PracticeAttempt.objects.get().estimate == 90


@pytest.mark.parametrize(
    ("given", "what"),
    [
        ({"estimate": ""}, "required"),
        ({"estimate": "many"}, "number"),
        ({"estimate": "0"}, "above zero"),
        ({"estimate": "-5"}, "below zero"),
        ({"estimate": "nan"}, "number"),
        ({"estimate": "1e999"}, "number"),
        ({"estimate": "999999999"}, "million times"),
        ({"estimate": "9" * 29}, "larger than anything"),
        ({"estimate": "<script>alert(1)</script>"}, "number"),
        ({"estimate": "400", "layer": "40"}, "all of the parts"),
        ({"estimate": "400", "layer": "0", "layers": "3"}, "above zero"),
    ],
)
def test_what_is_no_answer_is_asked_again_and_nothing_is_kept(club, given, what):
    drill = opened(club)

    page = seated(drill, "Ada").post(item(drill, "jar of peas"), given)

    assert page.status_code == 422
    assert what in text_of(page), text_of(page)[100:500]
    assert "<script>alert" not in page.content.decode()
    assert not PracticeAttempt.objects.exists()
    assert not DrillAnswer.objects.exists()


def test_with_the_calculator_the_parts_are_asked_for(club):
    drill = opened(club, with_calculator=True)
    client = seated(drill, "Ada")

    assert client.post(item(drill, "tea box"), {"estimate": "645"}).status_code == 422
    assert "data-calculator" in client.get(item(drill, "tea box")).content.decode()
    assert "data-calculator" not in client.get(item(drill, "rice")).content.decode()


def test_at_the_end_everything_own_is_shown_and_the_seat_can_be_left(club):
    drill = opened(club)
    client = seated(drill, "Ada")
    for name in ("jar of peas", "tea box", "rice"):
        client.post(item(drill, name), {"estimate": "100"})

    page = client.get("/drill/now/")

    assert "Done, Ada" in text_of(page)
    assert page.content.decode().count("<svg") == 3
    client.post("/drill/leave/")
    assert client.get("/drill/now/").headers["Location"] == "/drill/"


def test_a_changed_thing_does_not_change_what_was_asked(club):
    drill = opened(club)
    club.things.filter(name="rice").update(true=500)

    page = seated(drill, "Ada").post(item(drill, "rice"), {"estimate": "90"}, follow=True)

    assert "90 of 100 points" in text_of(page)


def test_what_is_known_of_a_pupil_goes_with_the_pupil(club):
    drill = opened(club)
    seated(drill, "Ada").post(item(drill, "rice"), {"estimate": "90"})

    club.pupils.get(name="Ada").delete()

    assert not DrillAnswer.objects.exists()
    assert drill.seats.count() == 3


# The coach.


def form(club: Club, **change) -> dict[str, object]:
    return {
        "title": "Monday",
        "kind": "drill",
        "minutes": "30",
        "things": [thing.pk for thing in club.things.all()],
        "sitting": [f"pupil-{pupil.pk}" for pupil in club.pupils.all()],
    } | change


@pytest.mark.parametrize("role", [Role.LEAD, Role.COACH])
def test_a_coach_opens_a_drill_and_sees_who_answers(club, sign_in, role):
    coach = sign_in(role)
    page = coach.post(f"/drills/club/{club.pk}/open/", form(club), follow=True)
    drill = Drill.objects.get()
    seated(drill, "Ada").post(item(drill, "rice"), {"estimate": "90"})

    live = coach.get(f"/drills/{drill.pk}/state/")

    codes = [drill_seats.code_of(seat) for seat in drill.seats.all()]
    assert all(code in text_of(page) for code in codes)
    assert "/drill/" in text_of(page)
    assert "1 of 12 answers" in text_of(live)
    assert "at work" in text_of(live)
    assert "not here yet" in text_of(live)


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"things": []}, "tick a thing or a jar"),
        ({"sitting": []}, "Nobody takes part"),
        ({"things": ["999999"]}, "999999"),
        ({"sitting": ["pupil-999999"]}, "pupil-999999"),
        ({"kind": "race"}, "race"),
        ({"minutes": "0"}, "greater than"),
        ({"title": ""}, "required"),
    ],
)
def test_a_drill_that_cannot_be_is_asked_again(club, sign_in, change, what):
    page = sign_in(Role.COACH).post(f"/drills/club/{club.pk}/open/", form(club, **change))

    assert page.status_code == 422
    assert what in text_of(page)
    assert not Drill.objects.exists()


def test_pairs_sit_in_mock_contests_only_and_nobody_twice(club, sign_in):
    coach = sign_in(Role.COACH)
    pair = f"pair-{club.pairs.first().pk}"
    ada = f"pupil-{club.pupils.get(name='Ada').pk}"
    where = f"/drills/club/{club.pk}/open/"

    assert "answers alone" in text_of(coach.post(where, form(club, sitting=[pair])))
    twice = coach.post(where, form(club, kind="mock", sitting=[pair, ada]))
    assert "sits twice" in text_of(twice)
    assert not Drill.objects.exists()


def test_a_thing_of_another_club_is_refused(club, sign_in):
    other = Club.objects.create(
        name="Quillbank", keep_until=date(2028, 7, 31), made_at=timezone.now()
    )
    foreign = Thing.objects.create(club=other, station="mass", name="salt", true=100)

    page = sign_in(Role.COACH).post(
        f"/drills/club/{club.pk}/open/", form(club, things=[foreign.pk])
    )

    assert page.status_code == 422
    assert not Drill.objects.exists()


def test_an_empty_club_teaches_what_is_missing(demo, sign_in, coached):
    bare = Club.objects.create(
        name="Quillbank", keep_until=date(2028, 7, 31), made_at=timezone.now()
    )
    coached(bare)
    coach = sign_in(Role.COACH)

    assert "No pupil yet" in text_of(coach.get(f"/drills/club/{bare.pk}/"))
    assert "Quillbank" in text_of(coach.get("/drills/"))
    bare.delete()
    assert "First a club" in text_of(coach.get("/drills/"))


def test_another_code_can_be_given_and_the_drill_closed(club, sign_in):
    coach = sign_in(Role.COACH)
    drill = opened(club)
    seat = drill.seats.first()
    old = drill_seats.code_of(seat)

    coach.post(f"/drills/seats/{seat.pk}/code/", follow=True)
    seat.refresh_from_db()

    assert drill_seats.code_of(seat) != old
    assert Client().post("/drill/", {"code": old}).status_code == 422
    page = coach.post(f"/drills/{drill.pk}/close/", follow=True)
    assert "Closed" in text_of(page)
    assert drill_seats.code_of(seat) not in text_of(page)


@pytest.mark.parametrize("where", ["/drills/99/", "/drills/club/99/", "/drills/99/state/"])
def test_what_is_not_there_is_said(club, sign_in, where):
    assert sign_in(Role.COACH).get(where).status_code == 422


# Mock contests.


@pytest.fixture
def mock(club, monkeypatch, fake_clock):
    monkeypatch.setattr(clock, "steady_now", lambda: fake_clock.time)
    return opened(club, kind=DrillKind.MOCK, pairs=True)


def test_nothing_is_taken_before_the_start(mock):
    client = seated(mock, "P1")

    assert "Wait for the start" in text_of(client.get("/drill/now/"))
    client.post(item(mock, "rice"), {"estimate": "90", "decided": "both"})
    assert not DrillAnswer.objects.exists()


def test_answers_may_be_changed_until_they_are_handed_in(mock):
    drills.start_clock(mock, by="Juniper")
    client = seated(mock, "P1")
    for estimate in ("90", "95"):
        client.post(item(mock, "rice"), {"estimate": estimate, "decided": "both"})

    assert "95" in text_of(client.get("/drill/now/"))
    assert not PracticeAttempt.objects.exists()
    client.post("/drill/hand-in/")
    client.post(item(mock, "rice"), {"estimate": "100", "decided": "both"})

    assert DrillAnswer.objects.get().estimate == 95
    assert "Handed in" in text_of(client.get("/drill/now/"))


@pytest.mark.parametrize(("seconds", "counts"), [(30 * 60 + 10, True), (30 * 60 + 20, False)])
def test_the_clock_ends_it_with_a_grace_of_fifteen_seconds(mock, fake_clock, seconds, counts):
    drills.start_clock(mock, by="Juniper")
    client = seated(mock, "P1")
    fake_clock.time += timedelta(seconds=seconds)

    client.post(item(mock, "rice"), {"estimate": "95", "decided": "both"})

    assert DrillAnswer.objects.exists() is counts
    assert "Time is up" in text_of(client.get("/drill/now/"))


def test_the_clock_starts_once(mock):
    drills.start_clock(mock, by="Juniper")

    with pytest.raises(RuleError, match="started already"):
        drills.start_clock(mock, by="Juniper")


@pytest.mark.slow
def test_scores_places_and_the_log(mock, sign_in):
    drills.start_clock(mock, by="Juniper")
    one, other = seated(mock, "P1"), seated(mock, "P2")
    ada = mock.club.pupils.get(name="Ada").pk
    one.post(item(mock, "jar of peas"), {"estimate": "378", "decided": ada})
    one.post(item(mock, "rice"), {"estimate": "95", "decided": "both"})
    other.post(item(mock, "tea box"), {"estimate": "645", "decided": "both"})
    other.post(item(mock, "rice"), {"estimate": "85", "decided": "both"})

    page = sign_in(Role.COACH).post(f"/drills/{mock.pk}/close/", follow=True)

    # P1: 90 + 0 (not answered) + 95 = 185; P2: 0 + 100 + 85 = 185: a tie, both first.
    outcome = mock_results(mock)
    assert [(line.place, line.total) for line in outcome.pairs] == [(1, 185), (1, 185)]
    assert "P1 and P2 first, 185.00 of 300.00 points" in text_of(page)
    assert "of 300.00 points" in text_of(page)
    # Only what one of them alone decided tells of a habit.
    row = PracticeAttempt.objects.get()
    assert (row.pupil.name, row.pair.code, row.source) == ("Ada", "P1", "mock")


def test_a_pupil_alone_has_everything_in_the_log(club, monkeypatch, fake_clock):
    monkeypatch.setattr(clock, "steady_now", lambda: fake_clock.time)
    mock = opened(club, kind=DrillKind.MOCK)
    drills.start_clock(mock, by="Juniper")
    client = seated(mock, "Ada")
    client.post(item(mock, "rice"), {"estimate": "95"})
    client.post("/drill/hand-in/")
    client.post("/drill/hand-in/")

    drills.close(mock, by="Juniper")
    drills.close(mock, by="Juniper")

    assert PracticeAttempt.objects.get().source == "mock"
    totals = {line.pair.code: line.total for line in mock_results(mock).pairs}
    ada = next(seat for seat in mock.seats.all() if seat.called == "Ada")
    assert totals[seat_label(ada)] == 95
    assert sorted(totals.values()) == [0, 0, 0, 95]
    places = {line.pair.code: line.place for line in mock_results(mock).pairs}
    # The others never sat down: not placed.
    assert places.pop(seat_label(ada)) == 1
    assert set(places.values()) == {None}
    assert "95.00 of 300.00 points 1st of 1." in text_of(client.get("/drill/now/"))


def test_closing_before_the_start_keeps_nothing_and_breaks_nothing(mock, sign_in):
    page = sign_in(Role.COACH).post(f"/drills/{mock.pk}/close/", follow=True)

    assert page.status_code == 200
    assert "Result" not in text_of(page)


def test_a_mass_that_the_rules_do_not_ask_for_is_refused(club):
    Thing.objects.filter(name="rice").update(true=250)

    with pytest.raises(InputError, match="100 g"):
        opened(club, kind=DrillKind.MOCK)


def test_the_coach_starts_the_clock_on_the_page(mock, sign_in):
    coach = sign_in(Role.COACH)
    assert "Start the clock: 30 minutes" in text_of(coach.get(f"/drills/{mock.pk}/"))

    page = coach.post(f"/drills/{mock.pk}/start/", follow=True)

    assert "30:00 left" in text_of(page)


def test_the_choice_of_things_says_who_knows_them(club, sign_in):
    coach = sign_in(Role.COACH)
    drill = opened(club)
    seated(drill, "Ada").post(item(drill, "jar of peas"), {"estimate": "378"})

    page = text_of(coach.get(f"/drills/club/{club.pk}/"))

    assert "jar of peas (count, 1 of 4 knows its true value)" in page
    assert "tea box (volume)" in page


@pytest.mark.parametrize(("n", "said"), [(0, "are needed"), (21, "are too many")])
def test_a_drill_asks_one_to_twenty_things(club, n, said):
    things = list(club.things.all()[:1]) * n

    with pytest.raises(InputError, match=f"things: {said}"):
        drills.open_drill(
            club, Plan("Monday", DrillKind.DRILL, things, list(club.pupils.all())), by="Juniper"
        )
