"""An invented day of 80 pairs, from the plan to the awards, by helpers in their own roles.

Three divisions, two rooms, a late school, a fire alarm, a swapped cup, a number read differently,
a tie.  At the end the places are those of a plain calculation and of ``nearmark score`` on the
folder that anybody can take away.
"""

import io
import json
import re
import uuid
import zipfile
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import groupby
from typing import Any

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

from nearmark.cli import main
from nearmark.contest.event import (
    Cup,
    Division,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Pair,
    Room,
)
from nearmark.contest.rules import RuleSet, SchoolRule, SchoolTotal
from nearmark.event_folder import read_event, write_event
from nearmark.measurement.instruments import Instrument
from nearmark.site.common import clock
from nearmark.site.event.load import current_event, load_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.models import AnswerEntry
from nearmark.station import Station

pytestmark = pytest.mark.slow

DIVISIONS = ("Grades 3 and 4", "Grades 5 and 6", "Grades 7 and 8")
ROOMS = ("Gym", "Library")
SCHOOLS = ("Alderbrook", "Birchen", "Cresswell", "Dunmarsh", "Elmhurst", "Fernhollow", "Quillbank",
           "Thistledown")  # fmt: skip
N_PAIRS = 80
TARE_G = Decimal("8.5")
KEYS = {"M1": Decimal(100), "C1": Decimal(421), "B1": Decimal(1200)}
BEST_OF_SCHOOL = 3


def plan() -> Event:
    """The event as the lead has it in a folder weeks before."""
    rules = RuleSet(school_total=SchoolTotal(SchoolRule.BEST, BEST_OF_SCHOOL))
    return Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        rules=rules,
        seed=20270508,
        instruments=(Instrument("gym scale", "g", 0.1), Instrument("library scale", "g", 0.1)),
        divisions=tuple(Division(name) for name in DIVISIONS),
        rooms=(Room("Gym", 12), Room("Library", 8)),
        items=(
            Item("M1", Station.MASS, "100 g of split peas"),
            Item("C1", Station.COUNT, "jar of chickpeas"),
            Item("B1", Station.VOLUME, "tea box"),
        ),
        hand_counts=(HandCount("C1", 421, "Rowan"), HandCount("C1", 421, "Sorrel")),
        key_decisions=(KeyDecision("B1", KEYS["B1"], "Juniper", "filled with water once"),),
        cups=tuple(Cup(str(n), TARE_G, "gym scale", "thin") for n in range(1, N_PAIRS + 1)),
        pairs=tuple(
            Pair(f"P{n:02}", SCHOOLS[n % 8], ("Ada", "Bo"), division=DIVISIONS[n % 3])
            for n in range(1, N_PAIRS + 1)
        ),
    )


@dataclass(frozen=True)
class Paper:
    """What is on a pair's sheet, and in its cup."""

    gross_g: Decimal
    pieces: int
    volume_cm3: int


def papers() -> dict[str, Paper]:
    """Invented answers; P01 and P04, of one division, are exact and share its first place."""
    rng = np.random.default_rng(80)
    off = np.exp(rng.normal(-0.1, 0.2, (N_PAIRS, 3)))
    drawn = {
        f"P{n:02}": Paper(TARE_G + Decimal(f"{100 * a:.1f}"), round(421 * b), round(1200 * c))
        for n, (a, b, c) in enumerate(off, start=1)
    }
    exact = Paper(TARE_G + 100, 421, 1200)
    return drawn | {"P01": exact, "P04": exact}


def points(estimate: Decimal | int, key: Decimal) -> Fraction:
    """``100 * (1 - |estimate - true| / true)``, 0 from double upwards: the rule, by hand."""
    return max(Fraction(0), 100 * (1 - abs(Fraction(estimate) - Fraction(key)) / Fraction(key)))


def total(paper: Paper) -> Fraction:
    return (
        points(paper.gross_g - TARE_G, KEYS["M1"])
        + points(paper.pieces, KEYS["C1"])
        + points(paper.volume_cm3, KEYS["B1"])
    )


def shared_places(totals: dict[str, Fraction]) -> dict[str, int]:
    """Place by name: one more than the number of those that are better."""
    return {name: 1 + sum(t > own for t in totals.values()) for name, own in totals.items()}


