"""A drill on a screen for the room: steps, guests, games, and nothing before its time."""

import re
import uuid
from datetime import date, timedelta

import pytest
from django.test import Client
from django.utils import timezone

from nearmark.coaching import Attempt
from nearmark.errors import InputError
from nearmark.site.common import clock
from nearmark.site.door.access import Role
from nearmark.site.drills import actions as drills
from nearmark.site.drills import seat_actions as drill_seats
from nearmark.site.drills.actions import Plan
from nearmark.site.drills.room_actions import go_on, room_now
from nearmark.site.jars.answering import layer_counts
from nearmark.site.models import (
    Club,
    Drill,
    DrillKind,
    DrillSeat,
    PracticeAttempt,
    PracticeJar,
    PracticePair,
    Pupil,
    Source,
    Thing,
)
from nearmark.site.season.attempt_actions import keep_attempt
from nearmark.station import Station

NAMES = ("Ada", "Bo", "Cleo", "Dov")
TRUTHS = ("437", "647", "6.47")


@pytest.fixture
def coach(sign_in) -> Client:
    return sign_in(Role.COACH)


@pytest.fixture
def club(demo, coached) -> Club:
    made = Club.objects.create(
        name="Fernhollow", keep_until=timezone.localdate(), made_at=timezone.now()
    )
    Thing.objects.create(
        club=made, station="count", name="jar of peas", true=437, layer_true=42, layers_true=10
    )
    Thing.objects.create(
        club=made,
        station="volume",
        name="tea box",
        true=647,
        length_true_cm=12.4,
        width_true_cm=8,
        height_true_cm=6.5,
    )
    Thing.objects.create(club=made, station="mass", name="rice", true=100, cup_g=8.6)
    return coached(made)


@pytest.fixture
def pupils(club) -> dict[str, Pupil]:
    made = {name: Pupil.objects.create(club=club, name=name) for name in NAMES}
    PracticePair.objects.create(club=club, code="P1", first=made["Ada"], second=made["Bo"])
    PracticePair.objects.create(club=club, code="P2", first=made["Cleo"], second=made["Dov"])
    return made


@pytest.fixture
def moved(monkeypatch):
    """Both clocks, to be moved by hand."""
    now = [timezone.now()]
    monkeypatch.setattr(clock, "now", lambda: now[0])
    monkeypatch.setattr(clock, "steady_now", lambda: now[0])

    def forward(**span: float) -> None:
        now[0] += timedelta(**span)

    return forward


def opened(club: Club, *names: str, guests: bool = True, jars=(), **more) -> Drill:
    things = [club.things.get(name=name) for name in names]
    sitting = list(club.pupils.all())
    plan = Plan("Evening", DrillKind.ROOM, things, sitting, with_guests=guests, jars=jars, **more)
    return drills.open_drill(club, plan, by="Juniper")


def guest(drill: Drill) -> Client:
    """A phone of somebody who typed the code on the screen."""
    client = Client()
    code = drill_seats.code_of_token(drill.room.token)
    answer = client.post("/drill/", {"code": code})
    assert answer.headers["Location"] == "/drill/now/"
    return client


def sits(drill: Drill, pupil: str) -> tuple[Client, int]:
    seat = drill.seats.get(pupil__name=pupil)
    client = Client()
    client.post("/drill/", {"code": drill_seats.code_of(seat)})
    return client, seat.number or 0


def at(drill: Drill, words: str = "") -> str:
    return f"/drills/{drill.pk}/room/{words}"


def step(drill: Drill, **more) -> None:
    drill.refresh_from_db()
    go_on(drill, seen=room_now(drill).key, **more)


def guess(client: Client, drill: Drill, name: str, number: float) -> int:
    item = drill.items.get(name__contains=name)
    return client.post(f"/drill/thing/{item.pk}/", {"estimate": f"{number:g}"}).status_code


def words_of(client: Client, address: str) -> str:
    text = re.sub(r"<[^>]+>", " ", client.get(address).content.decode())
    return re.sub(r"[\s\N{NO-BREAK SPACE}]+", " ", text)


def source_of(client: Client, address: str) -> str:
    """A page without its tokens and passes, which spell anything."""
    text = client.get(address).content.decode()
    text = re.sub(r'value="\w{64}"|/jars/part/[^"]+', "", text)
    return re.sub(r"<svg class=\"segno.*?</svg>", "", text, flags=re.DOTALL)


# Guests.


