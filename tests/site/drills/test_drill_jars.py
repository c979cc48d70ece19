"""Jars and photos in a drill: what a coach chooses, what a seat may see, what is kept."""

import io
import json
import re

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from nearmark.charts.jar_scene import PIECE, filled_shell
from nearmark.charts.ready_jars import ready_jars
from nearmark.errors import InputError
from nearmark.site.door.access import Role
from nearmark.site.drills import actions as drills
from nearmark.site.drills import seat_actions as drill_seats
from nearmark.site.drills.jar_columns import draw_jars, grade_words
from nearmark.site.jars import actions as jar_acts
from nearmark.site.jars import answering
from nearmark.site.jars import build as jar_build
from nearmark.site.jars.answering import answer_jar
from nearmark.site.models import (
    Club,
    Drill,
    DrillKind,
    PracticeAttempt,
    PracticeJar,
    Pupil,
    Thing,
)

KEY = 421


@pytest.fixture
def coach(sign_in) -> Client:
    return sign_in(Role.COACH)


@pytest.fixture
def club(demo, coach) -> Club:
    coach.post("/season/make/", {"name": "Fernhollow", "keep_until": "2028-07-31"})
    made = Club.objects.get()
    for name in ("Ada", "Bo"):
        Pupil.objects.create(club=made, name=name)
    Thing.objects.create(club=made, station="mass", name="rice", true=100)
    return made


@pytest.fixture
def shelf(coach) -> list[PracticeJar]:
    coach.post("/jars/shelf/ready/")
    out = io.BytesIO()
    Image.effect_noise((320, 240), 60).convert("RGB").save(out, "JPEG")
    photo = SimpleUploadedFile("own.jpg", out.getvalue(), "image/jpeg")
    given = {"photo": photo, "what": "chickpeas", "count": KEY, "checked_by": "Juniper"}
    coach.post("/jars/shelf/photo/", given | {"no_faces": "on"})
    return list(PracticeJar.objects.all())


def form(club: Club, **more) -> dict[str, object]:
    given = {"title": "Monday", "kind": "drill", "minutes": "30"}
    return given | {"sitting": [f"pupil-{p.pk}" for p in club.pupils.all()]} | more


def opened(club: Club, *jars: PracticeJar, **more) -> Drill:
    plan = drills.Plan("Monday", DrillKind.DRILL, (), list(club.pupils.all()), jars=jars, **more)
    return drills.open_drill(club, plan, by="coach one")


def seated(drill: Drill, called: str) -> Client:
    seat = next(seat for seat in drill.seats.all() if seat.called == called)
    client = Client()
    client.post("/drill/", {"code": drill_seats.code_of(seat)})
    return client


def where(drill: Drill, jar: PracticeJar) -> str:
    return f"/drill/thing/{drill.items.get(jar=jar).pk}/"


def text_of(answer) -> str:
    words = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return re.sub(r"\s+", " ", words)


def parts_of(client: Client, page: str) -> dict[str, bytes]:
    """Every file of a jar that a page leads to."""
    found = {}
    for address in re.findall(r'"(/jars/part/[^"]+)"', page):
        answer = client.get(address)
        assert answer.status_code == 200
        found[address] = answer.content
    return found


# Choosing.


def test_a_coach_takes_jars_by_hand_and_by_chance_beside_what_lies_on_the_table(club, coach, shelf):
    photo = shelf[-1]
    given = {"things": [club.things.get().pk], "jars": [photo.pk], "draw_medium": "2"}

    page = coach.post(f"/drills/club/{club.pk}/open/", form(club, **given), follow=True)

    assert "0 of 8 answers" in text_of(page)
    items = list(Drill.objects.get().items.all())
    assert [item.name for item in items[:2]] == ["rice", "F10: chickpeas"]
    assert {item.size for item in items[2:]} == {"medium"}
    assert (items[1].station, items[1].true, items[1].size) == ("count", KEY, "small")


@pytest.mark.parametrize(
    ("more", "what"),
    [
        ({}, "tick a thing or a jar"),
        ({"draw_large": "5"}, "open large jars left on the shelf: 2"),
        ({"draw_large": "1", "draw_grade": "hard"}, "open hard large jars left on the shelf: 0"),
        ({"jars": ["999999"]}, "999999"),
        ({"draw_small": "-1"}, "greater than"),
        ({"draw_small": "99"}, "less than"),
    ],
)
def test_what_the_shelf_does_not_have_is_said_and_nothing_opens(club, coach, shelf, more, what):
    page = coach.post(f"/drills/club/{club.pk}/open/", form(club, **more))

    assert page.status_code == 422
    assert what in text_of(page).lower() or what in text_of(page)
    assert not Drill.objects.exists()


def test_the_page_of_the_coach_says_how_hard_a_jar_is_and_not_how_many(club, coach, shelf):
    page = coach.get(f"/drills/club/{club.pk}/").content.decode()

    assert "J02 beans in a cup that widens (small jar, medium)" in page
    assert not [jar for jar in shelf if re.search(rf"\b{jar.count}\b", page)]


