from dataclasses import replace

import numpy as np
import pytest

from nearmark.errors import InputError
from nearmark.packing import (
    SHAPES,
    Cancelled,
    PackingRequest,
    bed,
    box,
    cup,
    cylinder,
    grain_shape,
    part_ends_cm,
    rounded_jar,
    settle,
    solid,
)
from nearmark.packing.rain import rain

pytestmark = pytest.mark.slow

SPHERE = grain_shape("sphere")
SMALL = PackingRequest(SPHERE, 150, 10.0, cylinder(6.0, 14.0), seed=3)
OUTSIDE_CM = 0.01
"""A piece may press into a wall by the slop and a little more."""


@pytest.fixture(scope="module")
def small():
    return settle(SMALL)


def test_the_same_request_gives_the_same_jar(small):
    again = settle(SMALL)

    assert np.array_equal(again.centres_cm, small.centres_cm)
    assert np.array_equal(again.turns, small.turns)


def test_another_seed_gives_another_jar(small):
    assert not np.allclose(settle(replace(SMALL, seed=4)).centres_cm, small.centres_cm)


def test_the_bed_does_not_depend_on_the_number_of_threads(monkeypatch):
    if bed.THREADS < 2:
        pytest.skip("one core only")
    body = solid(SMALL.shape)
    beds = []
    for few in (10**6, 0):
        monkeypatch.setattr(bed, "FEW_GRAINS", few)
        each = bed.Bed(SMALL, body, rain(SMALL, body), bed.Method())
        while each.time < 6:
            each.advance(0.5)
        beds.append(each)

    assert beds[0].overlaps().size > 50
    assert np.array_equal(beds[0].x, beds[1].x)
    assert np.array_equal(beds[0].speed, beds[1].speed)


@pytest.mark.parametrize("code", SHAPES)
def test_every_shape_comes_to_rest_without_overlap(code):
    diameter_cm = 5.0 * solid(SHAPES[code]).reach
    jar = settle(PackingRequest(SHAPES[code], 60, 10.0, cylinder(diameter_cm, 50.0)))

    assert jar.rest.kinetic < 1e-6
    assert jar.rest.overlap_max < 0.015  # 3 % of the radius of a sphere
    assert jar.rest.overlap_median < 0.0025
    assert jar.rest.contacts > 2


@pytest.mark.parametrize(
    "vessel",
    [cylinder(6, 20), box(7, 5, 20), cup(5, 8, 20), rounded_jar(6, 20, 2)],
    ids=lambda v: v.form,
)
def test_every_piece_lies_inside_the_vessel(vessel):
    jar = settle(PackingRequest(grain_shape("capsule"), 100, 10.0, vessel))
    starts, ends, radii = part_ends_cm(jar)
    for p in (starts, ends):
        r = np.hypot(p[..., 0], p[..., 1]) + radii
        assert (p[..., 2] - radii).min() > -OUTSIDE_CM
        if vessel.form == "box":
            assert (np.abs(p[..., 0]) + radii).max() < 3.5 + OUTSIDE_CM
            assert (np.abs(p[..., 1]) + radii).max() < 2.5 + OUTSIDE_CM
        else:
            assert (
                r - vessel.width_cm / 2 - vessel.slope * p[..., 2]
            ).max() < 0.05 * vessel.slope * 10 + OUTSIDE_CM
        if vessel.form == "jar":
            low = p[..., 2] < 2
            out = np.hypot(np.maximum(0, np.hypot(p[..., 0], p[..., 1]) - 1), p[..., 2] - 2)
            assert (out + radii)[low].max() < 2 + OUTSIDE_CM


def test_progress_grows_to_one():
    shares: list[float] = []
    settle(SMALL, progress=shares.append)

    assert shares == sorted(shares)
    assert shares[-1] == 1


def test_the_work_can_be_cancelled():
    with pytest.raises(Cancelled):
        settle(SMALL, cancelled=lambda: True)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"n_grains": 0}, "n_grains: must be from 1 to 20,000"),
        ({"n_grains": 20_001}, "n_grains: must be from 1 to 20,000"),
        ({"width_mm": 40.0}, "must fit twice across the vessel"),
        ({"width_mm": float("nan")}, "width_mm: must be from"),
        ({"size_cv": 0.5}, "size_cv: must be from 0.0 to 0.2"),
        ({"friction": -0.1}, "friction: must be from"),
        ({"taps": 10**6}, "taps: must be from 0 to 200"),
        ({"seed": -1}, "seed: must be from 0"),
        ({"n_grains": 1000}, "the vessel overflows: no packing of equal pieces"),
    ],
)
def test_what_cannot_be_packed_is_refused_before_any_work(change, words):
    with pytest.raises(InputError, match=words):
        settle(replace(SMALL, **change))


def test_a_bed_above_the_rim_is_refused():
    with pytest.raises(InputError, match=r"overflows: the bed is"):
        settle(replace(SMALL, vessel=cylinder(6.0, 4.6)))
