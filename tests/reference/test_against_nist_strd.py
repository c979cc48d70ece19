"""NIST Statistical Reference Datasets, univariate: certified means and standard deviations.

The accuracy sets are stated by their rule; data and certified values of the observed sets were
read in a public copy of the files (repository montanaflynn/stats, nist_test.go).  Tolerance:
certified to 15 digits, a double carries 16; the hardest set (NumAcc4) loses 8 to its mean.
"""

import pytest

from nearmark.measurement.type_a import type_a


def alternating(middle, low, high):
    """A first value, then 500 pairs of low and high: 1001 in all."""
    return [middle, *[low, high] * 500]


@pytest.mark.parametrize(
    ("name", "values", "mean", "deviation", "tolerance"),
    [
        ("NumAcc1", [10000001, 10000003, 10000002], 10000002, 1, 1e-15),
        ("NumAcc2", alternating(1.2, 1.1, 1.3), 1.2, 0.1, 1e-14),
        ("NumAcc3", alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, 1e-8),
        ("NumAcc4", alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, 1e-7),
    ],
)
def test_the_accuracy_sets(name, values, mean, deviation, tolerance):
    result = type_a(values)

    assert result.mean == pytest.approx(mean, rel=1e-15), name
    assert result.standard_deviation == pytest.approx(deviation, rel=tolerance), name


# Mavro: 50 transmittances, in units of 1e-5 above 2.
MAVRO = [
    *(180, 170, 180, 190, 180, 170, 150, 140, 150, 150, 170, 180, 180, 190, 190, 210, 200),
    *(160, 140, 130, 130, 150, 150, 160, 150, 140, 130, 140, 150, 140, 150, 160, 150, 160),
    *(190, 200, 200, 210, 220, 230, 240, 250, 270, 260, 260, 260, 270, 260, 250, 240),
]
# Michelso: 100 speeds of light, in 0.01 thousands of km/s above 299.
MICHELSON = [
    *(85, 74, 90, 107, 93, 85, 95, 98, 98, 88, 100, 98, 93, 65, 76, 81, 100, 100, 96, 96),
    *(96, 94, 96, 94, 88, 80, 85, 88, 90, 84, 83, 79, 81, 88, 88, 83, 80, 79, 76, 80),
    *(88, 88, 88, 86, 72, 72, 62, 86, 97, 95, 88, 91, 85, 87, 84, 84, 85, 84, 84, 84),
    *(89, 81, 81, 82, 80, 77, 76, 74, 75, 76, 91, 92, 89, 86, 88, 72, 84, 85, 85, 78),
    *(89, 84, 78, 81, 76, 81, 79, 81, 82, 85, 87, 87, 81, 74, 81, 94, 95, 80, 81, 87),
]


@pytest.mark.parametrize(
    ("values", "mean", "deviation"),
    [
        ([2 + v / 100_000 for v in MAVRO], 2.00185600000000, 0.000429123454003053),
        ([299 + v / 100 for v in MICHELSON], 299.852400000000, 0.0790105478190518),
    ],
    ids=["Mavro", "Michelso"],
)
def test_the_observed_sets(values, mean, deviation):
    result = type_a(values)

    assert result.mean == pytest.approx(mean, rel=1e-15)
    # The readings themselves are rounded to a double: relative to their spread, 1e-12.
    assert result.standard_deviation == pytest.approx(deviation, rel=1e-12)