@pytest.fixture
def hands(monkeypatch):
    class Hands:
        time = timezone.now()

        def pass_(self, minutes: float) -> None:
            self.time += timedelta(minutes=minutes)

    moved = Hands()
    monkeypatch.setattr(clock, "steady_now", lambda: moved.time)
    return moved


def helper(lead: Client, job: str, name: str) -> Client:
    """Let a helper in by a code for one job."""
    page = lead.post("/devices/code/", {"role": "scorer", "job": job}).content.decode()
    code = re.search(r'class="bigcode">([^<]+)<', page)
    assert code
    client = Client()
    assert client.post("/join/", {"code": code[1], "name": name, "pin": "4711"}).status_code == 302
    return client


def test_a_day_of_80_pairs_from_the_plan_to_the_awards(lead, no_event, hands, tmp_path, capsys):
    sheets = papers()
    pairs = planned_and_brought(lead, tmp_path / "plan")
    capsys.readouterr()
    door, peg = helper(lead, "check-in", "Wren"), helper(lead, "clock", "Heron")
    scales = [helper(lead, "weigh-in", name) for name in ("Ash", "Birch")]
    desk = [helper(lead, "answers", name) for name in ("Cedar", "Maple", "Hazel")]
    caller = helper(lead, "announcer", "Linnet")

    heats_run(door, peg, pairs, hands)
    cups_weighed(scales, sheets)
    answers_read(desk, sheets)

    outcome = current_results(current_event())
    assert [p for p in outcome.open_points if p.pair] == []
    assert lead.post("/standings/release/", {"why": "all looked at"}).status_code == 302
    called = caller.get("/announcer/").content.decode()
    assert all(code in called for code in ("P01", "P04"))
    assert caller.post("/standings/release/", {"why": "again"}).status_code == 403

    folder = taken_away(lead, tmp_path / "taken")
    main(["score", str(folder), "--json"])
    found = json.loads(capsys.readouterr().out)
    places_agree(found, sheets, pairs)


def planned_and_brought(lead: Client, folder) -> dict[str, Pair]:
    """``nearmark heats`` plans the day; its folder is brought to the site."""
    write_event(plan(), folder)
    main(["heats", str(folder), "--write", "--json"])
    files = [
        SimpleUploadedFile(path.name, path.read_bytes())
        for path in sorted(folder.iterdir())
        if path.is_file()
    ]
    answer = lead.post("/event/import/", {"files": files})
    assert answer.status_code == 302, answer.content.decode()
    event = load_event(current_event())
    assert event == read_event(folder)
    by_heat = [(p.heat, p.room) for p in event.pairs]
    places = {room.name: room.places for room in event.rooms}
    assert all(by_heat.count(slot) <= places[slot[1]] for slot in set(by_heat))
    return {pair.code: pair for pair in event.pairs}


def heats_run(door: Client, peg: Client, pairs: dict[str, Pair], hands) -> None:
    """Both rooms heat by heat; an alarm in the first; one school comes when all have begun."""
    late = next(pair.school for pair in pairs.values() if pair.heat == "heat 1")
    for number, heat in enumerate(sorted({pair.heat for pair in pairs.values()})):
        slots = sorted({(p.room, p.school) for p in pairs.values() if p.heat == heat})
        for room, school in slots:
            if school != late:
                door.post("/heats/check-in/", {"school": school, "room": room})
        for room in sorted({room for room, _ in slots}):
            asked = {"heat": heat, "minutes": "30", "room": room}
            assert peg.post("/clock/start/", asked).status_code == 302
        hands.pass_(10)
        if number == 0:
            peg.post("/clock/pause/", {"why": "fire alarm"})
            hands.pass_(20)
            peg.post("/clock/go-on/")
            for room, school in slots:
                door.post("/heats/check-in/", {"school": school, "room": room})
            hands.pass_(19)
            # 29 minutes of 30: the alarm took nobody's time.
            assert peg.post("/clock/start/", asked).status_code == 409
        hands.pass_(21)
    assert not current_event().pairs.filter(arrived_at=None).exists()


