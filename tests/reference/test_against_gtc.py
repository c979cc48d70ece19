"""GTC combines uncertainties, correlates and counts degrees of freedom as we do.

GTC is the GUM Tree Calculator of the Measurement Standards Laboratory of New Zealand.
"""

import math

import GTC
import pytest
from GTC import reporting

from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.coverage import coverage_factor
from nearmark.measurement.type_a import type_a

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


def test_gtc_agrees_on_errors_that_two_weighings_share():
    """One gain in gross and tare, one in the samples: it acts on the sum of its slopes."""
    gain = GTC.ureal(1, 0.002, 12)
    gross, tare, sample = GTC.ureal(412.0, 0.3), GTC.ureal(38.0, 0.3), GTC.ureal(61.5, 0.2, 3)
    theirs = 100 * (gain * gross - gain * tare) / sample

    net, mass = 412.0 - 38.0, 61.5
    ours = Budget(
        "pieces",
        100 * net / mass,
        "pieces",
        (
            Component("gross", 412, "g", 0.3, 100 / mass),
            Component("tare", 38, "g", 0.3, -100 / mass),
            Component("sample", mass, "g", 0.2, -100 * net / mass**2, "t", 3),
            Component("gain, gross", 1, "1", 0.002, 100 * 412 / mass, dof=12, cause="gain"),
            Component("gain, tare", 1, "1", 0.002, -100 * 38 / mass, dof=12, cause="gain"),
        ),
    )

    assert ours.value == pytest.approx(GTC.value(theirs), rel=ROUNDED)
    assert ours.standard_uncertainty == pytest.approx(GTC.uncertainty(theirs), rel=ROUNDED)
    assert ours.dof == pytest.approx(GTC.dof(theirs), rel=1e-9)
