"""Laws of the event folder: written and read is the same event; bad files give problems."""

from dataclasses import fields, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Cup,
    Division,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Material,
    Pair,
    PairStatus,
    Room,
    Side,
)
from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.errors import FilesError
from nearmark.event_folder.guard import guarded, unguarded
from nearmark.event_folder.problems import Problems
from nearmark.event_folder.reader import FILES, event_of
from nearmark.event_folder.sheet import SEPARATORS
from nearmark.event_folder.tables import TABLES
from nearmark.event_folder.writer import contents_of
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station

pytestmark = pytest.mark.slow

NASTY = "=+-@'\"|\\;,\t\r\n \u00a0\u2028\ufeff\x1b\u202e\u0660é魚\U0001f600"
"""Characters with a meaning to a spreadsheet, a terminal, the csv module or this reader."""

anything = st.one_of(
    st.text(st.sampled_from(NASTY + "aP1"), max_size=8),
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=8),
)
names = anything.filter(str.strip)
measures = st.decimals(0, 10**6, places=3) | st.integers(0, 10**6).map(Decimal)
sizes = measures.filter(bool)
pieces_n = st.integers(1, 9999)


@st.composite
def events(draw: st.DrawFn) -> Event:
    """Any event whose references hold."""
    codes = draw(st.lists(names, min_size=3, max_size=6, unique=True))
    stations = [Station.MASS, Station.COUNT, Station.VOLUME]
    materials = tuple(
        Material(code, draw(names), draw(st.none() | measures), draw(measures), tuple(cautions))
        for code, cautions in draw(
            st.lists(st.tuples(names, st.lists(names, max_size=3)), max_size=2, unique_by=str_first)
        )
    )
    material = st.sampled_from(["", *(m.code for m in materials)])
    some_names = st.lists(names, max_size=2, unique=True)
    divisions = tuple(Division(n, draw(st.integers(0, 1000))) for n in draw(some_names))
    rooms = tuple(Room(n, 9, draw(st.none() | st.integers(0, 9))) for n in draw(some_names))
    division = st.sampled_from(["", *(d.name for d in divisions)])
    room = st.sampled_from(["", *(r.name for r in rooms)])
    items = tuple(
        Item(code, draw(st.sampled_from(stations)), draw(names), draw(material),
             draw(st.none() | sizes), divisions=tuple(filter(None, [draw(division)])))
        for code in codes
    )  # fmt: skip
    scale, ruler = draw(st.lists(names, min_size=2, max_size=2, unique=True))
    u = st.floats(0, 1)
    instruments = (
        Instrument(scale, "g", draw(st.floats(1e-6, 10)), draw(u), draw(u)),
        Instrument(ruler, "cm", draw(st.floats(1e-6, 10)), capacity=draw(st.floats(1, 1e6))),
    )
    cups = tuple(
        Cup(number, draw(measures), scale, draw(anything))
        for number in draw(st.lists(names, min_size=1, max_size=3, unique=True))
    )
    pairs = tuple(
        Pair(code, draw(names), draw(st.tuples(names) | st.tuples(names, names)),
             draw(st.sampled_from(PairStatus)), draw(anything), draw(room), draw(division))
        for code in draw(st.lists(names, max_size=4, unique=True))
    )  # fmt: skip
    counted = [item.code for item in items if item.station is Station.COUNT]
    boxes = [item.code for item in items if item.station is Station.VOLUME]
    return Event(
        name=draw(names),
        day=draw(st.dates()),
        venue=draw(anything),
        rules=draw(rule_sets()),
        seed=draw(st.integers(0, 2**63 - 1)),
        instruments=instruments,
        materials=materials,
        divisions=divisions,
        rooms=rooms,
        items=items,
        samples=tuple(CountedSample(c, draw(pieces_n), draw(sizes), scale) for c in counted),
        containers=tuple(ContainerWeighing(c, draw(sizes), draw(measures), scale) for c in counted),
        hand_counts=tuple(HandCount(c, draw(pieces_n), draw(names)) for c in counted),
        box_readings=tuple(BoxReading(c, side, draw(sizes), ruler) for c in boxes for side in Side),
        cups=cups,
        pairs=pairs,
        answers=tuple(
            AnswerReading(pair.code, item.code, n, draw(names), *draw(said(item, cups)))
            for pair in pairs
            for item in items
            for n in draw(st.sampled_from([(), (1,), (1, 2)]))
        ),
        adjudications=tuple(
            Adjudication(pair.code, item.code, draw(names), *draw(said(item, cups)), draw(names))
            for pair in pairs[:1]
            for item in items[:2]
        ),
        key_decisions=tuple(
            KeyDecision(item.code, draw(st.none() | sizes), draw(names), draw(names))
            for item in items[:1]
        ),
    )  # fmt: skip


def str_first(pair: tuple[str, object]) -> str:
    return pair[0]


@st.composite
def said(draw: st.DrawFn, item: Item, cups: tuple[Cup, ...]) -> tuple[AnswerStatus, Any, str]:
    status = draw(st.sampled_from(AnswerStatus))
    value = draw(measures) if status is AnswerStatus.ANSWERED else None
    cup = draw(st.sampled_from(cups)).number if item.station is Station.MASS else ""
    return status, value, cup


