"""The field's answers against the keys of an event."""

import json
import math
from dataclasses import replace
from datetime import date
from decimal import Decimal

import numpy as np
import pytest

from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Pair,
    Side,
)
from nearmark.contest.field_offset import FieldBias
from nearmark.contest.key_check import NoSlip, check_keys
from nearmark.contest.results import results
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.key_check import cause_words, check_words, limit_words
from nearmark.words.results_json import check_as_json

SCALE = Instrument("bench scale", "g", 0.1)
RULER = Instrument("ruler", "cm", 0.1)
JARS = tuple(Item(f"B{i}", Station.COUNT, f"jar {i}") for i in (1, 2, 3))
TRUE = {"B1": 1420, "B2": 600, "B3": 2500}


def answers(truth, n=40, bias=-0.12, spread=0.25, seed=1):
    """Invented field: log-normal answers around the truth, less the usual bias."""
    rng = np.random.default_rng(seed)
    return tuple(
        AnswerReading(f"P{i:02d}", item, reading, f"clerk {reading}", AnswerStatus.ANSWERED, value)
        for item, true in truth.items()
        for i in range(n)
        for value in [Decimal(max(1, round(true * math.exp(rng.normal(bias, spread)))))]
        for reading in (1, 2)
    )


def event(counted=None, n=40, **records):
    return Event(
        "Larkspur Valley Estimation Day",
        date(2026, 4, 18),
        instruments=(SCALE, RULER),
        items=records.pop("items", JARS),
        hand_counts=tuple(
            HandCount(item, pieces, f"counter {i}")
            for item, pieces in (counted or {}).items()
            for i in range(3)
        ),
        pairs=tuple(Pair(f"P{i:02d}", "school", ("one", "two")) for i in range(n)),
        answers=records.pop("answers", answers(TRUE, n)),
        **records,
    )


def checks(day, **options):
    return {check.item: check for check in check_keys(results(day), **options)}


def test_sound_keys_are_not_suspected():
    found = checks(event(TRUE))

    assert [check.flagged for check in found.values()] == [False] * 3
    assert found["B1"].slips == ()
    assert "Nothing suspicious" not in check_words(found["B1"])
    assert check_words(found["B1"]).endswith(limit_words(found["B1"]))
    assert "Only a second way to the key can" in limit_words(found["B1"])


def test_a_count_with_exchanged_digits_is_flagged_with_the_likely_slip():
    found = checks(event(TRUE | {"B1": 4120}))

    assert found["B1"].z < -3
    assert found["B1"].rivals == ()
    assert (
        cause_words(found["B1"].slips[0].cause)
        == "digits 1 and 2 of the key exchanged (4120 for 1420)"
    )
    assert found["B1"].slips[0].probability > 0.8
    assert found["B1"].slips[0].key == 1420
    assert check_words(found["B1"]).startswith("Please check this key again")
    assert not found["B2"].flagged
    assert not found["B3"].flagged


def test_an_exchange_of_small_effect_cannot_be_seen():
    # 1402 for 1420: 1.3 %
    assert not checks(event(TRUE | {"B1": 1402}))["B1"].flagged


def test_nothing_is_changed():
    found = results(event(TRUE | {"B1": 4120}))

    check_keys(found)

    assert found == results(event(TRUE | {"B1": 4120}))


def test_seven_pairs_are_too_few_and_it_says_so():
    check = checks(event(TRUE | {"B1": 14_200}, n=7))["B1"]

    assert (check.n, check.z, check.flagged) == (7, None, False)
    assert check_words(check).startswith(
        "7 answers are too few to judge the key by: at least 8 needed."
    )
    assert limit_words(check).startswith("Only a second way to the key can")


def test_the_limit_is_the_error_that_is_seen_every_other_time():
    check = checks(event(TRUE))["B1"]

    large, small = (int(word) for word in limit_words(check).split() if word.isdigit())
    assert large == round(100 * math.expm1(check.seen_error))
    assert small == round(-100 * math.expm1(-check.seen_error))
    assert 25 <= large <= 60


def box_day(edges, true=6000):
    box = Item("C1", Station.VOLUME, "box")
    return event(
        items=(box,),
        box_readings=tuple(
            BoxReading("C1", side, Decimal(cm), "ruler")
            for side, cm in zip(Side, edges, strict=True)
            for _ in range(3)
        ),
        answers=answers({"C1": true}, bias=-0.02, spread=0.09),
    )


def test_a_sound_box_is_not_suspected():
    assert not checks(box_day(("30.0", "20.0", "10.0")))["C1"].flagged