def cups_weighed(scales: list[Client], sheets: dict[str, Paper]) -> None:
    """Each cup by both scales; P05 and P06 changed cups on the way, which is seen and put right."""
    first, second = scales
    wrong = {"pair": "P05", "cup": "6", "gross_g": str(sheets["P06"].gross_g)}
    key = str(uuid.uuid4())
    assert weighed(first, wrong | {"key": key})
    own = first.post("/weigh-in/", {"pair": "P06", "cup": "6", "gross_g": wrong["gross_g"],
                                    "scale": "gym scale", "key": str(uuid.uuid4())},
                     headers={"Accept": "application/json"}).json()  # fmt: skip
    assert "handed in by P05" in own["asked"]["cup"]["words"]
    first.post("/weigh-in/", {"undo": key})
    for number, (code, paper) in enumerate(sheets.items(), start=1):
        cup = {"pair": code, "cup": str(number), "gross_g": str(paper.gross_g)}
        assert weighed(first, cup)
        assert weighed(second, cup)


def weighed(scale: Client, cup: dict[str, str]) -> bool:
    """Whether it is saved; a doubt is answered with "save it as it is"."""
    post = {"scale": "gym scale", "key": str(uuid.uuid4())} | cup
    told = scale.post("/weigh-in/", post, headers={"Accept": "application/json"}).json()
    if "asked" in told:
        post["doubt"] = told["asked"]["cup"]["ids"]
        told = scale.post("/weigh-in/", post, headers={"Accept": "application/json"}).json()
    return told.get("saved") == ["cup"]


def answers_read(desk: list[Client], sheets: dict[str, Paper]) -> None:
    """Two people read each sheet; one misreads P10, and a third person decides."""
    first, second, third = desk
    event = current_event()
    pair_pk = dict(event.pairs.values_list("code", "pk"))
    item_pk = dict(event.items.values_list("code", "pk"))
    for reader in (first, second):
        for code, paper in sheets.items():
            pieces = paper.pieces + (100 if (reader, code) == (second, "P10") else 0)
            typed = {"C1": pieces, "B1": paper.volume_cm3}
            cells = {f"{pair_pk[code]}-{item_pk[i]}": str(v) for i, v in typed.items()}
            post: dict[str, Any] = {"pair": code}
            for name, value in cells.items():
                post |= {f"v-{name}": value, f"k-{name}": str(uuid.uuid4())}
            answer = reader.post("/entry/save/", post, headers={"Accept": "application/json"})
            told = answer.json()
            if told["asked"]:
                post["doubt"] = [i for asked in told["asked"].values() for i in asked["ids"]]
                told = reader.post(
                    "/entry/save/", post, headers={"Accept": "application/json"}
                ).json()
            assert not told["refused"], told
    right = str(sheets["P10"].pieces)
    decision = {"pair": "P10", "item": "C1", "value": right, "why": "the paper is clear"}
    assert third.post("/differences/decide/", decision).status_code == 302
    assert AnswerEntry.objects.filter(struck_at=None).count() == 2 * 3 * N_PAIRS


def taken_away(lead: Client, folder):
    """The event folder as anybody may take it."""
    packed = zipfile.ZipFile(io.BytesIO(lead.get("/event/export.zip").content))
    packed.extractall(folder)
    return folder / "event"


def places_agree(found: dict, sheets: dict[str, Paper], pairs: dict[str, Pair]) -> None:
    """Places over all, by division and of schools, against the plain calculation."""
    totals = {code: total(paper) for code, paper in sheets.items()}
    lines = {line["code"]: line for line in found["pairs"]}
    assert {code: line["place"] for code, line in lines.items()} == shared_places(totals)
    for division in DIVISIONS:
        own = {c: t for c, t in totals.items() if pairs[c].division == division}
        assert {c: lines[c]["division_place"] for c in own} == shared_places(own)
    assert (lines["P01"]["division_place"], lines["P04"]["division_place"]) == (1, 1)
    by_school = sorted((pairs[c].school, t) for c, t in totals.items())
    best = {
        school: sum(sorted((t for _, t in group), reverse=True)[:BEST_OF_SCHOOL], Fraction(0))
        for school, group in groupby(by_school, key=lambda one: one[0])
    }
    assert {s["school"]: s["place"] for s in found["schools"]} == shared_places(best)
