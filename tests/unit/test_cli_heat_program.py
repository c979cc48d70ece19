"""``nearmark heats`` with wishes and rooms: kept, stated, or refused with what would fit."""

import json
from dataclasses import replace
from datetime import time

import pypdf
import pytest

from nearmark.cli import main
from nearmark.contest.event import Room
from nearmark.contest.heat_wish import HeatWish
from nearmark.demo import larkspur_valley
from nearmark.errors import FilesError
from nearmark.event_folder import read_event, write_event

ROOMS = (Room("Gym", 8), Room("Library", 6, 1))
WISHES = (
    HeatWish("Copperwren", earliest=time(9, 30), latest=time(10, 30)),
    HeatWish("Fernhollow", coach="coach Wren"),
    HeatWish("Gorsewater", coach="coach Wren"),
    HeatWish("P07", needs_accessible=True),
    HeatWish("P01", together="siblings"),
    HeatWish("P20", together="siblings"),
    HeatWish("P46", heat=3, room="Library"),
)


@pytest.fixture
def asked(tmp_path):
    write_event(replace(larkspur_valley(), rooms=ROOMS, heat_wishes=WISHES), tmp_path / "event")
    return tmp_path / "event"


def told(capsys, *words):
    main(["heats", *map(str, words), "--time-limit", "3", "--json"])
    return json.loads(capsys.readouterr().out)


def refused(capsys, *words):
    with pytest.raises(SystemExit) as stopped:
        main(["heats", *map(str, words), "--time-limit", "2"])
    assert stopped.value.code == 2
    return capsys.readouterr().err


def test_wishes_are_read_back_as_they_were_written(asked):
    event = read_event(asked)

    assert (event.rooms, event.heat_wishes) == (ROOMS, WISHES)
    assert (asked / "heat_wishes.csv").read_text(encoding="utf-8").splitlines()[1] == (
        "Copperwren,09:30,10:30,,,,,,"
    )


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ("Copperwrem,09:30,,,,,,,", "names no pair or school"),
        ("P07,9.30,,,,,,,", "is no time of the day"),
        ("P07,25:00,,,,,,,", "is no time of the day"),
        ("P07,10:00,09:30,,,,,,", "is not after the earliest time"),
        ("P07,,,,Hall,,,,", "names no room"),
        ("P07,,,,,,,no,", "must be yes or empty"),
        ("P07,,,,,,,,", "asks for nothing"),
    ],
)
def test_a_wish_that_makes_no_sense_is_named_by_its_row(asked, row, message):
    file = asked / "heat_wishes.csv"
    heading = file.read_text(encoding="utf-8").splitlines()[0]
    file.write_text(f"{heading}\n{row}\n", encoding="utf-8")

    with pytest.raises(FilesError, match=message):
        read_event(asked)


@pytest.mark.slow
def test_every_wish_is_kept_and_what_is_not_proven_is_stated(capsys, asked):
    plan = told(capsys, asked, "--anew", "--start", "09:00")

    at = {pair["code"]: (heat, pair["room"]) for heat in plan["heats"] for pair in heat["pairs"]}
    starts = [at[f"P{n}"][0]["start"][11:16] for n in range(14, 18)]  # Copperwren
    assert all("09:30" <= start <= "10:00" for start in starts)
    assert at["P01"][0] == at["P20"][0]
    assert (at["P46"][0]["number"], at["P46"][1]) == (3, "Library")
    aims = {aim["aim"]: aim for aim in plan["aims"]}
    assert aims["heats"] == {"aim": "heats", "value": 4, "bound": 4, "gap": 0}
    assert aims["uneven"]["bound"] <= aims["uneven"]["value"]
    assert plan["not_kept"] == []


@pytest.mark.slow
def test_a_saved_plan_is_kept_with_few_moves_and_pages_say_who_goes_when(capsys, asked, tmp_path):
    told(capsys, asked, "--anew", "--start", "09:00", "--write")
    pages = tmp_path / "who.pdf"

    again = told(capsys, asked, "--few-moves", "--start", "09:00", "--school-pages", pages)

    assert (again["changed"], again["moves"]) == (0, [])
    texts = [page.extract_text() for page in pypdf.PdfReader(pages).pages]
    assert len(texts) == 12
    assert "Copperwren" in texts[0]
    assert "The first of you start at" in texts[0]
    assert all(code in texts[0] for code in ("P14", "P15", "P16", "P17"))


def test_the_quick_plan_names_the_wishes_it_does_not_keep(capsys, asked):
    plan = told(capsys, asked, "--anew", "--quick", "--start", "09:00")

    assert {"time", "together"} <= {each["fault"] for each in plan["not_kept"]}
    assert plan["aims"] == []


@pytest.mark.slow
def test_where_nothing_fits_who_has_no_place_and_what_would_fit_is_said(capsys, asked):
    event = read_event(asked)
    only = (HeatWish("Copperwren", earliest=time(9, 20), latest=time(9, 40)),)
    write_event(replace(event, heat_wishes=only), asked)

    said = refused(capsys, asked, "--anew", "--start", "09:00", "--write")

    assert "No place for Copperwren (4 pairs), who cannot come before 09:20" in said
    assert "It would fit with the places there are if Copperwren can" in said
    assert read_event(asked).pairs == event.pairs


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--anew"], "start of heat 1"),
        (["--anew", "--start", "09:00", "--places", "4"], "the event has rooms"),
        (["--anew", "--few-moves"], "exclude each other"),
    ],
)
def test_what_makes_no_plan_is_refused(capsys, asked, words, message):
    assert message in refused(capsys, asked, *words)


def test_an_event_without_wishes_sees_none_of_it(capsys, tmp_path):
    write_event(larkspur_valley(), tmp_path / "event")

    plan = told(capsys, tmp_path / "event", "--anew")

    assert not {"aims", "not_kept", "moves"} & set(plan)
    assert not (tmp_path / "event" / "heat_wishes.csv").exists()
    assert set(plan["heats"][0]["pairs"][0]) == {"code", "school"}
