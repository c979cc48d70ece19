"""What is written: plain, the same every time, inert in a spreadsheet, readable again."""

import csv
import io
from dataclasses import replace
from decimal import Decimal

import pytest

from nearmark.contest.event import Division, Material, Pair, Room
from nearmark.errors import FilesError, InputError
from nearmark.event_folder import read_event, write_event
from nearmark.event_folder.guard import guarded, unguarded
from nearmark.event_folder.problems import Problems
from nearmark.event_folder.reader import event_of
from nearmark.event_folder.tables import TABLES
from nearmark.event_folder.writer import contents_of

FORMULAS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "=cmd|' /C calc'!A0", "'=1"]
"""Openings of a cell that a spreadsheet runs.  Source: OWASP ASVS 5.0, 1.2.10; \\r usual."""


def cells_of(content):
    return [c for row in csv.reader(io.StringIO(content.decode(), newline="")) for c in row]


def test_the_same_event_gives_the_same_bytes(tmp_path, small_event):
    for name in ("a", "b"):
        write_event(small_event, tmp_path / name)

    a, b = ({p.name: p.read_bytes() for p in (tmp_path / n).iterdir()} for n in ("a", "b"))

    assert a == b
    only_if_used = [table for table in TABLES if table.only_if_used]
    assert len(a) == len(TABLES) - len(only_if_used) + 2


def test_an_event_without_divisions_and_rooms_shows_neither(folder):
    assert not [p.name for p in folder.iterdir() if p.name in ("divisions.csv", "rooms.csv")]
    for file in ("pairs.csv", "items.csv"):
        heading = (folder / file).read_text(encoding="utf-8").splitlines()[0]
        assert "room" not in heading
        assert "division" not in heading


def test_divisions_and_rooms_are_read_back_and_taken_out_again(tmp_path, small_event):
    first, *rest = small_event.pairs
    divided = replace(
        small_event,
        divisions=(Division("Grade 4", 2), Division("Grade 5")),
        rooms=(Room("Gym", 12), Room("Library", 8, 2)),
        items=(replace(small_event.items[0], divisions=("Grade 4", "Grade 5")),
               *small_event.items[1:]),
        pairs=(replace(first, room="Library", division="Grade 5"), *rest),
    )  # fmt: skip

    write_event(divided, tmp_path)
    assert read_event(tmp_path) == divided

    write_event(small_event, tmp_path)
    assert read_event(tmp_path) == small_event


def test_a_division_or_room_that_is_not_there_is_named(folder, edit):
    (folder / "divisions.csv").write_text("name\nGrade 4\n", encoding="utf-8")
    (folder / "rooms.csv").write_text("name,places,accessible_places\nGym,3,4\n", encoding="utf-8")
    edit("pairs.csv", "status,heat", "status,heat,division")
    edit("pairs.csv", "heat 1", "heat 1,Grade 5")

    with pytest.raises(FilesError) as refused:
        read_event(folder)

    assert {(p.file, p.row, p.column) for p in refused.value.problems} == {
        ("rooms.csv", 2, "accessible_places"),
        ("pairs.csv", 2, "division"),
    }


def test_files_are_utf8_with_line_feeds_only(folder):
    for path in folder.iterdir():
        content = path.read_bytes()
        content.decode("utf-8")
        assert b"\r" not in content
        assert content.endswith(b"\n")


def test_rows_stand_in_the_order_given(tmp_path, small_event):
    turned = replace(small_event, pairs=small_event.pairs[::-1])

    write_event(turned, tmp_path)

    lines = (tmp_path / "pairs.csv").read_text(encoding="utf-8").splitlines()
    assert [line[:2] for line in lines[1:]] == ["P3", "P2", "P1"]


def test_a_carriage_return_inside_a_name_is_quoted(tmp_path, small_event):
    pair = Pair("P4", "Fern\rhollow", ("Ada\r\nLee", "Bo\nMay"))

    write_event(replace(small_event, pairs=(*small_event.pairs, pair)), tmp_path)

    assert read_event(tmp_path).pairs[3] == pair


