"""The hour for coaches as the handbook tells it: its things in order, its buttons one by one."""

import re
from pathlib import Path

import pytest
from django.utils import timezone

from nearmark.site.drills.room_actions import room_now
from nearmark.site.models import Club, Drill, Thing

CHAPTER = Path(__file__).parents[3] / "docs" / "handbook" / "coaches-hour.md"
BUTTON = re.compile(r'<button name="step" value="next" class="large">([^<]+)</button>')


@pytest.fixture
def club(demo) -> Club:
    made = Club.objects.create(
        name="Workshop", keep_until=timezone.localdate(), made_at=timezone.now()
    )
    parts = {
        "tea box": {"station": "volume", "length_true_cm": 12, "width_true_cm": 8}
        | {"height_true_cm": 5, "true": 480},
        "jar of peas": {"station": "count", "true": 420, "layer_true": 42, "layers_true": 10},
        "scoop of 100 g": {"station": "mass", "true": 100},
    }
    for name, more in parts.items():
        Thing.objects.create(club=made, name=name, **more)
    return made


@pytest.fixture
def room(lead, club) -> Drill:
    things = [str(thing.pk) for thing in club.things.all()]
    form = {"title": "Workshop", "kind": "room", "things": things, "with_guests": "on"}
    numbers = {"seconds": "180", "minutes": "30", "small": "0", "medium": "0", "large": "0"}
    lead.post(f"/drills/club/{club.pk}/open/", form | numbers)
    return Drill.objects.get()


def presses(lead, drill: Drill) -> list[str]:
    """The names of the button, press by press, and what is looked at, until the end."""
    address = f"/drills/{drill.pk}/room/"
    seen: list[str] = []
    while True:
        page = lead.get(f"{address}now/").content.decode()
        found = BUTTON.search(page)
        if found is None:
            return seen
        seen.append(found[1])
        assert len(seen) < 40
        drill.refresh_from_db()
        lead.post(f"{address}go/", {"seen": room_now(drill).key, "step": "next"})


def test_the_things_are_asked_in_the_order_that_is_told(room):
    asked = [item.name for item in room.items.order_by("place")]

    assert asked == ["jar of peas", "scoop of 100 g", "tea box"]
    assert all(f'"{name}"' in CHAPTER.read_text(encoding="utf-8") for name in asked)


def test_the_buttons_come_as_the_table_says(lead, room):
    _, _, table = CHAPTER.read_text(encoding="utf-8").partition("## Minute by minute")
    rows = [row.split("|")[2] for row in re.findall(r"^\| \d.*$", table, re.MULTILINE)]
    told = [name for row in rows for name in re.findall(r"\*\*(.+?)\*\*", row)]
    pressed = presses(lead, room)

    # A reveal has several steps; the table names the button once.
    assert [name for at, name in enumerate(pressed) if pressed[at - 1 : at] != [name]] == told
