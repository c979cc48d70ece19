"""ISO 13528 algorithm A on a published data set, and against an independent library."""

import warnings

import numpy as np
import pytest
from statsmodels.robust.scale import Huber

from nearmark.measurement.robust import robust_mean

# Copper in wholemeal flour, parts per million, 24 determinations: Analytical Methods Committee,
# Analyst 114 (1989) 1693; reprinted as data set `chem` of Venables and Ripley, *Modern Applied
# Statistics with S*, whose function for the same estimator gives 3.206724 and 0.673652
# (figures from memory).
COPPER = [
    *(2.90, 3.10, 3.40, 3.40, 3.70, 3.70, 2.80, 2.50, 2.40, 2.40, 2.70, 2.20),
    *(5.28, 3.37, 3.03, 3.03, 28.95, 3.77, 3.40, 2.20, 3.50, 3.60, 3.70, 3.70),
]
CONSTANT = 2e-3
"""The standard rounds the consistency constant of s to 1.134; others compute it: 1.1334."""


def test_copper_in_flour():
    result = robust_mean(COPPER)

    assert np.mean(COPPER) > 4  # one wild value pulls the plain mean by a third
    assert result.mean == pytest.approx(3.206724, rel=CONSTANT)
    assert result.standard_deviation == pytest.approx(0.673652, rel=CONSTANT)


# An invented log-ratio set with one wild value.
LOG_RATIOS = (-0.31, -0.25, -0.19, -0.15, -0.12, -0.10, -0.08, -0.05, -0.02, 0.03, 0.08, 0.95)


@pytest.mark.parametrize("values", [COPPER, LOG_RATIOS])
def test_hubers_second_proposal_of_an_independent_library(values):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        location, scale = Huber(c=1.5, maxiter=200, tol=1e-10)(np.array(values))

    result = robust_mean(values)

    assert result.mean == pytest.approx(float(location), rel=CONSTANT, abs=1e-4)
    assert result.standard_deviation == pytest.approx(float(scale), rel=CONSTANT)


def test_without_wild_values_it_is_nearly_the_plain_mean():
    values = np.random.default_rng(3).normal(5, 2, 20_000)

    result = robust_mean(values.tolist())

    # Standard errors at this size: 0.015 of the mean, 0.012 of the deviation.
    assert result.mean == pytest.approx(5, abs=0.06)
    assert result.standard_deviation == pytest.approx(2, abs=0.05)