@pytest.mark.parametrize("text", FORMULAS)
def test_no_cell_of_a_name_is_a_formula(small_event, text):
    pairs = (Pair("P1", text, (text, text)), *small_event.pairs[1:])
    materials = (Material("chickpea", text), Material("split-pea", "x", cautions=(text,)))
    event = replace(small_event, pairs=pairs, materials=materials)

    contents = contents_of(event)

    for file in ("pairs.csv", "materials.csv"):
        assert not [c for c in cells_of(contents[file]) if c[:1] in set("=+-@\t\r\n")]
    assert event_of(contents, Problems()) == event


def test_a_name_with_an_apostrophe_stays_as_a_person_types_it():
    assert unguarded("'t Zand") == guarded("'t Zand") == "'t Zand"


def test_a_number_is_written_without_an_exponent(small_event):
    cup = replace(small_event.cups[0], tare_g=Decimal("1E+2"))

    contents = contents_of(replace(small_event, cups=(cup, *small_event.cups[1:])))

    assert b"1,100,bench scale" in contents["cups.csv"]


def _with_pair(event, pair):
    return replace(event, pairs=(*event.pairs, pair))


def _with_tare(event, tare):
    return replace(event, cups=(replace(event.cups[0], tare_g=Decimal(tare)), *event.cups[1:]))


UNREADABLE = {
    "a code twice": lambda e: _with_pair(e, Pair("P1", "x", ("Ada",))),
    "no member": lambda e: _with_pair(e, Pair("P4", "x", ())),
    "three members": lambda e: _with_pair(e, Pair("P4", "x", ("Ada", "Bo", "Cy"))),
    "half a character": lambda e: _with_pair(e, Pair("P4", "\ud800", ("Ada",))),
    "a NUL": lambda e: _with_pair(e, Pair("P4", "a\0b", ("Ada",))),
    "an endless name": lambda e: _with_pair(e, Pair("P4", "x" * 1001, ("Ada",))),
    "a blank caution": lambda e: replace(
        e, materials=(*e.materials, Material("m", "x", cautions=("",)))
    ),
    "a list for a tuple": lambda e: replace(e, pairs=list(e.pairs)),
    "not a number": lambda e: _with_tare(e, "NaN"),
    "infinity": lambda e: _with_tare(e, "Infinity"),
    "below zero": lambda e: _with_tare(e, "-1"),
    "an absurd exponent": lambda e: _with_tare(e, "1E+999999"),
    "a tiny exponent": lambda e: _with_tare(e, "1E-999999"),
    "an unknown item": lambda e: replace(e, items=e.items[1:]),
    "an instrument of another unit": lambda e: replace(
        e, instruments=(replace(e.instruments[0], unit="kg"), e.instruments[1])
    ),
    "an instrument twice": lambda e: replace(e, instruments=(*e.instruments, e.instruments[0])),
    "a negative seed": lambda e: replace(e, seed=-1),
    "an endless seed": lambda e: replace(e, seed=10**5000),
    "no name": lambda e: replace(e, name=""),
}


@pytest.mark.parametrize("change", UNREADABLE.values(), ids=UNREADABLE)
def test_an_event_that_would_not_read_back_is_refused_and_the_old_one_stays(
    folder, small_event, change
):
    with pytest.raises(InputError):
        write_event(change(small_event), folder)

    assert read_event(folder) == small_event


def test_the_refusal_names_the_file_and_row(folder, small_event):
    with pytest.raises(InputError, match=r"pairs\.csv row 5 code.*already in row 2.*\(got P1\)"):
        write_event(UNREADABLE["a code twice"](small_event), folder)


def test_an_older_event_is_replaced_and_other_files_stay(folder, small_event):
    (folder / "notes.txt").write_text("bring tape", encoding="utf-8")
    newer = replace(small_event, name="Larkspur Valley, second day", adjudications=())

    write_event(newer, folder)

    assert read_event(folder) == newer
    assert (folder / "notes.txt").read_text(encoding="utf-8") == "bring tape"
    assert not [p.name for p in folder.iterdir() if p.name.startswith(".")]


def test_a_file_where_the_folder_should_be_is_refused(tmp_path, small_event):
    (tmp_path / "event").write_text("x", encoding="utf-8")

    with pytest.raises(InputError, match="cannot be written to"):
        write_event(small_event, tmp_path / "event")
