"""Laws of doubts: whatever was typed, nothing breaks; what agrees with itself is never asked."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.contest.doubts import doubts, new_doubts
from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Cup,
    Event,
    HandCount,
    Item,
    Pair,
    Side,
)
from nearmark.measurement.slips import exchanged_digits
from nearmark.station import Station
from nearmark.words.doubts import doubt_question, place_words, what_is_odd

JAR = Item("J1", Station.COUNT, "jar", "green-pea")
OWN = Item("J2", Station.COUNT, "jar", "own-beans")
BOX = Item("B1", Station.VOLUME, "box")
SCOOP = Item("M1", Station.MASS, "scoop")
DAY = Event("Larkspur Valley Estimation Day", date(2027, 5, 8), items=(JAR, OWN, BOX, SCOOP))

typed = st.decimals("0.001", "99999999", places=3, allow_nan=False) | st.sampled_from(
    [Decimal("1E+30"), Decimal("1E-30"), Decimal(0), Decimal("9" * 40), Decimal(-5)]
)
pieces = st.integers(-1, 10**12)


@st.composite
def events(draw) -> Event:
    def several(strategy):
        return tuple(draw(st.lists(strategy, max_size=4)))

    item = st.sampled_from(["J1", "J2"])
    pair = st.sampled_from(["P01", "P02", "P03", "P04", "P05"])
    answers = st.builds(
        lambda p, i, v: AnswerReading(p, i, 1, "Rowan", AnswerStatus.ANSWERED, v, "1"),
        pair,
        st.sampled_from(["J1", "B1", "M1", "X9"]),
        typed,
    )
    return replace(
        DAY,
        pairs=tuple(Pair(f"P0{n}", "Northfield", ("Lena",)) for n in range(1, 6)),
        samples=several(st.builds(CountedSample, item, pieces, typed, st.just("scale"))),
        containers=several(st.builds(ContainerWeighing, item, typed, typed, st.just("scale"))),
        hand_counts=several(st.builds(HandCount, item, pieces, st.just("Rowan"))),
        box_readings=several(
            st.builds(BoxReading, st.just("B1"), st.sampled_from(Side), typed, st.just("ruler"))
        ),
        cups=several(st.builds(Cup, st.sampled_from("123"), typed, st.just("scale"))),
        answers=tuple(draw(st.lists(answers, max_size=8))),
    )


@pytest.mark.slow
@given(events())
def test_whatever_was_typed_each_doubt_says_where_what_and_which_slip(event):
    found = doubts(event)

    assert len({doubt.id for doubt in found}) == len(found)
    assert all(
        place_words(doubt) and what_is_odd(doubt) and doubt_question(doubt)[-1] in "?."
        for doubt in found
    )
    assert new_doubts(event, event) == ()


@given(st.decimals("1", "999999", places=2), st.integers(1, 6))
def test_equal_readings_are_at_most_asked_about_once(value, n):
    rows = tuple(ContainerWeighing("J1", value, None, "scale") for _ in range(n))
    same = tuple(CountedSample("J2", 100, value, "scale") for _ in range(n))

    assert doubts(replace(DAY, containers=rows, samples=same)) == ()


@settings(max_examples=50)
@given(st.integers(10, 10**9))
def test_digits_exchanged_twice_are_as_before(number):
    for position, swapped in exchanged_digits(Decimal(number)):
        assert dict(exchanged_digits(swapped)).get(position, Decimal(number)) == number
