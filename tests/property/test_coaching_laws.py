"""Laws of coaching that hold for any numbers."""

import math
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.coaching.acts import Act, Step, done, points
from nearmark.coaching.advice import pupil_advice, would_have
from nearmark.coaching.attempt import Attempt, Layers, Sides
from nearmark.coaching.belief import Belief
from nearmark.coaching.body_reference import BodyReference
from nearmark.coaching.deciders import Mode, Pupils, pair_answer
from nearmark.coaching.expected_score import expected_score, mean_score
from nearmark.coaching.lean import best_bias, lean
from nearmark.coaching.measure_plan import plans
from nearmark.coaching.posterior import Habits, posterior
from nearmark.coaching.prediction import chance_below, predictive_band
from nearmark.coaching.slips import Slip, find_slip, is_rounding, rounded
from nearmark.station import Station

biases = st.floats(-2, 2)
scatters = st.floats(0.001, 1.5)
ratios = st.floats(-3, 3)
logs = st.lists(ratios, min_size=1, max_size=9)
# Enumerating slips takes milliseconds, on a busy machine more: fewer examples, no stopwatch.
few = settings(max_examples=40, deadline=None)
PRIOR = Belief(-0.1, 1, 3, 0.08)


@pytest.mark.slow
@given(biases, scatters)
def test_a_score_lies_between_nothing_and_all(bias, scatter):
    found = expected_score(bias, scatter)

    assert -1e-9 <= found.score <= 100
    assert -1e-9 <= found.p_at_least <= 1
    assert found.sd <= 50 + 1e-6  # no law on 0 to 100 spreads more


@few
@given(scatters, st.floats(-0.5, 0.5))
def test_nothing_beats_the_best_bias(scatter, off):
    best = best_bias(scatter)

    assert -(scatter**2) - 1e-12 <= best <= 0
    assert mean_score(best, scatter) >= mean_score(best + off, scatter) - 1e-9


@few
@given(scatters, biases)
def test_a_lean_never_goes_up_and_never_costs(scatter, bias):
    found = lean(scatter, bias=bias)

    assert found.shift <= 0
    assert found.gain >= -1e-9


@few
@given(logs, st.randoms())
def test_within_a_session_the_order_does_not_matter(log, random):
    shuffled = log.copy()
    random.shuffle(shuffled)
    one, other = posterior([log], PRIOR), posterior([shuffled], PRIOR)

    assert one.bias == pytest.approx(other.bias, abs=1e-9)
    assert sorted(one.p_blunder) == pytest.approx(sorted(other.p_blunder), abs=1e-9)


@few
@given(st.lists(logs, min_size=1, max_size=5))
def test_a_posterior_is_a_law(sessions):
    found = posterior(sessions, PRIOR)

    assert found.weight.sum() == pytest.approx(1)
    assert all(-1e-12 <= p <= 1 + 1e-12 for p in found.p_blunder)
    assert found.n == sum(map(len, sessions))
    assert found.bias_sd > 0
    assert found.variance > 0


@few
@given(logs, st.floats(-2, 2))
def test_shifting_every_attempt_and_the_prior_shifts_the_bias(log, by):
    moved = posterior([[x + by for x in log]], Belief(PRIOR.mean + by, 1, 3, 0.08))

    assert moved.bias == pytest.approx(posterior([log], PRIOR).bias + by, abs=1e-8)


@few
@given(logs)
def test_without_slips_and_fading_it_is_the_conjugate_update(log):
    found = posterior([[x] for x in log], PRIOR, habits=Habits(0, 0.75, 1, 1))
    after = PRIOR.updated(log)

    assert found.bias == pytest.approx(after.mean, abs=1e-9)
    assert found.bias_sd == pytest.approx(after.bias_sd)


@few
@given(logs, st.floats(0.1, 0.95))
def test_a_band_holds_what_it_says(log, level):
    found = posterior([log], PRIOR)
    low, high = predictive_band(found, level=level, share=0.05)

    held = chance_below(found, high, share=0.05) - chance_below(found, low, share=0.05)
    assert held == pytest.approx(level, abs=1e-6)


@given(scatters, scatters, st.floats(-0.9, 0.9), st.sampled_from(Mode))
def test_no_way_of_deciding_scatters_more_than_the_wilder_pupil(first, second, rho, mode):
    _, scatter = pair_answer(mode, Pupils((0, 0), (first, second)), rho)

    assert scatter <= max(first, second) + 1e-9


@given(st.tuples(*[st.integers(6, 120)] * 3))
def test_an_exact_product_is_never_a_slip(halves):
    sides = Sides(*(half / 2 for half in halves))
    product = math.prod(sides.cm)

    assert find_slip(product, sides).slip is Slip.NONE
    assert find_slip(10 * product, sides).slip is not Slip.NONE


@few
@given(st.floats(2, 60), st.lists(st.floats(1, 25), min_size=1, max_size=5))
def test_plans_come_best_first_and_miss_less_than_a_sixth_of_the_shortest(length, lengths):
    hand = [BodyReference(f"part {i}", cm, 0.01 * cm, 0.015 * cm) for i, cm in enumerate(lengths)]
    found = plans(length, hand)

    assert [plan.sd_cm for plan in found] == sorted(plan.sd_cm for plan in found)
    for plan in found:
        shortest = plan.steps[-1][0].length_cm
        whole = sum(times * each.length_cm for each, times in plan.steps)
        missed = abs(whole + plan.fraction * shortest - length)
        assert missed <= shortest / 6 + 1e-6
        assert missed <= plan.sd_cm + 1e-9
        assert 1 <= plan.n_placements <= 5


parts_of_jars = st.tuples(*[st.integers(2, 90)] * 4)


def jar(estimate, layer, layers, layer_true, layers_true):
    true = max(1, round(0.85 * layer_true * layers_true))
    parts = Layers(layer, layers, layer_true, layers_true)
    return Attempt(
        date(2027, 2, 3), "Ada", Station.COUNT, "jar", estimate or layer * layers, true, parts=parts
    )


@few
@given(st.lists(st.tuples(parts_of_jars, st.integers(0, 9000)), min_size=1, max_size=8))
def test_advice_never_costs_and_stays_within_the_scores(rows):
    log = [jar(estimate, *parts) for parts, estimate in rows]

    for found in pupil_advice(log):
        assert 0 <= found.before < found.after <= 100
        assert found.least <= found.gain
    for each in log:
        found = would_have(each)
        if found is not None:
            assert points(each) + 3 <= found.after <= 100


@few
@given(parts_of_jars, st.sampled_from([Act.LAYER, Act.LAYERS, Act.TRIM]), st.floats(0.3, 3))
def test_a_step_and_its_opposite_leave_an_attempt_as_it_was(parts, act, amount):
    attempt = jar(0, *parts)
    there = done(Step(act, amount), attempt)
    assert there is not None
    back = done(Step(act, 1 / amount), there)

    assert back is not None
    assert back.estimate == pytest.approx(attempt.estimate)
    assert isinstance(back.parts, Layers)
    assert back.parts.product == pytest.approx(parts[0] * parts[1])


@given(st.floats(1, 1e6), st.integers(1, 4))
def test_a_rounded_number_is_its_own_rounding(value, n_figures):
    found = rounded(value, n_figures)

    assert abs(found / value - 1) <= 0.5 * 10.0 ** (1 - n_figures) + 1e-9
    assert is_rounding(found, value)
