"""JCGM 101:2008: its examples of propagating distributions, to the digits it prints.

Clauses named beside each.  Models and printed figures are from memory (only the front matter of the
supplement could be opened); the draws reproduce each within the tolerance beside it.
"""

import math

import numpy as np
import pytest

from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.monte_carlo import propagate_distributions
from tests.draws import normal, rectangular, student_t

SEED = 101
ROOT3 = math.sqrt(3)


MILLION = 1_000_000
"""Draws, as in the tables of the supplement; the ends of a normal interval then move by 0.003 u."""


def total(x):
    return sum(x.values())


def added(inputs):
    return propagate_distributions(
        total, inputs, np.random.default_rng(SEED), digits=4, most_draws=MILLION
    )


def test_four_normal_inputs_of_clause_9_2_2():
    drawn = added({f"x{i}": normal(0, 1) for i in range(4)})

    assert drawn.n_draws == MILLION
    assert drawn.u == pytest.approx(2.00, abs=0.01)
    assert drawn.interval == pytest.approx((-3.92, 3.92), abs=0.02)


def test_four_rectangular_inputs_of_clause_9_2_3():
    drawn = added({f"x{i}": rectangular(-ROOT3, ROOT3) for i in range(4)})

    assert drawn.u == pytest.approx(2.00, abs=0.01)
    assert drawn.interval == pytest.approx((-3.88, 3.88), abs=0.02)


def test_one_wide_rectangular_input_of_clause_9_2_4():
    widths = (ROOT3, ROOT3, ROOT3, 10 * ROOT3)
    drawn = added({f"x{i}": rectangular(-w, w) for i, w in enumerate(widths)})
    budget = Budget(
        "sum", 0, "1", tuple(Component(f"x{i}", 0, "1", w / ROOT3) for i, w in enumerate(widths))
    )

    assert drawn.u == pytest.approx(10.15, abs=0.05)
    assert drawn.interval == pytest.approx((-17.0, 17.0), abs=0.05)
    # The law of propagation alone gives the too wide +-19.9.
    assert budget.expanded_uncertainty == pytest.approx(19.9, abs=0.05)


def mass_difference(x):
    """Clause 9.3.1, in mg: conventional mass of a weight less the nominal 100 g."""
    buoyancy = (x["air"] - 1.2) * (1 / x["weight"] - 1 / x["reference"])
    return (x["reference mass"] + x["difference"]) * (1 + buoyancy) - 100_000


def test_mass_calibration_of_clause_9_3():
    inputs = {
        "reference mass": normal(100_000.000, 0.050),
        "difference": normal(1.234, 0.020),
        "air": rectangular(1.10, 1.30),
        "weight": rectangular(7e3, 9e3),
        "reference": rectangular(7.95e3, 8.05e3),
    }

    drawn = propagate_distributions(
        mass_difference, inputs, np.random.default_rng(SEED), digits=2, most_draws=1_000_000
    )

    # Printed: 1.2341 mg, 0.0754 mg, shortest 95 % interval [1.0834, 1.3825] mg.
    assert drawn.value == pytest.approx(1.2341, abs=0.0005)
    assert drawn.u == pytest.approx(0.0754, abs=0.0003)
    assert drawn.shortest == pytest.approx((1.0834, 1.3825), abs=0.004)
    # The law of propagation to first order sees only the two masses: 0.0539 mg.
    assert math.hypot(0.050, 0.020) == pytest.approx(0.0539, abs=5e-5)


