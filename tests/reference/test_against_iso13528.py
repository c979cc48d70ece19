"""ISO 13528 algorithm A on a published data set, and against an independent library.

The algorithm as such: ISO 13528:2005, annex C.1 (a page that reproduces it opened).
"""

import warnings

import numpy as np
import pytest
from statsmodels.robust.scale import Huber

from nearmark.measurement.robust import robust_mean

# Copper in wholemeal flour, parts per million, 24 determinations: Analytical Methods Committee,
# Analyst 114 (1989) 1693; reprinted as data set `chem` of Venables and Ripley, *Modern Applied
# Statistics with S*.  The manual page of its function ``hubers`` (opened) prints 3.205498 and
# 0.673652 for them; data from memory, and confirmed by those results.
COPPER = [
    *(2.90, 3.10, 3.40, 3.40, 3.70, 3.70, 2.80, 2.50, 2.40, 2.40, 2.70, 2.20),
    *(5.28, 3.37, 3.03, 3.03, 28.95, 3.77, 3.40, 2.20, 3.50, 3.60, 3.70, 3.70),
]
CONSTANT = 2e-3
"""The standard rounds the consistency constant of s to 1.134; others compute it: 1.1334."""


def test_copper_in_flour():
    result = robust_mean(COPPER)

    assert np.mean(COPPER) > 4  # one wild value pulls the plain mean by a third
    assert result.mean == pytest.approx(3.205498, rel=CONSTANT)
    assert result.standard_deviation == pytest.approx(0.673652, rel=CONSTANT)


# Creosote in nine laboratories, per cent: the example of ISO 5725-5:1998, as kept in the manual of
# the R package metRology (opened).
CREOSOTE = [24.140, 20.155, 19.500, 20.300, 20.705, 17.570, 20.100, 20.940, 21.185]
# An invented log-ratio set with one wild value.
LOG_RATIOS = (-0.31, -0.25, -0.19, -0.15, -0.12, -0.10, -0.08, -0.05, -0.02, 0.03, 0.08, 0.95)


@pytest.mark.parametrize("values", [COPPER, CREOSOTE, LOG_RATIOS])
def test_hubers_second_proposal_of_an_independent_library(values):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        location, scale = Huber(c=1.5, maxiter=200, tol=1e-10)(np.array(values))

    result = robust_mean(values)

    assert result.mean == pytest.approx(float(location), rel=CONSTANT, abs=1e-4)
    assert result.standard_deviation == pytest.approx(float(scale), rel=CONSTANT)


def test_without_wild_values_it_is_nearly_the_plain_mean():
    values = np.random.default_rng(3).normal(5, 2, 5_000)

    result = robust_mean(values.tolist())

    # Standard errors at this size: 0.03 of the mean, 0.025 of the deviation.
    assert result.mean == pytest.approx(5, abs=0.09)
    assert result.standard_deviation == pytest.approx(2, abs=0.08)


def test_its_uncertainty_is_that_of_a_mean_of_winsorised_values():
    # ISO 13528:2015, 7.7.3 (from memory): 1.25 s / sqrt(p).  The factor guards small and wild
    # sets; of normal values the robust mean scatters by 1 / sqrt(0.964) s / sqrt(n) (Huber 1964,
    # efficiency at c = 1.5; from memory).
    rng = np.random.default_rng(6)
    means = [robust_mean(values).mean for values in rng.normal(0, 1, (600, 30)).tolist()]

    # Standard error of a standard deviation of 600: 2.9 %.
    assert np.std(means) * np.sqrt(30) == pytest.approx(1 / np.sqrt(0.964), rel=0.087)
    assert np.std(means) < 1.25 / np.sqrt(30)
