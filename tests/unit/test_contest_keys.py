"""The key of every item: from weighings, hand counts, box readings, and the lead's decision."""

import math
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from nearmark.contest.event import (
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Material,
    Side,
)
from nearmark.contest.keys import event_keys
from nearmark.contest.rules import RuleSet, StationRule, default_stations
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.key_advice import outlook_words
from nearmark.words.keys import problem_words, whose_word
from nearmark.words.results_json import key_as_json

SCALE, RULER = "bench scale", "steel ruler"
JAR = Item("C1", Station.COUNT, "jar")
EVENT = Event(
    "Larkspur Valley Estimation Day",
    date(2027, 5, 8),
    instruments=(Instrument(SCALE, "g", 0.1), Instrument(RULER, "cm", 0.1)),
    items=(JAR,),
    samples=tuple(
        CountedSample("C1", 150, Decimal(m), SCALE)
        for m in ("61.2", "61.9", "61.5", "61.6", "61.3", "61.8")
    ),
    containers=(ContainerWeighing("C1", Decimal("2890.4"), Decimal("412.3"), SCALE),),
)


def key_of(event, code="C1"):
    return event_keys(event)[code]


def test_a_weighed_count_is_the_net_mass_over_the_mass_of_a_piece():
    # (2890.4 - 412.3) / (369.3 / 900) = 6039.24...
    key = key_of(EVENT)

    assert key.key == 6039
    assert (key.fit, key.problems, key.unit) == (True, (), "pieces")


def test_an_item_nobody_measured_has_a_problem_not_a_crash():
    key = key_of(replace(EVENT, samples=(), containers=()))

    assert key.key is None
    assert not key.fit
    assert "count all pieces by hand" in problem_words(key)


def test_samples_without_a_container_ask_for_the_container():
    assert "container weighings" in problem_words(key_of(replace(EVENT, containers=())))


def test_a_hand_count_is_the_key_when_nothing_was_weighed():
    counts = (HandCount("C1", 412, "Rowan"), HandCount("C1", 412, "Sorrel"))

    assert key_of(replace(EVENT, samples=(), containers=(), hand_counts=counts)).key == 412


def test_a_hand_count_that_contradicts_the_weighing_is_a_problem():
    counts = (HandCount("C1", 6390, "Rowan"), HandCount("C1", 6391, "Sorrel"))

    key = key_of(replace(EVENT, hand_counts=counts))

    assert key.key == 6039
    assert key.problems
    assert not key.fit


def test_a_hand_count_serves_where_the_weighing_is_refused():
    # 150 pieces at 61 g and at 92 g: one sample was miscounted, nobody knows which.
    torn = (EVENT.samples[0], replace(EVENT.samples[1], mass_g=Decimal(92)))
    counts = (HandCount("C1", 6039, "Rowan"), HandCount("C1", 6039, "Sorrel"))

    key = key_of(replace(EVENT, samples=torn, hand_counts=counts))

    assert (key.key, key.fit) == (6039, False)
    assert problem_words(key).startswith("count by weighing: ")


def test_the_weighing_serves_where_the_hand_counts_contradict_each_other():
    counts = (HandCount("C1", 603, "Rowan"), HandCount("C1", 6039, "Sorrel"))

    key = key_of(replace(EVENT, hand_counts=counts))

    assert (key.key, key.fit) == (6039, False)
    assert problem_words(key).startswith("count by hand: ")


def test_a_container_weighed_for_carrying_needs_no_samples_beside_a_hand_count():
    counts = (HandCount("C1", 412, "Rowan"), HandCount("C1", 412, "Sorrel"))

    key = key_of(replace(EVENT, samples=(), hand_counts=counts))

    assert (key.key, key.fit, key.problems) == (412, True, ())


