"""Intervals that hold although all readings of an item share an error: F2 and F9 of the findings.

The draws are written out here: what the ruler, the scoop and the scale did, then the public
function on the readings that came of it.
"""

import numpy as np
import pytest

from nearmark.kit import BoxOptions, CountOptions, Sample, box_volume, count_by_weighing
from nearmark.measurement.instruments import Instrument, Reading

pytestmark = pytest.mark.slow

DRAWS = 500
TWO_SD = 2 * (0.95 * 0.05 / DRAWS) ** 0.5
"""Two binomial standard deviations of the share of intervals that hold."""


def box_share(zero_sd_cm, *, stated_cm):
    """Boxes of 200 to 4000 cm3 read three times a side with a ruler whose end is worn."""
    rng = np.random.default_rng(20_271)
    ruler = Instrument("ruler", "cm", 0.1, zero_u=stated_cm)
    hold = 0
    for _ in range(DRAWS):
        sides = np.sort(rng.uniform(6, 16, 3))
        seen = sides + rng.normal(0, zero_sd_cm) + rng.normal(0, 0.05, (3, 3))
        readings = [Reading(tuple(np.round(side, 1).tolist()), ruler) for side in seen.T]
        result = box_volume(*readings, options=BoxOptions())
        hold += result.interval[0] <= sides.prod() <= result.interval[1]
    return hold / DRAWS


@pytest.mark.parametrize("zero_sd_cm", [0.05, 0.1])
def test_a_worn_end_that_is_stated_is_within_the_interval(zero_sd_cm):
    assert box_share(zero_sd_cm, stated_cm=zero_sd_cm) >= 0.95 - TWO_SD


def test_a_worn_end_that_nobody_stated_is_not():
    """The check above has power."""
    assert box_share(0.1, stated_cm=0.0) < 0.7


def count_share(bias_sd, *, stated):
    """Three samples of 100 scooped from one place, the pieces there all lighter or heavier."""
    rng = np.random.default_rng(20_272)
    scale = Instrument("bench scale", "g", 0.01)
    hold = 0
    for _ in range(DRAWS):
        pieces, mass_g = int(rng.integers(1500, 16_000)), rng.uniform(0.1, 1.0)
        place = 1 + rng.normal(0, bias_sd)
        samples = [
            Sample(100, round(float(100 * mass_g * place * (1 + rng.normal(0, 0.01))), 2))
            for _ in range(3)
        ]
        result = count_by_weighing(
            samples,
            Reading((round(300 + pieces * mass_g, 2),), scale),
            Reading((300.0,), scale),
            options=CountOptions(mixing_u=stated),
        )
        hold += result.interval[0] <= pieces <= result.interval[1]
    return hold / DRAWS


def test_a_bias_that_all_samples_share_is_within_the_interval_when_it_is_stated():
    assert count_share(0.02, stated=0.02) >= 0.95 - TWO_SD


def test_a_bias_that_nobody_stated_is_not():
    assert count_share(0.02, stated=None) < 0.85