@st.composite
def rule_sets(draw: st.DrawFn) -> RuleSet:
    fractions = st.fractions(Fraction(1, 1000), 1000, max_denominator=1000)
    return RuleSet(
        name=draw(names),
        version=draw(st.integers(1, 99)),
        zero_at=draw(fractions),
        highest_score=draw(st.none() | fractions),
        tie_breaks=tuple(draw(st.lists(st.sampled_from(TieBreak), unique=True))),
        decimals=draw(st.integers(0, 6)),
        u_limit=draw(st.floats(1e-6, 0.5)),
        solo_allowed=draw(st.booleans()),
    )


slow = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)  # An event is a large draw; the time goes into drawing it.


@slow
@given(events())
def test_an_event_written_and_read_is_the_same_event(event):
    read = event_of(contents_of(event), Problems())

    for field in fields(Event):
        assert getattr(read, field.name) == getattr(event, field.name)


@slow
@given(events())
def test_writing_again_what_was_read_gives_the_same_bytes(event):
    contents = contents_of(event)

    assert contents_of(event_of(contents, Problems())) == contents


@settings(max_examples=1000)
@given(anything | st.text("'=-' \t"))
def test_the_guard_of_a_cell_comes_off_as_it_went_on(text):
    cell = guarded(text)

    assert cell == cell.strip()
    assert not cell.startswith(("=", "+", "-", "@"))
    assert unguarded(cell) == text


FEW = Event(
    "Larkspur Valley Estimation Day",
    date(2027, 5, 8),
    instruments=(Instrument("bench scale", "g", 0.1),),
    materials=(Material("rice", "Rice", cautions=("slips on floors", "sweep")),),
    items=(Item("M1", Station.MASS, "100 g of rice", "rice"), Item("B1", Station.VOLUME, "box")),
    cups=(Cup("1", Decimal("8.6"), "bench scale"), Cup("2", Decimal("8.5"), "bench scale")),
    divisions=(Division("Grade 4"),),
    rooms=(Room("Gym", 12),),
    pairs=(
        Pair("P1", "Fernhollow", ("Ada", "Bo"), room="Gym", division="Grade 4"),
        Pair("P2", "Quillbank", ("Cleo",)),
    ),
    answers=(
        AnswerReading("P1", "M1", 1, "Ash", AnswerStatus.ANSWERED, Decimal("106.3"), "1"),
        AnswerReading("P2", "B1", 1, "Ash", AnswerStatus.BLANK),
    ),
)
CONTENTS = contents_of(FEW, present=[table.file for table in TABLES])
file_names = st.sampled_from([file.name for file in FILES])
MARKS = "\" \n \r , ; \t \0 = [ ] ' 1e999 nan -1 1,5 1.5 inf P1 M1 true 1979-05-27".split(" ")
BOMS = [b"\xff\xfe", b"\xfe\xff", b"\xef\xbb\xbf"]
ENDLESS = [b"9" * 40, b"9" * 5000, b"0x" + b"f" * 5000, b"[" * 2000, b'"1e99999999"', b""]
pieces = st.binary(max_size=6) | st.sampled_from([*map(str.encode, MARKS), *BOMS, *ENDLESS])


def read_or_refused(contents: dict[str, bytes]) -> None:
    """Anything but an event or problems with their places is an exception nobody asked for."""
    try:
        told: Event | FilesError = event_of(contents, Problems())
    except FilesError as refused:
        told = refused
    if isinstance(told, FilesError):
        assert told.problems
        assert all(p.file and p.row >= 0 and p.what and p.mend for p in told.problems)
    else:
        assert isinstance(told, Event)


@settings(max_examples=600, deadline=None)
@given(file_names, st.integers(0, 10**4), st.integers(0, 12), pieces)
def test_a_valid_folder_damaged_anywhere_is_read_or_refused(file, start, length, piece):
    content = CONTENTS[file]
    start %= len(content) + 1

    read_or_refused(CONTENTS | {file: content[:start] + piece + content[start + length :]})


@settings(max_examples=300, deadline=None)
@given(file_names, st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(file, content):
    read_or_refused(CONTENTS | {file: content})


CELLS = "M1 P1 B1 1 2 1,5 1.5 1.000 1e5 -1 answered blank mass length entered x \0 ' \"".split(" ")
cells = st.sampled_from([*CELLS, "", " ", "bench scale", '"a""b"', "\ud7ff"])


@settings(max_examples=400, deadline=None)
@given(
    st.sampled_from([file.name for file in FILES if file.name.endswith(".csv")]),
    st.sampled_from(SEPARATORS),
    st.lists(st.lists(cells, max_size=9), max_size=5),
)
def test_any_rows_under_the_right_heading_are_read_or_refused(file, separator, rows):
    heading = CONTENTS[file].decode().splitlines()[0].split(",")
    text = "\n".join(separator.join(row) for row in [heading, *rows])

    read_or_refused(CONTENTS | {file: text.encode()})


@settings(max_examples=100, deadline=None)
@given(st.sets(file_names))
def test_any_subset_of_the_files_is_read_or_refused(missing):
    read_or_refused({name: c for name, c in CONTENTS.items() if name not in missing})


@given(st.permutations(range(len(FEW.pairs))))
def test_rows_are_read_in_the_order_they_stand(order):
    turned = replace(FEW, pairs=tuple(FEW.pairs[i] for i in order))

    assert event_of(contents_of(turned), Problems()).pairs == turned.pairs
