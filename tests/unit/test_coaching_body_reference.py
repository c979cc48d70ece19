"""Body references, plans of a length and bags at their edges."""

from datetime import date

import pytest

from nearmark.coaching.body_reference import BodyReference, calibrated, remeasure_by
from nearmark.coaching.measure_plan import best_set, measure_plan, measuring_routine, plans
from nearmark.coaching.take_home import rotation, take_home_bag
from nearmark.errors import InputError, TooFewReadings
from nearmark.kit import material, materials
from nearmark.measurement.instruments import Instrument
from nearmark.words.measuring import plan_words

RULER = Instrument("ruler", "cm", 0.1)
PALM = BodyReference("palm", 7.0, 0.06, 0.10)


def test_one_reading_has_the_usual_scatter():
    found = calibrated("palm", [7.0], RULER)

    assert found.repeat_cm == pytest.approx(0.015 * 7)
    assert found.u_cm == pytest.approx((0.105**2 + 0.1**2 / 12) ** 0.5)


def test_many_readings_speak_for_themselves():
    found = calibrated("palm", [6.8, 7.2] * 100, RULER)

    assert found.repeat_cm == pytest.approx(0.2, rel=0.02)


def test_no_reading_is_too_few():
    with pytest.raises(TooFewReadings, match="palm"):
        calibrated("palm", [], RULER)


@pytest.mark.parametrize("reading", [0, -7, float("nan"), 700])
def test_an_impossible_reading_is_refused(reading):
    with pytest.raises(InputError, match="reading of palm"):
        calibrated("palm", [7.0, reading], RULER)


@pytest.mark.parametrize(("growth", "days"), [(0.02, 61), (0.035, 35), (0.05, 25)])
def test_hands_that_grow_faster_are_measured_sooner(growth, days):
    # T = 365.25 * 0.01 / (3 g) = 60.9, 34.8, 24.4 days: model notes 2.0, 1.14, 0.8 months.
    assert (remeasure_by(date(2027, 2, 3), growth_per_year=growth) - date(2027, 2, 3)).days == days


def test_no_growth_is_refused():
    with pytest.raises(InputError, match="growth per year"):
        remeasure_by(date(2027, 2, 3), growth_per_year=0)


def test_a_whole_number_of_placements_leaves_no_trace():
    # 0.1 + 0.2 in floats: 15.2 + 4.8 must leave nothing by eye.
    plan = plans(
        20.0, [BodyReference("hand", 15.2, 0.08, 0.15), BodyReference("pinky", 4.8, 0.04, 0.06)]
    )[0]

    assert plan_words(plan) == "1 x hand, then 1 x pinky (within about 1.0 %)."


THUMB = BodyReference("thumb", 2.0, 0.03, 0.05)


@pytest.mark.parametrize(
    ("length", "words"),
    [
        # 7.1 cm palm, 2 cm thumb; a coach's cases: 3 thumbs, 2 palms and 2 thumbs (18.2).
        (6.0, "3 x thumb"),
        (18.0, "2 x palm, then 2 x thumb"),
        (15.2, "2 x palm, then half a thumb"),
        (13.6, "2 x palm, less a third of a thumb"),
    ],
)
def test_a_plan_is_in_thirds_and_halves(length, words):
    palm = BodyReference("palm", 7.1, 0.06, 0.1)

    assert plan_words(measure_plan(length, [palm, THUMB])).startswith(f"{words} (within about ")


def test_the_routine_needs_two_references_that_reach():
    assert measuring_routine([PALM]) is None
    found = measuring_routine([THUMB, PALM])
    assert found is not None
    assert (found.longer, found.shorter) == (PALM, THUMB)


def test_a_length_out_of_reach_asks_for_a_longer_reference():
    with pytest.raises(InputError, match="Add a longer reference"):
        measure_plan(60, [PALM])


def test_a_set_that_cannot_reach_is_refused():
    with pytest.raises(InputError, match="no set reaches"):
        best_set([BodyReference("joint", 2.4, 0.03, 0.04)], 1)


@pytest.mark.parametrize("n", [0, 2])
def test_no_more_references_than_there_are(n):
    with pytest.raises(InputError, match="references to teach"):
        best_set([PALM], n)


def test_no_reference_makes_no_plan():
    with pytest.raises(InputError, match="references"):
        plans(10, [])


def test_a_bag_of_every_material_is_the_nearest_to_100_g_and_no_surer_than_a_piece():
    bags = [(each, take_home_bag(each)) for each in materials()]

    assert [m.code for m, b in bags if b.pieces != round(100 / m.piece_mass_g)] == []
    assert [m.code for m, b in bags if b.relative_expanded_u < 2 * m.piece_mass.relative_u] == []


def test_a_bag_of_every_material_carries_its_cautions():
    bags = [take_home_bag(each) for each in materials()]

    assert [b.label for b in bags if not b.cautions or not set(b.cautions) <= set(b.label)] == []


def test_your_own_piece_mass_is_surer():
    own = take_home_bag(material("chickpea"), piece_mass_g=0.41)

    assert own.relative_expanded_u < take_home_bag(material("chickpea")).relative_expanded_u / 3


def test_a_bag_of_less_than_a_piece_is_refused():
    with pytest.raises(InputError, match="less than one piece"):
        take_home_bag(material("chickpea"), mass_g=0.1)


def test_nobody_has_a_bag_twice_before_having_had_all():
    plan = rotation(["Ada", "Bo", "Cleo", "Dov"], ["rice", "chickpea", "popcorn"], 6)

    for pupil in ("Ada", "Bo", "Cleo", "Dov"):
        own = [session[pupil] for session in plan]
        assert len(set(own[:3])) == len(set(own[3:])) == 3
    for session in plan:
        counts = [list(session.values()).count(code) for code in set(session.values())]
        assert max(counts) - min(counts) <= 1


@pytest.mark.parametrize(
    ("pupils", "codes", "n"),
    [(["A", "A"], ["rice"], 1), (["A"], [], 1), (["A"], ["r", "r"], 1), (["A"], ["r"], 0)],
)
def test_an_impossible_rotation_is_refused(pupils, codes, n):
    with pytest.raises(InputError):
        rotation(pupils, codes, n)