def test_an_edge_in_inches_is_found():
    # 20 cm read as 7.9 in
    check = checks(box_day(("30.0", "7.9", "10.0")))["C1"]

    assert check.flagged
    assert any("in inches" in cause_words(slip.cause) for slip in check.slips[:3])


def test_a_tare_subtracted_twice_is_found():
    # true gross 900 g, empty 250 g, 1 g a piece: 650 pieces.  The scale showed the net mass
    # already, 650 g, and the tare was subtracted again: 400 pieces.
    day = event(
        items=JARS[:1],
        samples=tuple(
            CountedSample("B1", 100, Decimal(m), "bench scale") for m in ("100.1", "99.9", "100.0")
        ),
        containers=(ContainerWeighing("B1", Decimal("650.0"), Decimal("250.0"), "bench scale"),)
        * 2,
        answers=answers({"B1": 650}, spread=0.15),
    )

    check = checks(day)["B1"]

    words = {cause_words(slip.cause): slip for slip in check.slips}
    assert check.flagged
    assert words["tare subtracted twice"].key == pytest.approx(650, rel=0.01)


def test_the_measured_value_is_suspected_to_be_right_when_the_lead_put_another():
    day = event(
        TRUE, key_decisions=(KeyDecision("B2", Decimal(6000), "lead", "typed from the notes"),)
    )

    check = checks(day)["B2"]

    assert check.flagged
    assert any(slip.key == pytest.approx(600) for slip in check.slips)


def test_a_field_low_everywhere_or_lower_the_more_pieces_there_are_accuses_no_key():
    for bias in ((-0.51, -0.51, -0.51), (-0.05, -0.24, -0.42), (-0.05, -0.33, -0.6)):
        field = tuple(
            answer
            for (code, true), low in zip(
                {"B1": 400, "B2": 2900, "B3": 15_000}.items(), bias, strict=True
            )
            for answer in answers({code: true}, n=49, bias=low, spread=0.4)
        )
        day = event({"B1": 400, "B2": 2900, "B3": 15_000}, n=49, answers=field)

        assert [c.flagged for c in checks(day).values()] == [False] * 3, bias


def test_words_never_ask_to_check_a_key_and_call_it_likeliest_right():
    day = event(TRUE | {"B1": 700})
    check = checks(day)["B1"]

    assert check.flagged
    assert f"slip is: {cause_words(NoSlip.AS_STATED)}" not in check_words(check)
    assert "Likeliest: the key is right" not in check_words(check)


def test_probabilities_are_listed_likeliest_first():
    slips = checks(event(TRUE | {"B1": 4120}))["B1"].slips

    assert list(slips) == sorted(slips, key=lambda slip: -slip.probability)
    assert sum(slip.probability for slip in slips) <= 1 + 1e-12


def test_other_items_show_what_one_alone_does_not():
    # B1 stated 19 % too small
    truth = TRUE | {"B4": 900, "B5": 350}
    items = tuple(Item(code, Station.COUNT, code) for code in truth)
    field = answers(truth, spread=0.1)
    counted = truth | {"B1": 1150}

    assert checks(event(counted, items=items, answers=field))["B1"].flagged
    assert not checks(event(counted, items=items[:1], answers=field))["B1"].flagged


def test_the_mass_station_and_items_without_a_key_are_left_out():
    items = (*JARS, Item("A1", Station.MASS, "cup"), Item("C1", Station.VOLUME, "box"))

    assert list(checks(event(TRUE, items=items))) == ["B1", "B2", "B3"]


def test_a_station_can_be_given_its_own_past():
    found = checks(event(TRUE), bias={Station.COUNT: FieldBias(1.5, 2.0)})

    assert found["B1"].flagged


def test_blank_answers_and_zeros_are_not_counted():
    day = event(TRUE)
    blanks = tuple(
        replace(a, status=AnswerStatus.BLANK, value=None) if a.pair < "P10" else a
        for a in day.answers
    )
    zeros = tuple(replace(a, value=Decimal(0)) if a.pair == "P11" else a for a in blanks)

    assert checks(replace(day, answers=zeros))["B1"].n == 29


def test_a_check_prints_as_json():
    told = json.loads(json.dumps(check_as_json(checks(event(TRUE | {"B1": 4120}))["B1"])))

    assert told["flagged"] is True
    assert told["slips"][0]["key"] == 1420


def test_an_event_without_answers_says_so_for_every_key():
    found = checks(event(TRUE, answers=()))

    assert {check.n for check in found.values()} == {0}