def test_chance_takes_first_what_the_club_was_asked_least_often(club, shelf):
    small = [jar for jar in shelf if jar.band == "small" and not jar.is_photo]
    opened(club, *small)

    drawn = [draw_jars(club, {"small": 1}, rng=np.random.default_rng(seed))[0] for seed in range(4)]

    assert all(jar.is_photo for jar in drawn)
    assert (
        len({draw_jars(club, {"medium": 1}, rng=np.random.default_rng(n))[0].pk for n in range(12)})
        > 1
    )
    with pytest.raises(InputError):
        draw_jars(
            club,
            {"small": 1},
            but=[jar.pk for jar in (*small, shelf[-1])],
            rng=np.random.default_rng(1),
        )


def test_a_grade_is_how_far_layer_times_layers_leads(shelf):
    # ln(90 * 20.09 / 1816) = 0.00; ln(37 * 10.54 / 303) = 0.25; a photo has no layers.
    assert [grade_words(shelf[k]) for k in (4, 1, -1)] == ["easy", "medium", ""]


# Before the answer.


@pytest.mark.parametrize("which", [1, 8, 9], ids=["every piece seen", "large", "photo"])
def test_nothing_that_reaches_a_seat_before_its_answer_holds_the_count(
    club, shelf, which, monkeypatch
):
    # To draw the still pictures takes seconds; they are pixels of what the shell holds.
    monkeypatch.setattr(jar_build, "pictures", lambda _: (b"\x89PNG top", b"\x89PNG side"))
    jar = shelf[which]
    drill = opened(club, jar)
    client = seated(drill, "Ada")

    page = client.get(where(drill, jar)).content.decode()

    assert not re.search(rf"\b{jar.count}\b", page.replace("\N{NO-BREAK SPACE}", ""))
    assert "data-whole" not in page
    files = parts_of(client, page)
    assert len(files) == (1 if jar.is_photo else 3)
    for content in files.values():
        assert str(jar.count).encode() not in content[:4000]
        if not content.startswith((b"\x89PNG", b"\xff\xd8")):
            assert rows_of(content)["size"].all()
            assert len(rows_of(content)) % 1024 == 0


def rows_of(shell: bytes) -> np.ndarray:
    start = 4 + int.from_bytes(shell[:4], "little")
    return np.frombuffer(shell, PIECE, json.loads(shell[4:start])["pieces"], start)


def test_a_filled_shell_shows_the_same_pieces_and_no_empty_row():
    shell = ready_jars()[1].shell
    before, after = rows_of(shell), rows_of(filled_shell(shell))
    there = before["size"] > 0

    assert there.sum() >= 300, "nearly all 303 of this small jar show: the leak this closes"
    assert (after[there] == before[there]).all()
    twins = after[~there]
    near = np.abs(twins["at"][:, None, :].astype(int) - before[there]["at"][None].astype(int)).max(
        axis=2
    )
    inside = near.argmin(axis=1)
    assert near.min(axis=1).max() <= 8
    assert (twins["size"] < before[there]["size"][inside]).all()
    assert filled_shell(shell) == filled_shell(shell)
    assert len(filled_shell(shell)) == len(shell)


def test_a_seat_cannot_open_the_answer_of_the_shelf(club, lead, shelf):
    lead.post("/jars/shelf/everybody/", {"open": "yes"})
    jar = shelf[0]
    drill = opened(club, jar)
    client = seated(drill, "Ada")
    free = f"/jars/{jar.pk}/"

    assert client.post(free, {"estimate": "5"}).status_code == 422
    assert str(jar.count) not in client.post(free, {"estimate": "5"}).content.decode()
    assert jar.code not in text_of(client.get("/jars/"))
    assert client.get("/jars/cards-key.pdf").headers["Location"].startswith("/sign-in/")
    drills.close(drill, by="coach one")
    assert Client().post(free, {"estimate": "5"}).status_code == 200


def test_a_jar_of_an_open_drill_stays_on_the_shelf(club, coach, shelf):
    drill = opened(club, shelf[0])

    assert coach.post(f"/jars/shelf/{shelf[0].pk}/off/").status_code == 409
    drills.close(drill, by="coach one")
    assert coach.post(f"/jars/shelf/{shelf[0].pk}/off/").status_code == 302
    with pytest.raises(InputError):
        opened(club, PracticeJar.objects.get(pk=shelf[0].pk))


def test_the_photo_of_a_jar_opens_on_the_coach_s_own_locked_tablet(club, sign_in, shelf):
    drill = opened(club, shelf[-1])
    client = sign_in(Role.COACH, "coach two")
    client.post("/drill/", {"code": drill_seats.code_of(drill.seats.first())})

    page = client.get(where(drill, shelf[-1])).content.decode()

    assert len(parts_of(client, page)) == 1


