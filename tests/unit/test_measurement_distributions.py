"""Draws of the inputs: each against the distribution function of an independent library."""

import math

import numpy as np
import pytest
from scipy import stats

from nearmark.errors import InputError
from nearmark.measurement.covariance import covariance_matrix
from nearmark.measurement.distributions import (
    arcsine,
    multivariate_normal,
    normal,
    rectangular,
    student_t,
    triangular,
)

DRAWS = 20_000


@pytest.mark.parametrize(
    ("draw", "law"),
    [
        (normal(3, 2), stats.norm(3, 2)),
        (student_t(3, 2, 4), stats.t(4, 3, 2)),
        (rectangular(1, 5), stats.uniform(1, 4)),
        (triangular(1, 5), stats.triang(0.5, 1, 4)),
        (arcsine(1, 5), stats.arcsine(1, 4)),
    ],
    ids=["normal", "t", "rectangular", "triangular", "arcsine"],
)
def test_draws_follow_their_law(draw, law):
    drawn = draw(np.random.default_rng(5), DRAWS)

    # A right draw fails this once in ten thousand seeds; the seed is fixed.
    assert stats.kstest(drawn, law.cdf).pvalue > 1e-4


def test_inputs_that_vary_together_keep_their_covariance_whatever_their_units():
    wanted = covariance_matrix([1e6, 1e-6, 2.0], [(0, 1, 0.9), (1, 2, -0.3)])

    drawn = multivariate_normal([1.0, 2.0, 3.0], wanted)(np.random.default_rng(5), DRAWS)

    u = np.sqrt(np.diag(wanted))
    assert drawn.shape == (3, DRAWS)
    # Standard error of a covariance of this many draws, in its own units: below 0.01.
    assert np.cov(drawn) / np.outer(u, u) == pytest.approx(wanted / np.outer(u, u), abs=0.04)


def test_fully_correlated_inputs_move_as_one():
    draw = multivariate_normal([0.0, 0.0], covariance_matrix([1.0, 2.0], [(0, 1, 1.0)]))

    first, second = draw(np.random.default_rng(5), 100)

    assert second == pytest.approx(2 * first, abs=1e-7)


def test_the_same_seed_draws_the_same():
    once, again = (triangular(0, 1)(np.random.default_rng(8), 5).tolist() for _ in range(2))

    assert once == again


@pytest.mark.parametrize("shape", [rectangular, triangular, arcsine])
def test_an_interval_may_be_a_point_but_not_turned_round(shape):
    assert shape(2.0, 2.0)(np.random.default_rng(1), 2).tolist() == [2.0, 2.0]
    for low, high in ((3.0, 2.0), (math.nan, 2.0), (0.0, math.inf)):
        with pytest.raises(InputError, match="end"):
            shape(low, high)


@pytest.mark.parametrize(
    "make",
    [
        lambda: normal(0, -1),
        lambda: normal(math.nan, 1),
        lambda: student_t(0, -1, 3),
        lambda: student_t(0, 1, 0),
        lambda: student_t(0, 1, math.inf),
        lambda: multivariate_normal([0.0], [[-1.0]]),
        lambda: multivariate_normal([math.inf], [[1.0]]),
    ],
)
def test_an_impossible_distribution_is_refused_before_a_draw(make):
    with pytest.raises(InputError):
        make()
