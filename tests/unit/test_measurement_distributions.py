"""Draws of the inputs: each against the distribution function of an independent library."""

import math

import numpy as np
import pytest
from scipy import stats

from nearmark.measurement.distributions import standardised

DRAWS = 20_000


@pytest.mark.parametrize(
    ("draw", "law"),
    [
        (standardised("normal", math.inf), stats.norm()),
        (standardised("rectangular", math.inf), stats.uniform(-math.sqrt(3), 2 * math.sqrt(3))),
        (standardised("rectangular", 4), stats.t(4)),
    ],
    ids=["normal row", "rectangular row", "row of few readings"],
)
def test_draws_follow_their_law(draw, law):
    drawn = draw(np.random.default_rng(5), DRAWS)

    # A right draw fails this once in ten thousand seeds; the seed is fixed.
    assert stats.kstest(drawn, law.cdf).pvalue > 1e-4


def test_the_same_seed_draws_the_same():
    draw = standardised("rectangular", math.inf)
    once, again = (draw(np.random.default_rng(8), 5).tolist() for _ in range(2))

    assert once == again
