"""Two rooms on one day: each with its own clock, its own list and its own next heat."""

import re
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from nearmark.site.common import clock
from nearmark.site.event_day.heats.state import halls_now, heats_to_come
from nearmark.site.event_day.room_actions import MAX_ROOMS
from nearmark.site.models import Change, HeatRun, PairRecord, RoomRecord

NOON = timezone.now().replace(microsecond=0)
HALL, GYM = "Hall", "Gym & stage"


@pytest.fixture
def hands(monkeypatch):
    """A clock of the hall that a test moves."""

    class Hands:
        time = NOON

        def pass_(self, minutes: float) -> None:
            self.time += timedelta(minutes=minutes)

    moved = Hands()
    monkeypatch.setattr(clock, "steady_now", lambda: moved.time)
    return moved


@pytest.fixture
def rooms(demo):
    """Every second pair goes to the gym."""
    for name in (HALL, GYM):
        RoomRecord.objects.create(event=demo, name=name, places=12)
    rows = list(demo.pairs.all())
    for number, row in enumerate(rows):
        row.room = (HALL, GYM)[number % 2]
    PairRecord.objects.bulk_update(rows, ["room"])
    return demo


def start(client, room, heat="heat 1", minutes=30):
    return client.post("/clock/start/", {"heat": heat, "minutes": str(minutes), "room": room})


def now(client, room):
    return client.get("/clock/now.json", {"room": room}).json()


def test_two_rooms_run_at_once_and_one_is_paused(scorer, client, rooms, hands):
    start(scorer, HALL, minutes=30)
    hands.pass_(5)
    assert start(scorer, GYM, minutes=20).headers["Location"] == (
        "/clock/control/?room=Gym+%26+stage"
    )
    hands.pass_(5)
    run = HeatRun.objects.get(room=GYM)
    scorer.post(f"/clock/{run.pk}/pause/", {"why": "a lamp fell"})
    hands.pass_(10)

    assert (now(client, HALL)["state"], now(client, HALL)["elapsed_ms"]) == ("running", 1_200_000)
    assert (now(client, GYM)["state"], now(client, GYM)["elapsed_ms"]) == ("paused", 300_000)
    scorer.post(f"/clock/{run.pk}/go-on/")
    hands.pass_(10)
    assert (now(client, HALL)["state"], now(client, GYM)["state"]) == ("over", "last minutes")
    assert Change.objects.filter(what=f"paused heat 1 in {GYM}", why="a lamp fell").exists()


def test_starting_one_room_leaves_the_other_alone_and_each_has_its_next_heat(
    scorer, client, rooms, hands
):
    start(scorer, HALL, minutes=10)
    hands.pass_(11)
    start(scorer, HALL, "heat 2", 10)

    assert (now(client, HALL)["heat"], now(client, HALL)["next_heat"]) == ("heat 2", "heat 3")
    assert (now(client, GYM)["heat"], now(client, GYM)["next_heat"]) == ("", "heat 1")
    here = set(rooms.pairs.filter(room=GYM, heat="heat 1").values_list("code", flat=True))
    assert set(now(client, GYM)["next_codes"]) <= here
    assert start(scorer, HALL, "heat 3").status_code == 409


def test_stopping_and_more_time_are_for_one_room(scorer, client, rooms, hands):
    start(scorer, HALL)
    start(scorer, GYM)
    hall, gym = HeatRun.objects.get(room=HALL), HeatRun.objects.get(room=GYM)

    scorer.post(f"/clock/{hall.pk}/stop/", {"is_sure": "on"})
    scorer.post(f"/clock/{gym.pk}/extend/", {"more": "5"})

    assert now(client, HALL)["state"] == "over"
    assert (now(client, GYM)["state"], now(client, GYM)["minutes"]) == ("running", 35)


def test_a_fire_alarm_pauses_every_room_at_once(scorer, client, rooms, hands):
    start(scorer, HALL)
    start(scorer, GYM)
    hands.pass_(3)

    page = scorer.post("/clock/pause/", {"why": "fire alarm", "room": GYM}, follow=True)
    hands.pass_(15)
    assert "2 clocks are paused" in page.content.decode()
    assert {now(client, room)["state"] for room in (HALL, GYM)} == {"paused"}
    scorer.post("/clock/go-on/")
    assert {now(client, room)["elapsed_ms"] for room in (HALL, GYM)} == {180_000}
    assert "No clock is paused" in scorer.post("/clock/go-on/", follow=True).content.decode()


@pytest.mark.parametrize("room", ["", "Kitchen"])
def test_a_heat_starts_in_a_room_of_the_event_only(scorer, rooms, room):
    assert start(scorer, room).status_code == 422
    assert not HeatRun.objects.exists()


