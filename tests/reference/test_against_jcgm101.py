"""JCGM 101:2008: its examples of propagating distributions, to the digits it prints.

Clauses named beside each; figures from memory of the printed supplement, not opened here.
"""

import math

import numpy as np
import pytest

from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.distributions import normal, rectangular
from nearmark.measurement.monte_carlo import propagate_distributions

SEED = 101
ROOT3 = math.sqrt(3)


def added(inputs, digits=3):
    return propagate_distributions(
        lambda x: sum(x.values()), inputs, np.random.default_rng(SEED), digits=digits
    )


def test_four_normal_inputs_of_clause_9_2_2():
    drawn = added({f"x{i}": normal(0, 1) for i in range(4)})

    assert drawn.settled
    assert drawn.u == pytest.approx(2.00, abs=0.01)
    assert drawn.interval == pytest.approx((-3.92, 3.92), abs=0.015)


def test_four_rectangular_inputs_of_clause_9_2_3():
    drawn = added({f"x{i}": rectangular(-ROOT3, ROOT3) for i in range(4)})

    assert drawn.u == pytest.approx(2.00, abs=0.01)
    assert drawn.interval == pytest.approx((-3.88, 3.88), abs=0.015)


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
    # Clause 9.4, table 6 (uncorrelated), in 1e-6: printed 50, 50, [0, 150]; 150, 112, [0, 367];
    # 2550, 502, [1590, 3543].
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
