import numpy as np
import pytest

from nearmark.errors import InputError
from nearmark.packing import SHAPES, GrainShape, grain_shape, solid

SAMPLED = 0.006
"""Relative: a grid of 96 points across."""


@pytest.mark.parametrize(("code", "length"), [("sphere", 1.0), ("capsule", 1.5), ("rice", 3.0)])
def test_the_formulas_of_one_capsule_agree_with_sampling_its_space(code, length):
    body = solid(grain_shape(code))
    one = SHAPES[code].parts[0]
    # The same capsule twice is no single part, so it goes the way of the groups.
    twice = solid(GrainShape("twice", "", (one, one)))

    assert body.volume == pytest.approx(twice.volume, rel=SAMPLED)
    assert body.inertia == pytest.approx(twice.inertia, rel=2 * SAMPLED)
    assert body.reach == pytest.approx(length / 2)


@pytest.mark.parametrize("code", SHAPES)
def test_a_shape_is_centred_and_lies_along_its_principal_axes(code):
    body = solid(SHAPES[code])
    rng = np.random.default_rng(1)
    points = rng.uniform(-body.reach, body.reach, (40_000, 3))
    inside = np.zeros(len(points), bool)
    for start, end, radius in zip(body.starts, body.ends, body.radii, strict=True):
        line = end - start
        s = np.clip((points - start) @ line / max(line @ line, 1e-12), 0, 1)
        inside |= np.linalg.norm(points - start - s[:, None] * line, axis=1) < radius
    inner = points[inside]
    products = np.cov(inner.T)

    assert np.abs(inner.mean(axis=0)).max() < 0.03
    assert np.abs(products - np.diag(np.diag(products))).max() < 0.04 * products.max()
    assert inside.mean() * (2 * body.reach) ** 3 == pytest.approx(body.volume, rel=0.06)
    assert np.linalg.norm(inner, axis=1).max() <= body.reach


def test_a_nut_and_a_tube_have_a_hole():
    for code in ("nut", "tube"):
        body = solid(SHAPES[code])
        axis = np.linalg.norm(np.cross(body.starts, body.ends - body.starts), axis=1)
        length = np.maximum(np.linalg.norm(body.ends - body.starts, axis=1), 1e-12)

        assert (axis / length > body.radii).all()


def test_an_unknown_shape_is_refused_with_the_known_ones():
    with pytest.raises(InputError, match="One of: sphere, capsule"):
        grain_shape("cube")