def test_who_types_the_code_on_the_screen_gets_a_number_and_no_name_is_asked(club):
    drill = opened(club, "jar of peas")

    first, second = guest(drill), guest(drill)

    assert "You are seat 1" in words_of(first, "/drill/now/")
    assert "You are seat 2" in words_of(second, "/drill/now/")
    assert drill.seats.filter(pupil=None).count() == 2


def test_who_joins_again_keeps_the_seat(club):
    drill = opened(club, "jar of peas")
    client = guest(drill)

    client.post("/drill/", {"code": drill_seats.code_of_token(drill.room.token)})

    assert drill.seats.count() == 1


def test_without_guests_the_code_of_the_room_opens_nothing(club, pupils):
    drill = opened(club, "jar of peas", guests=False)

    answer = Client().post("/drill/", {"code": drill_seats.code_of_token(drill.room.token)})

    assert answer.status_code == 422
    assert drill.seats.count() == len(pupils)


def test_a_room_without_anybody_to_join_is_refused(club):
    with pytest.raises(InputError):
        opened(club, "jar of peas", guests=False)


def test_a_closed_room_lets_nobody_in(club):
    drill = opened(club, "jar of peas")
    drills.close(drill, by="Juniper")

    answer = Client().post("/drill/", {"code": drill_seats.code_of_token(drill.room.token)})

    assert answer.status_code == 422


# Steps.


def test_the_coach_goes_on_step_by_step_and_of_two_presses_one_counts(coach, club):
    drill = opened(club, "jar of peas", "tea box")
    keys = []
    for _ in range(13):
        drill.refresh_from_db()
        seen = room_now(drill).key
        keys.append(seen)
        for _ in range(2):
            coach.post(at(drill, "go/"), {"seen": seen})

    # One layer, the layers, the truth; three sides, the truth.
    assert keys == [
        "0-shown-0",
        *("1-shown-0", "1-guessing-0", "1-closed-0", "1-closed-1", "1-closed-2", "1-closed-3"),
        *("2-shown-0", "2-guessing-0", "2-closed-0", "2-closed-1", "2-closed-2", "2-closed-3"),
    ]


def test_all_at_once_and_the_end(coach, club):
    drill = opened(club, "tea box")
    for _ in range(4):
        step(drill)
    step(drill, reveals_all=True)
    assert "The true value: 647 cm³." in words_of(coach, at(drill))
    step(drill)
    drill.refresh_from_db()
    assert room_now(drill).is_over
    step(drill)
    assert room_now(drill).screen.place == 2


def test_guesses_count_while_the_countdown_runs_and_a_moment_longer(club, moved):
    drill = opened(club, "jar of peas", seconds=30)
    early, in_time, late = guest(drill), guest(drill), guest(drill)
    step(drill)

    assert guess(early, drill, "peas", 400) == 409
    step(drill)
    moved(seconds=33)
    assert guess(in_time, drill, "peas", 410) == 302
    moved(seconds=2)
    assert guess(late, drill, "peas", 420) == 409

    numbers = drill.seats.filter(answers__isnull=False).values_list("number", flat=True)
    assert list(numbers) == [2]
    assert room_now(drill).phase == "closed"  # nobody pressed


def test_when_the_reveal_begins_no_guess_is_taken(club, moved):
    drill = opened(club, "tea box")
    client = guest(drill)
    for _ in range(4):
        step(drill)

    assert guess(client, drill, "tea", 600) == 409


def test_one_guess_counts(club):
    drill = opened(club, "jar of peas")
    client = guest(drill)
    step(drill)
    step(drill)

    guess(client, drill, "peas", 400)
    guess(client, drill, "peas", 437)

    assert [float(a.estimate) for a in drill.seats.get().answers.all()] == [400]


def test_a_number_that_is_none_is_refused_and_stays_on_the_page(club):
    drill = opened(club, "jar of peas")
    client = guest(drill)
    step(drill)
    step(drill)
    item = drill.items.get()

    answer = client.post(f"/drill/thing/{item.pk}/", {"estimate": "many"})

    assert answer.status_code == 422
    assert 'value="many"' in answer.content.decode()


# Nothing before its time, and no name on the screen.


