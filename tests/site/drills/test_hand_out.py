"""Slips with codes, a page for the projector, and starts that are spread over the things."""

import io
import re
from datetime import date

import pytest
from django.test import Client
from django.utils import timezone
from pypdf import PdfReader

from nearmark.site.drills import actions as drills
from nearmark.site.drills import seat_actions as drill_seats
from nearmark.site.drills.actions import Plan
from nearmark.site.models import Club, Drill, DrillKind, Pupil, Thing

NAMES = ("Ada", "Bo", "Cleo", "Dov")


@pytest.fixture
def drill(demo, coached) -> Drill:
    club = Club.objects.create(
        name="Fernhollow", keep_until=date(2028, 7, 31), made_at=timezone.now()
    )
    pupils = [Pupil.objects.create(club=club, name=name) for name in NAMES]
    things = [
        Thing.objects.create(club=club, station="count", name=f"jar {n}", true=100 * n)
        for n in (1, 2, 3)
    ]
    coached(club)
    return drills.open_drill(club, Plan("Monday", DrillKind.DRILL, things, pupils), by="Juniper")


def seated(drill: Drill, name: str) -> Client:
    phone = Client()
    seat = drill.seats.get(pupil__name=name)
    phone.post("/drill/", {"code": drill_seats.code_of(seat)})
    return phone


def first_thing(drill: Drill, phone: Client) -> str:
    address = phone.get("/drill/now/").headers["Location"]
    return drill.items.get(pk=int(address.strip("/").split("/")[-1])).name


def test_seats_begin_at_different_things_and_come_to_all(drill):
    begun = [first_thing(drill, seated(drill, name)) for name in NAMES]
    assert begun == ["jar 1", "jar 2", "jar 3", "jar 1"]

    phone, order = seated(drill, "Cleo"), []
    for _ in range(3):
        order.append(first_thing(drill, phone))
        item = drill.items.get(name=order[-1])
        phone.post(f"/drill/thing/{item.pk}/", {"estimate": "150"})
    assert order == ["jar 3", "jar 1", "jar 2"]


def test_every_child_gets_a_slip_with_its_own_code(sign_in, drill):
    coach = sign_in("coach")
    pdf = PdfReader(io.BytesIO(coach.get(f"/drills/{drill.pk}/codes.pdf").content))
    text = " ".join(page.extract_text() for page in pdf.pages)

    assert len(pdf.pages) == 1
    for seat in drill.seats.all():
        assert seat.called in text
        assert drill_seats.code_of(seat) in text
    assert "/drill/" in text
    drills.close(drill, by="Juniper")
    assert coach.get(f"/drills/{drill.pk}/codes.pdf").status_code == 409


def test_the_page_for_the_projector_names_nobody(sign_in, drill, source_of):
    page = source_of(sign_in("coach").get(f"/drills/{drill.pk}/door/"))

    assert "/drill/" in page
    assert "<svg" in page
    for seat in drill.seats.all():
        assert not re.search(rf"\b{seat.called}\b", page)
        assert drill_seats.code_of(seat) not in page
