"""The pair search is made anew in time: no two balls meet that the bed does not look after."""

import numpy as np
import pytest

from nearmark.packing import PackingRequest, cylinder, grain_shape, solid
from nearmark.packing.bed import Bed, Method
from nearmark.packing.rain import rain

pytestmark = pytest.mark.slow

N = 300


def test_no_two_balls_touch_unknown_to_the_bed_while_they_fall_land_and_are_thrown_up():
    request = PackingRequest(grain_shape("sphere"), N, 10.0, cylinder(7.0, 60.0), seed=5)
    body = solid(request.shape)
    bed = Bed(request, body, rain(request, body), Method())
    seen, n_searches, searched_at = 0, 0, None
    for step in range(700):
        bed.advance(0.0 if step < 400 else 1.0)
        n_searches += bed.pairs is not searched_at
        searched_at = bed.pairs
        if step == 500:
            bed.tap(3.0)
        n = bed.active
        apart = np.linalg.norm(bed.x[:n, None] - bed.x[None, :n], axis=2)
        touching = np.triu(apart < (bed.size[:n, None] + bed.size[None, :n]) / 2, 1)
        known = np.zeros((n, n), bool)
        known[tuple(bed.pairs[bed.pairs[:, 1] >= 0, :2].T)] = True
        assert not (touching & ~(known | known.T)).any(), step
        seen += int(touching.sum())

    assert seen > 10_000  # they did touch
    assert n_searches < 350  # and the search was not simply made at every step