@pytest.mark.slow
@pytest.mark.parametrize("thing", ["jar of peas", "tea box"])
def test_no_true_value_leaves_the_server_before_its_reveal(coach, club, thing):
    drill = opened(club, thing)
    clients = [guest(drill), guest(drill)]
    pages: list[str] = []

    def look() -> None:
        pages.extend(source_of(coach, at(drill, words)) for words in ("", "now/"))
        for client in clients:
            pages.append(source_of(client, "/drill/now/"))
            pages.append(client.get("/drill/room/state/").content.decode())

    look()
    for _ in range(2):
        step(drill)
        look()
    guess(clients[0], drill, thing, 500)
    look()
    n_steps = room_now(drill).n_steps
    for _ in range(n_steps):  # closed, and every step of the reveal but the last
        step(drill)
        look()

    assert not [t for t in TRUTHS for page in pages if t in page]
    step(drill)
    assert re.search("437|647", words_of(coach, at(drill)))
    assert re.search("437|647", words_of(clients[0], "/drill/now/"))


def test_of_a_poured_jar_the_whole_is_sent_with_its_first_layer_only(coach, club):
    coach.post("/jars/shelf/ready/")
    jar = PracticeJar.objects.get(code="J02")
    drill = opened(club, jars=[jar])
    client = guest(drill)
    seen = []
    for _ in range(4):
        page = coach.get(at(drill)).content.decode()
        assert "data-whole" not in page
        seen += [source_of(coach, at(drill)), source_of(client, "/drill/now/")]
        step(drill)

    page = words_of(coach, at(drill))
    assert "data-whole" in coach.get(at(drill)).content.decode()
    layers = room_now(drill).n_steps - 1
    assert layers == len(layer_counts(jar))
    assert f"Layer 1 of {layers}: {layer_counts(jar)[0]} pieces." in page
    assert not [text for text in seen if str(jar.count) in text]
    # Nothing of the jar is sent to a phone: the room looks at one jar.
    assert "/jars/part/" not in client.get("/drill/now/").content.decode()
    for _ in range(layers):
        step(drill)
    assert f"The true value: {jar.count} pieces." in words_of(coach, at(drill))
    assert sum(layer_counts(jar)) == jar.count


@pytest.mark.slow
def test_the_screen_names_nobody_and_shows_no_code_of_a_child(coach, club, pupils):
    drill = opened(club, "jar of peas", "tea box", guests=False)
    seats = [sits(drill, name)[0] for name in NAMES]
    codes = [drill_seats.code_of(seat) for seat in drill.seats.all()]
    pages = [source_of(coach, at(drill))]
    for _ in range(15):
        for client, number in zip(seats, (300, 400, 430, 900), strict=True):
            for thing in ("peas", "tea"):
                guess(client, drill, thing, number)
        step(drill)
        pages.append(source_of(coach, at(drill)))

    assert room_now(drill).is_over
    shown = re.compile(rf"\b({'|'.join((*NAMES, *codes))})\b")
    assert not [found[0] for page in pages if (found := shown.search(page))]


def test_numbers_of_seats_follow_no_list_of_names(club, pupils):
    orders = {
        tuple(
            opened(club, "jar of peas")
            .seats.order_by("pupil__name")
            .values_list("number", flat=True)
        )
        for _ in range(12)
    }

    assert all(sorted(order) == [1, 2, 3, 4] for order in orders)
    assert len(orders) > 1


# What the room and each seat are told.


def test_the_middle_of_the_room_its_points_and_the_games(coach, club):
    drill = opened(club, "jar of peas", "tea box")
    clients = [guest(drill) for _ in range(5)]
    clients[0].post("/drill/table/", {"table": "3"})
    step(drill)
    step(drill)
    for client, number in zip(clients, (300, 400, 450, 460, 4300), strict=True):
        guess(client, drill, "peas", number)
    assert "5 of 5 have guessed" in words_of(coach, at(drill))
    step(drill)
    assert "The middle of 5 guesses is 450 pieces." in words_of(coach, at(drill))
    for _ in range(3):
        step(drill)

    page = words_of(coach, at(drill))
    # |450 - 437| / 437 = 3.0 %; 300, 400, 460 and 4300 are farther.
    assert "The middle of the room: 3 % high, 97 points. It is closer than 4 of 5 guesses" in page
    assert "Closest at table 3: seat 1." in page
    assert "Closest in the room: seat 3." in page
    # 68.6 + 91.5 + 97.0 + 94.7 + 0
    assert "Together: 352 of 500 points." in page
    # Seats 1 and 2, 3 and 4 are pairs; of each the lower number counts first.
    assert "Relay of pairs, ahead: seats 3 and 4, 97 of 100 points." in page
    phone = words_of(clients[1], "/drill/now/")
    assert "92 points" in phone
    assert "You 400, true 437 pieces" in phone


