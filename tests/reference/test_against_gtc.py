"""GTC and ``uncertainties`` propagate, correlate and count degrees of freedom as we do.

GTC is the GUM Tree Calculator of the Measurement Standards Laboratory of New Zealand.  Both
packages differentiate the model themselves; ours takes differences.
"""

import math

import GTC
import numpy as np
import pytest
from GTC import reporting
from uncertainties import correlated_values, covariance_matrix, ufloat, umath

from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.covariance import covariance_matrix as our_covariance
from nearmark.measurement.coverage import coverage_factor
from nearmark.measurement.propagation import propagate
from nearmark.measurement.type_a import type_a

NUMERIC = 1e-7
"""Relative; differences over a hundredth of u against exact derivatives."""

ROUNDED = 1e-12
"""Relative; the same sums in another order."""

# JCGM 100, table H.2 (read in GTC's manual): volts, milliamperes, radians.
SETS = (
    (5.007, 4.994, 5.005, 4.990, 4.999),
    (19.663, 19.639, 19.640, 19.685, 19.678),
    (1.0456, 1.0438, 1.0468, 1.0428, 1.0433),
)


@pytest.mark.parametrize("readings", SETS)
def test_gtc_agrees_on_repeated_readings(readings):
    theirs, ours = GTC.type_a.estimate(readings), type_a(readings)

    assert ours.mean == pytest.approx(GTC.value(theirs), rel=ROUNDED)
    assert ours.u == pytest.approx(GTC.uncertainty(theirs), rel=1e-10)
    assert ours.dof == GTC.dof(theirs)


def test_gtc_agrees_on_three_results_of_three_correlated_inputs():
    volts, milliamps, phase = GTC.type_a.multi_estimate_real(SETS)
    z = volts / milliamps
    theirs = [z * GTC.cos(phase), z * GTC.sin(phase), z]

    evaluated = [type_a(readings) for readings in SETS]
    r = np.corrcoef(SETS)
    ours = propagate(
        lambda x: x[0] / x[1] * np.array([np.cos(x[2]), np.sin(x[2]), 1.0]),
        [e.mean for e in evaluated],
        our_covariance(
            [e.u for e in evaluated], [(i, j, r[i, j]) for i, j in ((0, 1), (0, 2), (1, 2))]
        ),
    )

    assert ours.values == pytest.approx([GTC.value(y) for y in theirs], rel=ROUNDED)
    u = [GTC.uncertainty(y) for y in theirs]
    assert ours.standard_uncertainties == pytest.approx(u, rel=NUMERIC)
    correlations = [[GTC.get_correlation(a, b) for b in theirs] for a in theirs]
    assert ours.correlations == pytest.approx(np.array(correlations), rel=NUMERIC)


def test_gtc_agrees_that_sets_read_together_share_their_degrees_of_freedom():
    # Willink 2007: five sets of three readings have four degrees of freedom, not twelve.
    volts, milliamps, phase = GTC.type_a.multi_estimate_real(SETS)
    theirs = volts / milliamps * GTC.cos(phase)

    v, i, p = (type_a(readings) for readings in SETS)
    slopes = (
        math.cos(p.mean) / i.mean,
        -v.mean * math.cos(p.mean) / i.mean**2,
        -v.mean * math.sin(p.mean) / i.mean,
    )
    rows = [
        Component(name, e.mean, "1", e.u, slope, "t", e.dof, estimate="five sets")
        for name, e, slope in zip(("V", "I", "phi"), (v, i, p), slopes, strict=True)
    ]
    r = np.corrcoef(SETS)
    correlations = {("V", "I"): r[0, 1], ("V", "phi"): r[0, 2], ("I", "phi"): r[1, 2]}
    ours = Budget("resistance", GTC.value(theirs), "kohm", tuple(rows), correlations)

    assert ours.standard_uncertainty == pytest.approx(GTC.uncertainty(theirs), rel=1e-9)
    assert ours.dof == GTC.dof(theirs) == 4


@pytest.mark.parametrize("dofs", [(2, 4, 7), (1, math.inf, 3.5), (math.inf, 9, math.inf)])
def test_gtc_agrees_on_effective_degrees_of_freedom(dofs):
    us, slopes = (0.3, 0.2, 0.05), (1.0, -2.0, 5.0)
    theirs = sum(c * GTC.ureal(1, u, dof) for c, u, dof in zip(slopes, us, dofs, strict=True))

    ours = Budget(
        "sum",
        4,
        "1",
        tuple(
            Component(f"x{n}", 1, "1", u, c, dof=dof)
            for n, (c, u, dof) in enumerate(zip(slopes, us, dofs, strict=True))
        ),
    )

    assert ours.standard_uncertainty == pytest.approx(GTC.uncertainty(theirs), rel=ROUNDED)
    assert ours.dof == pytest.approx(GTC.dof(theirs), rel=ROUNDED)


@pytest.mark.parametrize("level", [0.68, 0.95, 0.99])
@pytest.mark.parametrize("dof", [1, 2.5, 16.7, 400])
def test_gtc_agrees_on_coverage_factors(dof, level):
    # GTC prints its factors to about ten digits.
    assert coverage_factor(dof, level) == pytest.approx(
        reporting.k_factor(dof, 100 * level), rel=1e-6
    )


def test_uncertainties_agrees_on_the_covariance_of_results():
    values = [12.0, 0.35, 5.0]
    given = our_covariance([0.4, 0.02, 0.3], [(0, 1, 0.6), (1, 2, -0.5)])
    a, b, c = correlated_values(values, given.tolist())
    theirs = covariance_matrix([a * umath.exp(-b) / c, umath.sqrt(a) + c**2, a * b])

    ours = propagate(
        lambda x: np.array([x[0] * np.exp(-x[1]) / x[2], np.sqrt(x[0]) + x[2] ** 2, x[0] * x[1]]),
        values,
        given,
    )

    assert ours.covariance == pytest.approx(np.array(theirs), rel=NUMERIC)


def test_uncertainties_agrees_on_the_end_gauge_of_annex_h_1():
    # Nanometres beside parts in a million of a degree: the worst scaled of the guide's examples.
    values = [50_000_623.0, 215.0, 0.0, -0.1, 11.5e-6, 0.0]
    us = [25.0, 9.7, 0.58e-6, 0.41, 1.2e-6, 0.029]
    l_s, d, d_alpha, theta, alpha_s, d_theta = map(ufloat, values, us)
    theirs = l_s + d - l_s * (d_alpha * theta + alpha_s * d_theta)

    ours = propagate(
        lambda x: x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5]), values, np.square(us)
    )

    assert ours.values[0] == pytest.approx(theirs.nominal_value, rel=ROUNDED)
    assert ours.standard_uncertainties[0] == pytest.approx(theirs.std_dev, rel=NUMERIC)