def test_a_decided_value_is_the_key_where_nothing_was_measured():
    decided = replace(
        EVENT,
        samples=(),
        containers=(),
        key_decisions=(KeyDecision("C1", Decimal(500), "Juniper", "label of the maker"),),
    )

    key = key_of(decided)

    assert (key.key, key.fit, key.u, key.assigned) == (500, False, 0, None)


def test_a_decided_value_of_zero_is_no_key():
    zero = KeyDecision("C1", Decimal(0), "Juniper", "")

    key = key_of(replace(EVENT, key_decisions=(zero,)))

    assert key.key is None
    assert "above zero" in problem_words(key)


def test_a_target_may_be_any_fraction():
    item = Item("M1", Station.MASS, "scoop")

    key = key_of(replace(EVENT, items=(item,), rules=RuleSet(target_mass_g=Fraction(25, 2))), "M1")

    assert key.key == Decimal("12.5")


def test_the_json_of_a_key_has_its_decision_and_its_budget():
    decision = KeyDecision("C1", Decimal("6000.5"), "Juniper", "recounted")

    told: dict[str, Any] = key_as_json(key_of(replace(EVENT, key_decisions=(decision,))))

    assert told["key"] == 6000.5
    assert told["decision"] == {"value": 6000.5, "by": "Juniper", "reason": "recounted"}
    assert told["standard_uncertainty"] is None
    assert told["assigned_value"]["key"] == 6039


def test_the_json_of_a_key_nobody_measured_has_empty_places():
    accepted = KeyDecision("C1", None, "Juniper", "no time")
    empty = replace(EVENT, samples=(), containers=(), key_decisions=(accepted,))

    told: dict[str, Any] = key_as_json(key_of(empty))

    assert (told["key"], told["assigned_value"], told["decision"]["value"]) == (None, None, None)


def test_the_target_mass_is_not_for_the_lead_to_decide():
    item = Item("M1", Station.MASS, "scoop")
    decision = KeyDecision("M1", Decimal(90), "Juniper", "small cups")

    key = key_of(replace(EVENT, items=(item,), key_decisions=(decision,)), "M1")

    assert key.key == 100
    assert "change it there" in problem_words(key)


def test_an_instrument_nobody_described_is_named():
    problem = problem_words(key_of(replace(EVENT, instruments=())))

    assert SCALE in problem
    assert "event.toml" in problem


def test_the_material_adds_what_is_known_of_it():
    jar = replace(JAR, material="rice")
    damp = (Material("rice", "rice", moisture_u=Decimal("0.02")),)

    key = key_of(replace(EVENT, items=(jar,), materials=damp))

    # moisture alone: 2 % of 6039 pieces
    assert key.u > 0.02 * 6039 > key_of(EVENT).u
    assert not key.fit


def test_two_scales_for_one_quantity_are_refused():
    scales = (*EVENT.instruments, Instrument("kitchen scale", "g", 1.0))
    mixed = (*EVENT.samples[:3], replace(EVENT.samples[3], instrument="kitchen scale"))

    problem = problem_words(key_of(replace(EVENT, instruments=scales, samples=mixed)))

    assert "bench scale, kitchen scale" in problem


def test_the_lead_may_use_an_unfit_key_and_it_stays_unfit():
    few = replace(EVENT, samples=EVENT.samples[:3])
    decided = replace(few, key_decisions=(KeyDecision("C1", None, "Juniper", "no time"),))

    assert not key_of(few).fit
    assert (key_of(decided).key, key_of(decided).fit) == (key_of(few).key, False)


def test_the_lead_may_set_another_value():
    decided = replace(
        EVENT, key_decisions=(KeyDecision("C1", Decimal(6000), "Juniper", "recounted"),)
    )

    key = key_of(decided)

    assert key.key == 6000
    assert key.assigned is not None
    assert key.assigned.key == 6039
    assert not key.fit
    # The uncertainty of the readings belongs to 6039, not to the word of a person.
    assert (key.u, key.dof, key.causes) == (0, math.inf, ())
    assert key.is_only_decided
    assert whose_word(key) == "Juniper's word: the readings give 6039"


