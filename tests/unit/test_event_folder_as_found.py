"""A folder is written back as it was found: from another country, or touched by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from nearmark.contest.event import Cup, Pair
from nearmark.event_folder import read_event, write_event

BOM = b"\xef\xbb\xbf"


def abroad(text: str) -> bytes:
    """The table as a spreadsheet with decimal commas writes it."""
    return BOM + text.replace(",", ";").replace(".", ",").replace("\n", "\r\n").encode()


@pytest.fixture
def foreign(folder):
    """The small event as saved abroad; its cells hold no comma and no point but of numbers."""
    for name in ("cups.csv", "pairs.csv", "counted_samples.csv"):
        path = folder / name
        path.write_bytes(abroad(path.read_text(encoding="utf-8")))
    return folder


def contents(folder):
    return {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file()}


def test_what_did_not_change_keeps_its_bytes(foreign):
    before = contents(foreign)

    write_event(read_event(foreign), foreign)

    assert contents(foreign) == before


def test_a_changed_table_keeps_its_manner_and_others_their_bytes(foreign):
    before, event = contents(foreign), read_event(foreign)
    cup = Cup("77", Decimal("8.25"), event.cups[0].instrument)

    write_event(replace(event, cups=(*event.cups, cup)), foreign)

    after = contents(foreign)
    assert {name for name in after if after[name] != before[name]} == {"cups.csv"}
    assert after["cups.csv"] == before["cups.csv"] + b"77;8,25;bench scale;\r\n"
    assert read_event(foreign).cups[-1] == cup


def test_a_heading_written_by_hand_stays_until_its_table_changes(folder, edit):
    edit("pairs.csv", "code,school", "Code ,School")
    before, event = contents(folder), read_event(folder)

    write_event(replace(event, venue="the gym"), folder)

    after = contents(folder)
    assert {name for name in after if after[name] != before[name]} == {"event.toml"}


def test_a_comment_in_the_settings_stays(folder):
    path = folder / "event.toml"
    path.write_text("# our own note\n" + path.read_text(encoding="utf-8"), encoding="utf-8")
    event = read_event(folder)
    pair = Pair("P9", "Fernhollow", ("Ada", "Bo"))

    write_event(replace(event, pairs=(*event.pairs, pair)), folder)

    assert path.read_text(encoding="utf-8").startswith("# our own note\n")
    assert read_event(folder).pairs[-1] == pair


def test_a_number_that_would_be_read_in_two_ways_is_written_with_a_point(folder):
    path = folder / "cups.csv"
    whole = "".join(f"{number},8,bench scale,thin\n" for number in (1, 2, 3))
    path.write_bytes(abroad("number,tare_g,instrument,batch\n" + whole))
    event = read_event(folder)
    cups = (replace(event.cups[0], tare_g=Decimal("8.125")), *event.cups[1:])

    write_event(replace(event, cups=cups), folder)

    assert read_event(folder).cups == cups
