"""EA-4/02, example S2: calibration of a weight of nominal value 10 kg.

Model, inputs and budget read in a worked copy of the example (metrodata.de, S02; opened); the
publication's own 29.3 mg and 59 mg, from a pooled scatter rounded to 25 mg, are from memory.
"""

import math

import pytest

from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.rounding import result_text
from nearmark.measurement.type_b import from_expanded, rectangular

REPEATABILITY_MG = {"worked copy": 14.2, "publication": 25 / math.sqrt(3)}
"""Of the mean of three substitution weighings, from a pooled earlier evaluation."""


def weight(repeatability_mg: float) -> Budget:
    """Conventional mass of the weight in g: the standard's, and four corrections."""
    return Budget(
        "conventional mass",
        10_000.005 + 0.020,
        "g",
        (
            Component("standard", 10_000.005, "g", from_expanded(0.045, 2)),
            Component("drift", 0, "g", rectangular(0.015), 1, "rectangular"),
            Component("difference", 0.020, "g", repeatability_mg / 1000),
            Component("eccentricity and magnetism", 0, "g", rectangular(0.010), 1, "rectangular"),
            Component("air buoyancy", 0, "g", rectangular(0.010), 1, "rectangular"),
        ),
        level=0.9545,
    )


def test_every_row_of_the_budget():
    budget = weight(REPEATABILITY_MG["worked copy"])

    # Printed: 22.5, 8.66, 14.2, 5.77, 5.77 mg; shares 59.6, 8.8, 23.7, 3.9, 3.9 %.
    printed_mg = [22.5, 8.66, 14.2, 5.77, 5.77]
    assert [1000 * row.u for row in budget.components] == pytest.approx(printed_mg, abs=0.005)
    shares = [100 * budget.share(row) for row in budget.components]
    assert shares == pytest.approx([59.6, 8.8, 23.7, 3.9, 3.9], abs=0.06)


@pytest.mark.parametrize(
    ("source", "u_mg", "expanded_mg"),
    [("worked copy", 29.146, 58), ("publication", 29.3, 59)],
)
def test_the_mass_with_its_expanded_uncertainty(source, u_mg, expanded_mg):
    budget = weight(REPEATABILITY_MG[source])

    assert budget.value == pytest.approx(10_000.025)
    assert 1000 * budget.standard_uncertainty == pytest.approx(u_mg, abs=0.06)
    assert budget.coverage_factor == pytest.approx(2.00, abs=0.005)
    shown = result_text(budget.value, budget.expanded_uncertainty, "g")
    assert shown == f"10000.025 ± 0.0{expanded_mg} g"