def test_a_personal_best_is_better_than_what_the_log_has(coach, club, pupils):
    for name, estimate in (("Ada", 380), ("Bo", 399)):
        attempt = Attempt(date(2026, 5, 4), name, Station.COUNT, "tub of beads", estimate, 400)
        keep_attempt(
            uuid.uuid4(), club=club, pupil=pupils[name], attempt=attempt, source=Source.ROUND,
            by="Juniper", pair=None,
        )  # fmt: skip
    drill = opened(club, "jar of peas", guests=False)
    (ada, number), (bo, _), (cleo, _) = (sits(drill, name) for name in NAMES[:3])
    step(drill)
    step(drill)
    for client in (ada, bo, cleo):
        guess(client, drill, "peas", 430)
    for _ in range(4):
        step(drill)

    # 98.4 points are more than Ada's 95, less than Bo's 99.75; Cleo has none to beat.
    assert f"A personal best: seat {number}." in words_of(coach, at(drill))
    assert PracticeAttempt.objects.filter(source="drill").count() == 3


def test_at_the_end_each_sees_how_one_reads_and_the_way_to_the_handout(coach, club):
    drill = opened(club, "jar of peas", "tea box", "rice")
    client, other = guest(drill), guest(drill)
    for thing, number in (("peas", 350), ("tea", 600), ("rice", 90)):
        step(drill)
        step(drill)
        guess(client, drill, thing, number)
        step(drill)
        while not room_now(Drill.objects.get(pk=drill.pk)).is_revealed:
            step(drill)
    step(drill)

    page = words_of(client, "/drill/now/")
    # 350/437 = 0.80, 600/647 = 0.93, 90/100
    assert "Low: 3 of your 3 guesses. Their middle is 10 % low." in page
    assert 'href="/handout/"' in client.get("/drill/now/").content.decode()
    assert "You did not guess." in words_of(other, "/drill/now/")
    screen = words_of(coach, at(drill))
    assert screen.count("The true value") == 2
    assert "Asked for: 100 g." in screen
    drills.close(drill, by="Juniper")
    assert "Their middle is 10 % low" in words_of(client, "/drill/now/")
    assert PracticeAttempt.objects.count() == 0  # of guests nothing is kept in a log


@pytest.mark.parametrize("table", ["", "x", "0", "99", "-1", "5"])
def test_a_table_is_a_number_or_nothing(club, table):
    drill = opened(club, "jar of peas")
    client = guest(drill)

    answer = client.post("/drill/table/", {"table": table})

    assert answer.status_code in (302, 422)
    assert DrillSeat.objects.get().table == (5 if table == "5" else None)


def test_only_the_coach_of_the_club_opens_the_screen(club):
    drill = opened(club, "jar of peas")
    client = guest(drill)

    for words in ("", "now/"):
        assert client.get(at(drill, words)).status_code in (302, 403)
    assert client.post(at(drill, "go/"), {"seen": "0-shown-0"}).status_code in (302, 403)


def test_a_screen_that_is_shown_does_not_lock_its_device(coach, club, fake_clock):
    drill = opened(club, "jar of peas")
    for _ in range(3):
        fake_clock.forward(minutes=15)
        assert coach.get(at(drill, "now/")).status_code == 200

    fake_clock.forward(minutes=25)
    assert coach.get(at(drill, "now/")).status_code == 302


def test_a_plain_drill_has_no_screen(coach, club, pupils):
    plan = Plan("Monday", DrillKind.DRILL, list(club.things.all()), list(club.pupils.all()))
    drill = drills.open_drill(club, plan, by="Juniper")

    assert coach.get(at(drill)).status_code == 422


def test_the_form_opens_a_workshop_in_a_club_without_pupils(coach, club):
    things = [str(pk) for pk in club.things.values_list("pk", flat=True)]
    given = {"title": "Coaches", "minutes": "30", "seconds": "45", "things": things}

    refused = coach.post(f"/drills/club/{club.pk}/open/", given | {"kind": "room"})
    guests = coach.post(
        f"/drills/club/{club.pk}/open/", given | {"kind": "drill", "with_guests": "on"}
    )
    taken = coach.post(
        f"/drills/club/{club.pk}/open/", given | {"kind": "room", "with_guests": "on"}
    )

    assert (refused.status_code, guests.status_code, taken.status_code) == (422, 422, 302)
    drill = Drill.objects.get()
    assert (drill.room.seconds, drill.room.with_guests, drill.seats.count()) == (45, True, 0)
    assert at(drill) in coach.get(f"/drills/{drill.pk}/").content.decode()


def test_the_handout_is_open_to_everybody(db):
    page = words_of(Client(), "/handout/")

    assert "one layer, times the layers" in page
    assert "Hold the empty cup first" in page
