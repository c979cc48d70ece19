"""JCGM 100:2008 (GUM): its worked examples, to the digits it prints.

Data and printed results of H.1 and H.2 were read in the manual of GTC (Measurement Standards
Laboratory of New Zealand: pages GUM_H1, GUM_H2), the five sets of H.2 also in the test data
of Sandia's uncertainty calculator.  The other clauses are from memory of the printed guide.
"""

import math

import numpy as np
import pytest

from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.coverage import coverage_factor, welch_satterthwaite
from nearmark.measurement.monte_carlo import propagate_distributions
from nearmark.measurement.type_a import type_a
from nearmark.measurement.type_b import from_expanded, rectangular
from tests.draws import normal
from tests.draws import rectangular as rectangular_draws

# Clause 4.4.3, table 1: twenty temperatures in degrees Celsius.
TEMPERATURES = [
    *(96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07),
    *(100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72),
]


def test_twenty_temperatures_of_clause_4_4_3():
    result = type_a(TEMPERATURES)

    # Printed: t = 100.145 (rounded 100.14), s = 1.489 (1.49), s/sqrt(20) = 0.333 (0.33).
    assert result.mean == pytest.approx(100.145, abs=5e-4)
    assert result.standard_deviation == pytest.approx(1.489, abs=5e-4)
    assert result.u == pytest.approx(0.333, abs=5e-4)
    assert result.dof == 19


def test_type_b_evaluations_of_clauses_4_3_and_4_4():
    # 4.3.4: U = 240 ug at three standard deviations gives 80 ug.
    assert from_expanded(240, 3) == pytest.approx(80)
    # 4.4.5: +-4 degrees, rectangular, gives 2.3.
    assert rectangular(4) == pytest.approx(2.3, abs=0.05)


# Annex G, table G.2: Student's t for 95 % and 99 %.
@pytest.mark.parametrize(
    ("dof", "level", "printed"),
    [
        (1, 0.95, 12.71),
        (2, 0.95, 4.30),
        (3, 0.95, 3.18),
        (4, 0.95, 2.78),
        (7, 0.95, 2.36),
        (10, 0.95, 2.23),
        (16, 0.95, 2.12),
        (50, 0.95, 2.01),
        (math.inf, 0.95, 1.960),
        (1, 0.99, 63.66),
        (2, 0.99, 9.92),
        (16, 0.99, 2.92),
        (math.inf, 0.99, 2.576),
    ],
)
def test_table_g_2(dof, level, printed):
    half_a_digit = 0.5 * 10.0 ** -len(str(printed).split(".")[1])

    assert coverage_factor(dof, level) == pytest.approx(printed, abs=half_a_digit * 1.01)


def test_welch_satterthwaite_of_clause_g_4_1():
    # y = x1 x2 x3, relative u 0.25 %, 0.57 %, 0.82 %, n = 10, 5, 15: dof_eff 19.0, 1.03 %.
    parts = [(0.25, 9), (0.57, 4), (0.82, 14)]

    assert welch_satterthwaite(parts) == pytest.approx(19.0, abs=0.05)
    assert math.hypot(0.25, 0.57, 0.82) == pytest.approx(1.03, abs=0.005)


def end_gauge() -> Budget:
    """H.1, table H.1, in nm: l = l_s + d - l_s (d_alpha theta + alpha_s d_theta)."""
    l_s, theta, alpha_s = 50_000_623.0, -0.1, 11.5e-6
    return Budget(
        "length of the end gauge",
        l_s + 215.0,
        "nm",
        (
            Component("standard", l_s, "nm", 25.0, 1, "normal", 18),
            Component("repeated observations", 215, "nm", 5.8, 1, "t", 24),
            Component("comparator, random", 0, "nm", 3.9, 1, "t", 5),
            Component("comparator, systematic", 0, "nm", 6.7, 1, "t", 8),
            Component("expansion of the standard", alpha_s, "1/C", 1.2e-6, 0.0, "rectangular"),
            Component("temperature of the bed", theta, "C", 0.41, 0.0, "normal"),
            Component("difference of expansion", 0, "1/C", 0.58e-6, -l_s * theta, "rect.", 50),
            Component("difference of temperature", 0, "C", 0.029, -l_s * alpha_s, "rect.", 2),
        ),
        level=0.99,
    )


def test_end_gauge_of_annex_h_1():
    budget = end_gauge()

    assert budget.value == 50_000_838
    assert budget.standard_uncertainty == pytest.approx(32, abs=0.5)
    # The guide adds rounded contributions (2.9 and 16.6 nm for 2.90 and 16.67) and prints 1002.
    assert budget.variance == pytest.approx(1002, abs=4)
    # The guide joins the three of d first (9.7 nm, dof 25.6), prints 16.7 and uses 16.
    assert budget.dof == pytest.approx(16.7, abs=0.3)
    assert coverage_factor(16, 0.99) * budget.standard_uncertainty == pytest.approx(93, abs=0.6)


def test_second_order_terms_of_clause_h_1_7():
    # The guide adds 11.7 nm and 1.7 nm for the two products of zeros and prints 34 nm; drawing
    # needs no terms added.
    l_s = 50_000_623.0
    inputs = {
        "standard and comparator": normal(l_s + 215.0, math.hypot(25, 5.8, 3.9, 6.7)),
        "alpha_s": rectangular_draws(9.5e-6, 13.5e-6),
        "bed": normal(-0.1, 0.2),
        "cycle": lambda rng, n: 0.5 * np.sin(rng.uniform(0, math.tau, n)),
        "d_alpha": rectangular_draws(-1e-6, 1e-6),
        "d_theta": rectangular_draws(-0.05, 0.05),
    }

    drawn = propagate_distributions(
        lambda x: (
            x["standard and comparator"]
            - l_s * (x["d_alpha"] * (x["bed"] + x["cycle"]) + x["alpha_s"] * x["d_theta"])
        ),
        inputs,
        np.random.default_rng(1),
        most_draws=200_000,
    )

    assert drawn.u == pytest.approx(34, abs=0.5)


# H.2, table H.2: five simultaneous readings of voltage in V, current in mA, phase in rad.
VOLTAGES = (5.007, 4.994, 5.005, 4.990, 4.999)
CURRENTS = (19.663, 19.639, 19.640, 19.685, 19.678)
PHASES = (1.0456, 1.0438, 1.0468, 1.0428, 1.0433)


def impedance(x):
    volts, milliamps, phase = x
    z = volts / (milliamps * 1e-3)
    return np.array([z * np.cos(phase), z * np.sin(phase), z])


def test_resistance_and_reactance_of_annex_h_2():
    # Approach 2 evaluates R, X and Z for each set and takes the plain means (clause H.2.4).
    sets = np.array([impedance(x) for x in zip(VOLTAGES, CURRENTS, PHASES, strict=True)])

    evaluated = [type_a(column.tolist()) for column in sets.T]

    assert [e.mean for e in evaluated] == pytest.approx([127.732, 219.847, 254.260], abs=6e-4)
    assert [e.u for e in evaluated] == pytest.approx([0.071, 0.295, 0.236], abs=6e-4)