def test_the_screen_shows_every_room_or_one(client, scorer, rooms, hands, source_of):
    start(scorer, GYM, minutes=20)

    both, one = source_of(client.get("/clock/")), source_of(client.get("/clock/", {"room": GYM}))

    assert both.count("data-clock") == 2
    assert both.count(">20:00<") == one.count(">20:00<") == 1
    assert one.count("data-clock") == 1
    assert "Gym &amp; stage" in one
    assert "?room=Gym%20%26%20stage" in one


def test_a_pair_without_a_room_is_called_in_every_room_until_it_has_one(
    scorer, client, rooms, hands
):
    rooms.pairs.filter(heat="heat 2").update(room="")
    for room in (HALL, GYM):
        start(scorer, room, minutes=1)
    hands.pass_(2)
    assert now(client, HALL)["next_codes"] == now(client, GYM)["next_codes"] != []

    start(scorer, HALL, "heat 2", 1)

    assert [now(client, room)["next_heat"] for room in (HALL, GYM)] == ["heat 3", "heat 3"]


def test_an_event_without_heats_is_timed_room_by_room(scorer, client, rooms, hands):
    rooms.pairs.update(heat="")

    start(scorer, HALL, "everybody")

    assert [now(client, room)["next_heat"] for room in (HALL, GYM)] == ["", "everybody"]


def test_check_in_by_room_shows_and_takes_the_pairs_of_the_room(scorer, rooms, source_of):
    school = "Fernhollow"
    n_here = rooms.pairs.filter(school=school, room=GYM, status="entered").count()
    page = source_of(scorer.get("/heats/", {"room": GYM}))
    codes = set(rooms.pairs.filter(room=HALL).values_list("code", flat=True))
    assert not [code for code in codes if f"<strong>{code}</strong>" in page]

    answer = scorer.post("/heats/check-in/", {"school": school, "room": GYM})

    assert "room=Gym" in answer.headers["Location"]
    arrived = rooms.pairs.filter(school=school).exclude(arrived_at=None)
    assert 0 < n_here == arrived.count()
    assert set(arrived.values_list("room", flat=True)) == {GYM}


def test_a_pair_of_the_other_room_is_checked_in_and_sent_there(scorer, rooms):
    pair = rooms.pairs.filter(room=HALL, status="entered").first()

    page = scorer.post("/heats/check-in/", {"who": pair.code, "room": GYM}, follow=True)

    assert "Its room is Hall." in page.content.decode()
    pair.refresh_from_db()
    assert pair.arrived_at is not None


def test_the_list_says_how_far_a_heat_is_in_each_room(lead, rooms, hands, source_of):
    start(lead, HALL)

    page = source_of(lead.get("/heats/"))

    assert "Heat 1 in Hall" in page
    assert page.count("runs until") == page.count("runs until", page.index("Heat 1 in Hall"))
    gym = page[page.index("Heat 1 in Gym") :]
    assert "here, next" in gym[: gym.index("</a>")]


def test_the_overview_says_which_heat_is_in_which_room(lead, rooms, hands):
    start(lead, HALL)

    for address in ("/event/", "/event/missing/"):
        page = lead.get(address).content.decode()
        assert "Hall: heat 1 runs until" in page
        assert "Gym &amp; stage: no heat runs, heat 1 comes next." in page


def test_the_steps_of_the_day_wait_for_the_heat_of_every_room(lead, rooms, hands, empty_event):
    for number in range(1, 6):
        start(lead, HALL, f"heat {number}", 1)
        hands.pass_(2)

    page = lead.get("/event/").content.decode()

    assert "heat 1 in Gym &amp; stage" in page
    assert "heat 1 in Hall" not in page


@pytest.mark.slow
def test_an_event_without_rooms_sees_none_of_it(lead, scorer, demo, source_of):
    pair = demo.pairs.first()
    pages = [
        *(lead.get(at) for at in ("/event/", "/pairs/", "/heats/", f"/pairs/{pair.pk}/")),
        *(scorer.get(at) for at in ("/clock/", "/clock/control/", "/heats/")),
    ]
    for page in map(source_of, pages):
        assert "room=" not in page
        assert '<input type="hidden" name="room"' not in page
        assert "All rooms" not in page
        assert "Rooms now" not in page


ROOM = {"name": "Library", "places": "8", "accessible_places": ""}


def test_a_room_is_added_changed_and_removed(lead, demo):
    lead.post("/event/rooms/add/", ROOM)
    room = demo.rooms.get()
    assert (room.name, room.places, room.accessible_places) == ("Library", 8, None)
    assert "all accessible" in Change.objects.first().new

    lead.post(f"/event/rooms/{room.pk}/", ROOM | {"accessible_places": "2", "places": "9"})
    room.refresh_from_db()
    assert (room.places, room.accessible_places) == (9, 2)

    assert lead.post(f"/event/rooms/{room.pk}/remove/").status_code == 302
    assert not demo.rooms.exists()


