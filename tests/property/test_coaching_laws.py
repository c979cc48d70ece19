"""Laws of coaching that hold for any numbers."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.coaching.attempt import Sides
from nearmark.coaching.belief import Belief
from nearmark.coaching.body_reference import BodyReference
from nearmark.coaching.deciders import Mode, Pupils, pair_answer
from nearmark.coaching.expected_score import expected_score, mean_score
from nearmark.coaching.lean import best_bias, lean
from nearmark.coaching.lost_points import split_attempt
from nearmark.coaching.measure_plan import plans
from nearmark.coaching.posterior import Habits, posterior
from nearmark.coaching.prediction import chance_below, predictive_band
from nearmark.coaching.volume_slips import Slip, find_slip

biases = st.floats(-2, 2)
scatters = st.floats(0.001, 1.5)
ratios = st.floats(-3, 3)
logs = st.lists(ratios, min_size=1, max_size=9)
# Enumerating slips takes milliseconds, on a busy machine more: fewer examples, no stopwatch.
few = settings(max_examples=40, deadline=None)
PRIOR = Belief(-0.1, 1, 3, 0.08)


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
@given(st.lists(ratios, min_size=1, max_size=5))
def test_the_shares_add_up_to_the_lost_points(parts):
    lost = min(100, 100 * abs(math.exp(sum(parts)) - 1))

    assert sum(split_attempt(parts)) == pytest.approx(lost, abs=1e-9)


@few
@given(st.lists(ratios, min_size=2, max_size=5), st.randoms())
def test_a_share_does_not_depend_on_the_order_of_the_parts(parts, random):
    order = list(range(len(parts)))
    random.shuffle(order)
    shares = split_attempt(parts)

    assert split_attempt([parts[i] for i in order]) == pytest.approx(
        [shares[i] for i in order], abs=1e-9
    )


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


@given(scatters, scatters, st.floats(-0.9, 0.9), st.floats(0, 1))
def test_the_weighted_average_scatters_least(first, second, rho, share):
    pupils = Pupils((0, 0), (first, second))
    _, best = pair_answer(Mode.WEIGHTED, pupils, rho)
    _, other = pair_answer(Mode.WEIGHTED, pupils, rho, share=share)

    assert best <= other + 1e-9


@given(st.tuples(*[st.integers(6, 120)] * 3))
def test_an_exact_product_is_never_a_slip(halves):
    sides = Sides(*(half / 2 for half in halves))
    product = math.prod(sides.cm)

    assert find_slip(product, sides).slip is Slip.NONE
    assert find_slip(10 * product, sides).slip is not Slip.NONE


@few
@given(st.floats(2, 60), st.lists(st.floats(1, 25), min_size=1, max_size=5))
def test_plans_come_best_first_and_add_up(length, lengths):
    hand = [BodyReference(f"part {i}", cm, 0.01 * cm, 0.015 * cm) for i, cm in enumerate(lengths)]
    found = plans(length, hand)

    assert [p.sd_cm for p in found] == sorted(p.sd_cm for p in found)
    for plan in found:
        laid = sum(each.length_cm * times for each, times in plan.steps)
        last = plan.steps[-1][0].length_cm
        assert np.isclose(laid + plan.fraction * last, length, atol=1e-6)
        assert 0 <= plan.fraction < 1