def test_a_decided_value_that_the_readings_give_is_borne_by_them():
    decided = replace(
        EVENT, key_decisions=(KeyDecision("C1", Decimal(6039), "Juniper", "as weighed"),)
    )

    key = key_of(decided)

    assert (key.u, whose_word(key)) == (key.assigned.u, "")
    assert not key.is_only_decided


def test_a_target_mass_is_exact():
    item = Item("M1", Station.MASS, "scoop")

    key = key_of(replace(EVENT, items=(item,), rules=RuleSet(target_mass_g=Fraction(50))), "M1")

    assert (key.key, key.u, key.fit) == (50, 0.0, True)


def test_a_box_needs_all_three_sides():
    box = Item("B1", Station.VOLUME, "tea box")
    readings = [
        BoxReading("B1", side, Decimal(cm), RULER)
        for side, cm in ((Side.LENGTH, "12.4"), (Side.WIDTH, "8.0"), (Side.HEIGHT, "6.5"))
    ]
    event = replace(EVENT, items=(box,), box_readings=tuple(readings))

    assert key_of(event, "B1").key == 645  # 12.4 * 8.0 * 6.5 = 644.8
    assert "height" in problem_words(key_of(replace(event, box_readings=tuple(readings[:2])), "B1"))


def test_a_box_the_ruler_can_never_bring_under_the_limit_is_told_so_at_its_first_reading():
    tin = Item("B1", Station.VOLUME, "tin")
    first = BoxReading("B1", Side.LENGTH, Decimal("5.8"), "steel ruler")

    key = key_of(replace(EVENT, items=(tin,), box_readings=(first,)), "B1")

    assert key.outlook is not None
    told = outlook_words(key.outlook)
    assert told.startswith("If the other edges are about as long, readings of steel ruler that ")
    assert "read to half marks (0.05 cm)" in told
    assert told in problem_words(key)


def test_a_larger_limit_of_the_station_leaves_nothing_to_tell():
    tin = Item("B1", Station.VOLUME, "tin")
    first = BoxReading("B1", Side.LENGTH, Decimal("5.8"), "steel ruler")
    stations = default_stations() | {Station.VOLUME: StationRule(u_limit=0.02)}
    day = replace(EVENT, items=(tin,), box_readings=(first,), rules=RuleSet(stations=stations))

    assert key_of(day, "B1").outlook is None


def test_one_persons_count_is_not_fit_and_two_of_one_person_are_one():
    once = (HandCount("C1", 241, "Rowan"),)
    again = (*once, HandCount("C1", 241, "Rowan"))
    second = (*once, HandCount("C1", 241, "Sorrel"))

    def fit(counts):
        return key_of(replace(EVENT, samples=(), containers=(), hand_counts=counts)).fit

    assert [fit(once), fit(again), fit(second)] == [False, False, True]


def test_two_counts_by_hand_that_agree_with_the_weighing_settle_the_key():
    cubes = replace(
        EVENT,
        samples=tuple(CountedSample("C1", 40, Decimal("40.0"), SCALE) for _ in range(3)),
        containers=(ContainerWeighing("C1", Decimal("442.0"), Decimal("100.0"), SCALE),),
    )
    both = tuple(HandCount("C1", 342, who) for who in ("Rowan", "Sorrel"))

    assert not key_of(cubes).fit
    settled = key_of(replace(cubes, hand_counts=both))
    assert (settled.fit, settled.key, settled.problems) == (True, 342, ())
    assert settled.assigned.method == "count by hand, checked by weighing"


def test_a_count_by_hand_that_contradicts_the_weighing_is_a_problem():
    both = tuple(HandCount("C1", 5900, who) for who in ("Rowan", "Sorrel"))
    key = key_of(replace(EVENT, hand_counts=both))

    assert (key.fit, key.key) == (False, 6039)
    assert "the weighed count and the count by hand: They do not agree" in problem_words(key)