def test_a_new_name_goes_to_its_pairs_and_its_clock(lead, rooms, hands, client):
    start(lead, HALL)
    room = rooms.rooms.get(name=HALL)

    lead.post(f"/event/rooms/{room.pk}/", ROOM)

    assert not rooms.pairs.filter(room=HALL).exists()
    assert now(client, "Library")["state"] == "running"


def test_a_room_in_use_is_not_removed(lead, rooms):
    room = rooms.rooms.get(name=GYM)

    answer = lead.post(f"/event/rooms/{room.pk}/remove/")

    assert answer.status_code == 409
    assert b"is used by" in answer.content
    assert f"/event/rooms/{room.pk}/remove/" not in lead.get("/event/change/").content.decode()


@pytest.mark.parametrize(
    "change",
    [
        {"name": "hall"},
        {"name": " "},
        {"places": "0"},
        {"places": "61"},
        {"accessible_places": "9"},
    ],
)
def test_a_room_that_makes_no_sense_is_refused_on_the_page(lead, rooms, change):
    answer = lead.post("/event/rooms/add/", ROOM | change)

    assert answer.status_code == 422
    assert rooms.rooms.count() == 2
    assert b"Change the event" in answer.content


def test_more_rooms_than_fit_a_screen_are_refused(lead, rooms):
    for number in range(MAX_ROOMS):
        answer = lead.post("/event/rooms/add/", ROOM | {"name": f"Room {number}"})

    assert answer.status_code == 409
    assert rooms.rooms.count() == MAX_ROOMS


def test_the_first_room_waits_until_the_one_clock_is_over(lead, demo, hands):
    lead.post("/clock/start/", {"heat": "heat 1", "minutes": "10"})
    assert lead.post("/event/rooms/add/", ROOM).status_code == 409

    hands.pass_(11)
    lead.post("/event/rooms/add/", ROOM)

    assert HeatRun.objects.get().stopped_at == hands.time
    demo.refresh_from_db()
    # What was started before there were rooms is not started again.
    assert halls_now(demo)[0].next_heat == "heat 2"


def test_a_pair_is_given_a_room_on_its_page(lead, rooms):
    pair = rooms.pairs.filter(room=HALL).first()
    page = lead.get(f"/pairs/{pair.pk}/").content.decode()
    assert "Room: Hall" in page

    lead.post(f"/pairs/{pair.pk}/room/", {"room": GYM})
    pair.refresh_from_db()
    assert pair.room == GYM
    assert lead.post(f"/pairs/{pair.pk}/room/", {"room": "Kitchen"}).status_code == 422
    lead.post(f"/pairs/{pair.pk}/room/", {"room": ""})
    pair.refresh_from_db()
    assert pair.room == ""
    assert "1 pair without a room" in lead.get("/event/change/").content.decode()


def test_the_weigh_in_waits_for_the_cups_of_the_room_that_has_begun(
    scorer, rooms, empty_event, hands, source_of
):
    start(scorer, HALL)

    page = source_of(scorer.get("/weigh-in/"))
    named = page[page.index("Still without a cup") :]
    named = named[: named.index("</strong>")]

    for room, is_named in ((HALL, True), (GYM, False)):
        pair = rooms.pairs.filter(room=room, heat="heat 1", status="entered").first()
        assert (pair.code in named) is is_named


def test_a_refused_room_has_labels_of_its_own_fields(lead, demo, source_of):
    page = source_of(lead.post("/event/rooms/add/", {"name": "", "places": "0"}))

    ids = re.findall(r' id="([^"]*)"', page)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'<label for="([^"]*)"', page)) <= set(ids)
    assert 'id="new-room-name"' in page


def test_a_clock_without_rooms_asks_for_no_pairs_by_room(demo):
    runs = list(demo.heat_runs.all())

    with CaptureQueriesContext(connection) as asked:
        heats_to_come(demo, "", runs)

    assert not any(""""room" = ''""" in query["sql"] for query in asked)


def test_a_room_without_a_heat_is_not_said_to_have_had_all_of_them(lead, demo, source_of):
    demo.pairs.update(heat="heat 1", room=HALL)
    for name in (HALL, GYM):
        RoomRecord.objects.create(event=demo, name=name, places=50)

    page = source_of(lead.get("/announcer/"))

    assert f"{HALL}: no heat runs, heat 1 comes next." in page
    assert "no heat is planned here yet." in page
    assert "every heat was started" not in page


def test_after_the_release_no_room_is_said_to_wait_for_a_heat(lead, demo, source_of, fake_clock):
    RoomRecord.objects.create(event=demo, name=HALL, places=50)
    assert "Rooms now" in source_of(lead.get("/event/"))

    demo.released_at = fake_clock()
    demo.save()

    assert "Rooms now" not in source_of(lead.get("/event/"))
