"""The pages of a seat in another language: a drill, a mock contest, a room, a sum."""

from datetime import date
from typing import Any

import pytest
from bracketed import untranslated
from django.test import Client
from django.utils import timezone

from nearmark.site.drills import actions as drills
from nearmark.site.drills import room_actions as rooms
from nearmark.site.drills import seat_actions as drill_seats
from nearmark.site.drills.actions import Plan
from nearmark.site.models import Club, Drill, DrillKind, PracticeJar, PracticePair, Pupil, Thing

DATA = {"Ada", "Bo", "P1", "Jar of peas", "Tea box", "Rice", "jar of peas", "tea box", "rice"}
DATA |= {"Monday", "cm", " g ", "MRC", "CE"}

DJANGO = set("This field is required".split())
"""What Django says itself; it has a catalogue of Spanish, and none of the brackets."""


@pytest.fixture
def club(demo, coached) -> Club:
    made = Club.objects.create(
        name="Fernhollow", keep_until=date(2028, 7, 31), made_at=timezone.now()
    )
    ada, bo = (Pupil.objects.create(club=made, name=name) for name in ("Ada", "Bo"))
    PracticePair.objects.create(club=made, code="P1", first=ada, second=bo)
    Thing.objects.create(
        club=made, station="count", name="jar of peas", true=420.0, layer_true=42, layers_true=10
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
    Thing.objects.create(club=made, station="mass", name="rice", true=100, cup_g=8.6)
    return coached(made)


@pytest.fixture
def shelf(lead) -> list[PracticeJar]:
    lead.post("/jars/shelf/ready/")
    return list(PracticeJar.objects.all()[:3])


def opened(club: Club, kind: DrillKind = DrillKind.DRILL, *, pairs: bool = False, **more) -> Drill:
    sitting: list[Any] = list(club.pairs.all() if pairs else club.pupils.all())
    return drills.open_drill(
        club, Plan("Monday", kind, list(club.things.all()), sitting, **more), by="Juniper"
    )


def left_of(client: Client, address: str) -> list[str]:
    """Words of a page, after its redirects, that nobody translated."""
    answer = client.get(address, follow=True)
    assert answer.status_code == 200
    return untranslated(answer.content.decode(), DATA)


def sits(client: Client, drill: Drill) -> Client:
    """On the first seat."""
    code = drill_seats.code_of(drill.seats.first())
    assert client.post("/drill/", {"code": code}).status_code == 302
    return client


def answer_all(client: Client, drill: Drill, *, factor: float = 0.8) -> list[str]:
    """Answer every thing; returns what of the pages is not translated."""
    left = []
    for item in drill.items.all():
        address = f"/drill/thing/{item.pk}/"
        left += left_of(client, address)
        client.post(address, {"estimate": str(round(item.true * factor)), "decided": "both"})
        left += left_of(client, address)
    return left


def test_the_door_of_a_drill(brackets, demo):
    assert left_of(brackets, "/drill/") == []
    refused = brackets.post("/drill/", {"code": "ZZZZ"})
    assert untranslated(refused.content.decode(), DATA) == []


@pytest.mark.parametrize("factor", [0.8, 1.01, 1.3, 3, 0.2])
def test_a_drill_from_its_first_thing_to_its_end(brackets, club, factor):
    drill = opened(club)
    sits(brackets, drill)

    assert answer_all(brackets, drill, factor=factor) == []
    assert left_of(brackets, "/drill/now/") == []
    drills.close(drill, by="Juniper")
    assert left_of(brackets, "/drill/now/") == []


@pytest.mark.parametrize("typed", ["", "-3", "twelve", "1,234", "12.5", "0", "1e5"])
def test_a_number_that_is_none(brackets, club, typed):
    drill = opened(club)
    sits(brackets, drill)
    item = drill.items.get(name="jar of peas")

    answer = brackets.post(f"/drill/thing/{item.pk}/", {"estimate": typed, "layer": "4"})

    assert answer.status_code in {200, 422}
    assert set(untranslated(answer.content.decode(), DATA)) <= DJANGO


def test_parts_that_do_not_fit_the_answer(brackets, club):
    drill = opened(club, with_calculator=True)
    sits(brackets, drill)
    peas, box = (drill.items.get(name=name) for name in ("jar of peas", "tea box"))
    for item, typed in (
        (peas, {"estimate": "250", "layer": "25", "layers": "10"}),
        (box, {"estimate": "96", "length": "12", "width": "8", "height": "6.5"}),
    ):
        address = f"/drill/thing/{item.pk}/"
        assert left_of(brackets, address) == []
        brackets.post(address, typed)
        assert left_of(brackets, address) == []


def test_a_mock_contest_of_a_pair(brackets, club):
    drill = opened(club, DrillKind.MOCK, pairs=True)
    sits(brackets, drill)
    left = left_of(brackets, "/drill/now/")
    drills.start_clock(drill, by="Juniper")
    left += left_of(brackets, "/drill/now/")
    left += answer_all(brackets, drill)
    brackets.post("/drill/hand-in/")
    left += left_of(brackets, "/drill/now/")
    drills.close(drill, by="Juniper")

    assert left + left_of(brackets, "/drill/now/") == []


def test_a_guest_of_a_room(brackets, club):
    drill = opened(club, DrillKind.ROOM, with_guests=True)
    assert (
        brackets.post("/drill/", {"code": drill_seats.code_of_token(drill.room.token)}).status_code
        == 302
    )
    left = left_of(brackets, "/drill/now/")
    item = drill.items.order_by("place").first()
    for guess in (False, True):
        for _ in range(2):
            rooms.go_on(drill, seen=rooms.room_now(drill).key)
            drill.refresh_from_db()
            left += left_of(brackets, "/drill/now/")
        if guess:
            brackets.post(f"/drill/thing/{item.pk}/", {"estimate": "12"})
    drills.close(drill, by="Juniper")

    assert left + left_of(brackets, "/drill/now/") == []


@pytest.mark.parametrize("product", ["", "1", "1000000"])
def test_a_sum(brackets, demo, product):
    page = brackets.post("/calculator/?task=2", {"product": product}).content.decode()

    left = untranslated(page, {"MRC", "CE", "cm"})
    assert set(left) <= DJANGO


def test_a_child_practises_in_spanish(spanish, club):
    drill = opened(club)
    sits(spanish, drill)
    item = drill.items.get(name="tea box")

    asked = spanish.get(f"/drill/thing/{item.pk}/").content.decode()
    told = spanish.post(f"/drill/thing/{item.pk}/", {"estimate": "512,5"}, follow=True)

    assert "¿Qué volumen, en cm³?" in asked
    assert "Esta es mi respuesta" in asked
    assert "Dijiste <strong>512,5</strong>" in told.content.decode()
    assert "21 % de menos" in told.content.decode()


@pytest.mark.slow
def test_a_poured_jar(brackets, club, shelf):
    drill = drills.open_drill(
        club, Plan("Monday", DrillKind.DRILL, [], list(club.pupils.all()), jars=shelf), by="J"
    )
    sits(brackets, drill)
    names = {item.name for item in drill.items.all()} | {jar.what for jar in shelf}
    known = DATA | names | {name.capitalize() for name in names}
    left = []
    for item in drill.items.all():
        address = f"/drill/thing/{item.pk}/"
        left += untranslated(brackets.get(address).content.decode(), known)
        typed = {"estimate": "100", "layer": "20", "layers": "5"}
        page = brackets.post(address, typed, follow=True).content.decode()
        left += untranslated(page, known)

    assert left == []


def test_a_jar_is_told_to_its_script_with_a_number_that_a_script_reads(spanish, club, shelf):
    """A decimal comma in a data attribute would be no number."""
    jar = next(jar for jar in shelf if not jar.is_photo)
    drill = drills.open_drill(
        club, Plan("Monday", DrillKind.DRILL, [], list(club.pupils.all()), jars=[jar]), by="J"
    )
    sits(spanish, drill)
    address = f"/drill/thing/{drill.items.get().pk}/"

    page = spanish.post(address, {"estimate": "100"}, follow=True).content.decode()

    assert 'data-say-lost="No se pudo' in page
    assert f'data-layer="{jar.layer}"' in page
