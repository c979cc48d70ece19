"""Laws of uncertainty that hold for any numbers."""

import math
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.coverage import coverage_factor, welch_satterthwaite
from nearmark.measurement.monte_carlo import propagate_distributions
from nearmark.measurement.robust import robust_mean
from nearmark.measurement.rounding import decimals_for, round_to, two_digits
from nearmark.measurement.type_a import type_a
from tests.draws import normal

readings = st.lists(st.integers(1, 10**6), min_size=2, max_size=20)
uncertainties = st.floats(1e-6, 1e6)
scales = st.integers(1, 1000)
PARTS = 1e-9
"""Room for rounding in a handful of operations on doubles, relative."""


@given(readings, scales)
def test_another_unit_scales_mean_and_uncertainty(values, scale):
    plain, scaled = type_a(values), type_a([v * scale for v in values])

    assert scaled.mean == pytest.approx(plain.mean * scale, rel=PARTS)
    assert scaled.u == pytest.approx(plain.u * scale, rel=PARTS)


@given(readings, st.integers(-(10**6), 10**6))
def test_a_constant_added_changes_no_scatter(values, shift):
    assert type_a([v + shift for v in values]).u == pytest.approx(type_a(values).u, rel=PARTS)


@given(st.lists(st.tuples(uncertainties, st.floats(1, 1000)), min_size=1, max_size=8))
def test_effective_degrees_lie_between_the_least_and_the_sum(parts):
    dof = welch_satterthwaite(parts)

    assert min(d for _, d in parts) * (1 - PARTS) <= dof <= sum(d for _, d in parts) * (1 + PARTS)


@pytest.mark.slow
@given(st.floats(1, 1e6), st.floats(0.5, 0.999))
def test_fewer_degrees_of_freedom_never_cover_with_less(dof, level):
    assert coverage_factor(dof, level) >= coverage_factor(dof * 2, level)
    assert coverage_factor(dof, level) >= coverage_factor(math.inf, level)


@given(st.lists(uncertainties, min_size=1, max_size=6))
def test_one_more_influence_never_lowers_the_uncertainty(us):
    rows = [Component(f"x{i}", 0, "g", u) for i, u in enumerate(us)]
    less, more = Budget("y", 1, "g", tuple(rows[:-1])), Budget("y", 1, "g", tuple(rows))

    assert more.standard_uncertainty >= less.standard_uncertainty


@given(uncertainties)
def test_two_digits_are_two_digits(u):
    shown = two_digits(u)

    assert float(shown) == pytest.approx(u, rel=0.051)
    assert len(shown.replace(".", "").strip("0") or "0") <= 2 or decimals_for(u) < 0


@given(
    st.lists(st.integers(-(10**4), 10**4), min_size=3, max_size=30), scales, st.integers(-99, 99)
)
def test_the_robust_mean_follows_unit_and_zero_point(values, scale, shift):
    plain = robust_mean(values)
    moved = robust_mean([scale * v + shift for v in values])

    close = {"rel": 1e-6, "abs": 1e-6 * scale * (max(values) - min(values) + 1)}
    assert moved.mean == pytest.approx(scale * plain.mean + shift, **close)
    assert moved.standard_deviation == pytest.approx(scale * plain.standard_deviation, **close)


@given(st.lists(st.integers(-100, 100), min_size=5, max_size=30), st.integers(10**4, 10**9))
def test_how_wild_a_wild_value_is_hardly_matters(values, wild):
    # Its pull ends at 1.5 s: ten times as wild pulls no further.
    once, tenfold = robust_mean([*values, wild]), robust_mean([*values, 10 * wild])

    if once.standard_deviation < 100:
        assert tenfold.mean == pytest.approx(once.mean, rel=1e-6, abs=1e-6)


signed = st.tuples(
    uncertainties,
    st.sampled_from([-3.0, -0.5, 0.0, 1.0, 2.0]),
    st.sampled_from(["", "gain", "zero"]),
)


@pytest.mark.slow
@given(st.lists(signed, min_size=1, max_size=6))
def test_causes_add_with_their_signs_and_the_rest_in_squares(rows):
    budget = Budget("y", 1, "g", tuple(Component("x", 0, "g", u, c, cause=k) for u, c, k in rows))

    variance = sum((u * c) ** 2 for u, c, k in rows if not k)
    variance += sum(sum(u * c for u, c, k in rows if k == cause) ** 2 for cause in ("gain", "zero"))
    largest = max(u * abs(c) for u, c, _ in rows)
    assert budget.standard_uncertainty == pytest.approx(
        math.sqrt(variance), rel=1e-9, abs=1e-7 * largest
    )


@given(st.lists(st.tuples(uncertainties, st.floats(1, 50)), min_size=2, max_size=6))
def test_a_shared_estimate_never_has_more_degrees_of_freedom_than_separate_ones(parts):
    shared = [
        Component(f"x{i}", 0, "g", u, dof=dof, estimate="s") for i, (u, dof) in enumerate(parts)
    ]
    apart = [replace(row, estimate="") for row in shared]
    together = Budget("y", 1, "g", tuple(shared))

    assert together.dof == pytest.approx(min(dof for _, dof in parts))
    assert together.dof <= Budget("y", 1, "g", tuple(apart)).dof * (1 + PARTS)


@settings(max_examples=20)
@given(st.integers(0, 10**6), st.floats(0.5, 0.99))
def test_the_shortest_interval_is_not_longer_than_the_symmetric_one(seed, level):
    drawn = propagate_distributions(
        lambda x: np.exp(x["x"]),
        {"x": normal(0, 0.5)},
        np.random.default_rng(seed),
        level=level,
        most_draws=20_000,
    )

    low, high = drawn.interval
    shortest_low, shortest_high = drawn.shortest
    # The symmetric ends are interpolated between draws: a spacing of draws of room.
    assert shortest_high - shortest_low <= (high - low) * 1.001
    assert shortest_low <= low
    assert shortest_high <= high


@given(st.lists(st.floats(-100, 100), min_size=2, max_size=25))
def test_the_robust_mean_mirrors_and_stays_among_the_values(values):
    plain, mirrored = robust_mean(values), robust_mean([-x for x in values])

    width = max(values) - min(values)
    assert mirrored.mean == pytest.approx(-plain.mean, abs=1e-6 * width)
    assert min(values) - PARTS * width <= plain.mean <= max(values) + PARTS * width


@given(st.floats(-1e15, 1e15, allow_nan=False), st.integers(-12, 12))
def test_rounding_moves_by_half_a_step_at_most(value, decimals):
    shown = round_to(value, decimals)

    assert abs(Fraction(shown) - Fraction(repr(value))) <= Fraction(10) ** -decimals / 2