def test_a_photo_whose_words_say_the_count_is_refused(shelf):
    with pytest.raises(InputError, match="says the count"):
        jar_acts.add_photo(b"", "a jar of 1,234 beans", 1234, "Juniper", by="Juniper")


# The answer.


def test_an_answer_is_scored_opened_and_kept_with_its_parts(club, coach, shelf):
    jar = shelf[0]
    drill = opened(club, jar)

    page = seated(drill, "Ada").post(
        where(drill, jar), {"estimate": "800", "layer": "80", "layers": "10"}, follow=True
    )

    # 661 pieces: 100 (1 - 139 / 661) = 78.97
    assert "79 of 100 points" in text_of(page)
    assert "true is 661 pieces" in text_of(page)
    # 65 x 10 = 650 is 11 off: 98.3 points
    assert "One layer shows 65, not 80." in text_of(page)
    assert "That gives 650: 98 points instead of 79." in text_of(page)
    assert "data-whole" in page.content.decode()
    assert "All 11 layers" in text_of(page)
    assert "you counted 80 ." in text_of(page)
    row = PracticeAttempt.objects.get()
    assert (row.pupil.name, row.station, row.size, row.source) == ("Ada", "count", "small", "drill")
    assert (row.estimate, row.true, row.layer, row.layers) == (800, 661, 80, 10)
    assert (row.layer_true, row.layers_true) == (65, pytest.approx(11.33, abs=0.01))
    # The page of the pupil has the parts, so it asks for none.
    told = text_of(coach.get(f"/season/pupil/{row.pupil_id}/"))
    assert "Count, small 1 attempt" in told
    assert "shows once the parts are logged" not in told


def test_a_photo_is_answered_without_layers_and_says_who_counted(club, shelf):
    photo = shelf[-1]
    drill = opened(club, photo)

    page = seated(drill, "Bo").post(where(drill, photo), {"estimate": str(KEY)}, follow=True)

    assert "100 of 100 points" in text_of(page)
    assert "Counted: Juniper" in text_of(page)
    assert "What each layer holds" not in text_of(page)
    assert PracticeAttempt.objects.get().layer is None


@pytest.mark.parametrize("text", ["", "0", "-5", "many", "1.5", "9" * 12, "99999999", "<b>"])
def test_what_is_no_count_is_asked_again_and_nothing_is_kept(club, shelf, text):
    drill = opened(club, shelf[0])

    page = seated(drill, "Ada").post(where(drill, shelf[0]), {"estimate": text})

    assert page.status_code == 422
    assert "data-whole" not in page.content.decode()
    assert not PracticeAttempt.objects.exists()


def test_a_jar_in_a_mock_contest_is_scored_at_its_end_and_shown_nowhere_before(club, shelf):
    jar = shelf[1]
    plan = drills.Plan("Trial", DrillKind.MOCK, (), list(club.pupils.all()), jars=[jar])
    drill = drills.open_drill(club, plan, by="coach one")
    drills.start_clock(drill, by="coach one")
    client = seated(drill, "Ada")

    client.post(where(drill, jar), {"estimate": "303"})
    before = client.get(where(drill, jar)).content.decode()
    drills.close(Drill.objects.get(), by="coach one")

    assert "data-whole" not in before
    assert "100 points" in text_of(client.get("/drill/now/"))
    assert PracticeAttempt.objects.get().source == "mock"


def test_a_jar_is_asked_once_in_a_drill(club, shelf):
    with pytest.raises(InputError, match="asked twice"):
        opened(club, shelf[0], shelf[0])


@pytest.mark.slow
def test_the_layers_are_counted_once_for_all_who_answer(club, shelf, monkeypatch):
    jar = shelf[2]
    first = answer_jar(jar.pk, 500).layer_counts
    monkeypatch.setattr(answering, "peel", None)

    assert answer_jar(jar.pk, 600).layer_counts == first
    assert sum(first) == jar.count


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["drill", "mock"])
def test_a_drill_of_pictures_only_sends_no_place_of_a_piece_before_the_answer(
    club, coach, shelf, kind
):
    jar = next(jar for jar in shelf if not jar.is_photo)
    given = form(club, kind=kind, jars=[jar.pk], pictures_only="on")
    coach.post(f"/drills/club/{club.pk}/open/", given)
    drill = Drill.objects.get()
    if drill.is_mock:
        drills.start_clock(drill, by="coach one")
    seat = seated(drill, "Ada")

    page = seat.get(where(drill, jar)).content.decode()

    assert drill.pictures_only
    assert "data-shell" not in page
    assert "jar_page.js" not in page
    pictures = re.findall(r'<img src="(/jars/part/[^"]+)"', page)
    assert [seat.get(address)["Content-Type"] for address in pictures] == ["image/png"] * 2


def test_a_drill_shows_jars_to_turn_unless_pictures_were_asked_for(club, shelf):
    jar = next(jar for jar in shelf if not jar.is_photo)

    drill = opened(club, jar)

    assert b"data-shell" in seated(drill, "Ada").get(where(drill, jar)).content