@pytest.mark.parametrize(
    ("x1", "value", "u", "shortest"),
    # Clause 9.4.2.2.7, table 8 (uncorrelated), in 1e-6: printed 50, 50, [0, 150];
    # 150, 112, [0, 367]; 2550, 502, [1590, 3543].
    [(0.0, 50, 50, (0, 150)), (0.010, 150, 112, (0, 367)), (0.050, 2550, 502, (1590, 3543))],
)
def test_comparison_loss_of_clause_9_4(x1, value, u, shortest):
    drawn = propagate_distributions(
        lambda x: x["real"] ** 2 + x["imaginary"] ** 2,
        {"real": normal(x1, 0.005), "imaginary": normal(0, 0.005)},
        np.random.default_rng(SEED),
        digits=3,
        most_draws=1_000_000,
    )

    assert 1e6 * drawn.value == pytest.approx(value, abs=0.01 * u)
    assert 1e6 * drawn.u == pytest.approx(u, rel=0.01)
    assert [1e6 * end for end in drawn.shortest] == pytest.approx(shortest, abs=0.03 * u)


def test_the_adaptive_procedure_draws_about_as_often_as_printed_for_clause_9_2_2():
    # Table 2 prints 1.23e6 draws at a tolerance of 0.01 for u = 2.0 (a fifth of half a unit of
    # two digits).  Three digits of u = 1.02 ask for 0.005: the same in units of u.
    drawn = propagate_distributions(
        total,
        {f"x{i}": normal(0, 0.51) for i in range(4)},
        np.random.default_rng(SEED),
        digits=3,
    )

    assert drawn.settled
    # It stops by chance where the scatter of some hundred blocks says so: within a quarter.
    assert drawn.n_draws == pytest.approx(1.23e6, rel=0.25)


@pytest.mark.parametrize("x1", [0.0, 0.010, 0.050])
def test_comparison_loss_of_correlated_inputs_of_clause_9_4_3(x1):
    # Clause 9.4.3.1.1 gives the moments of x1^2 + x2^2 exactly; r = 0.9, u = 0.005 each.
    u, r = 0.005, 0.9

    drawn = propagate_distributions(
        lambda x: x["real"] ** 2 + (r * (x["real"] - x1) + math.sqrt(1 - r**2) * x["rest"]) ** 2,
        {"real": normal(x1, u), "rest": normal(0, u)},
        np.random.default_rng(SEED),
        digits=4,
        most_draws=MILLION,
    )

    assert drawn.value == pytest.approx(x1**2 + 2 * u**2, abs=0.005 * drawn.u)
    assert drawn.u == pytest.approx(math.sqrt(4 * u**2 * x1**2 + 4 * u**4 * (1 + r**2)), rel=0.01)


def curvilinear_trapezoid(middle, half, inexact):
    """Draws of clause 6.4.3: a rectangle whose ends are known to within ``inexact``."""

    def draw(rng, n):
        spread = half + inexact * rng.uniform(-1, 1, n)
        return middle + spread * rng.uniform(-1, 1, n)

    return draw


def test_gauge_block_of_clause_9_5():
    l_s = 50_000_623.0
    inputs = {
        "standard": student_t(l_s, 25, 18),
        "repeated": student_t(215, 6, 24),
        "random": student_t(0, 4, 5),
        "systematic": student_t(0, 7, 8),
        "alpha_s": rectangular(9.5e-6, 13.5e-6),
        "bed": normal(-0.1, 0.2),
        "cycle": lambda rng, n: 0.5 * np.sin(rng.uniform(0, math.tau, n)),
        "d_alpha": curvilinear_trapezoid(0, 1e-6, 0.1e-6),
        "d_theta": curvilinear_trapezoid(0, 0.050, 0.025),
    }

    def length(x):
        theta = x["bed"] + x["cycle"]
        d = x["repeated"] + x["random"] + x["systematic"]
        swelling = x["d_alpha"] * theta + x["alpha_s"] * x["d_theta"]
        return x["standard"] * (1 - swelling) + d - 50_000_000

    drawn = propagate_distributions(
        length, inputs, np.random.default_rng(SEED), level=0.99, digits=3, most_draws=MILLION
    )

    # Printed, table 11: 838 nm, 36 nm, shortest 99 % interval [745, 932] nm.
    assert drawn.value == pytest.approx(838, abs=0.5)
    assert drawn.u == pytest.approx(36, abs=0.5)
    assert drawn.shortest == pytest.approx((745, 932), abs=2)
