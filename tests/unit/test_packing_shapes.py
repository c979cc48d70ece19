import numpy as np
import pytest

from nearmark.errors import InputError
from nearmark.packing import SHAPES, GrainShape, grain_shape, solid

SAMPLED = 0.006
"""Relative: a grid of 20 points a radius."""


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
@pytest.mark.slow
def test_a_shape_is_centred_and_lies_along_its_principal_axes(code):
    body = solid(SHAPES[code])
    rng = np.random.default_rng(1)
    points = rng.uniform(-body.reach, body.reach, (40_000, 3))
    inside = np.zeros(len(points), bool)
    for start, end, radius in zip(
        body.starts[: body.n_drawn],
        body.ends[: body.n_drawn],
        body.radii[: body.n_drawn],
        strict=True,
    ):
        line = end - start
        s = np.clip((points - start) @ line / max(line @ line, 1e-12), 0, 1)
        inside |= np.linalg.norm(points - start - s[:, None] * line, axis=1) < radius
    inner = points[inside]
    products = np.cov(inner.T)

    assert np.abs(inner.mean(axis=0)).max() < 0.03
    assert np.abs(products - np.diag(np.diag(products))).max() < 0.04 * products.max()
    assert inside.mean() * (2 * body.reach) ** 3 == pytest.approx(body.volume, rel=0.06)
    assert np.linalg.norm(inner, axis=1).max() <= body.reach


@pytest.mark.slow
@pytest.mark.parametrize("code", ["nut", "tube"])
def test_a_plug_fills_the_hole_and_no_more(code):
    body = solid(SHAPES[code])
    (plug,) = range(body.n_drawn, len(body.radii))
    along = np.linspace(body.starts[plug], body.ends[plug], 5)
    lines = body.ends[:plug] - body.starts[:plug]
    for point in along:
        away = point - body.starts[:plug]
        s = np.clip((away * lines).sum(axis=1) / (lines**2).sum(axis=1), 0, 1)
        clear = np.linalg.norm(away - s[:, None] * lines, axis=1) - body.radii[:plug]
        assert clear.min() == pytest.approx(body.radii[plug], abs=0.01)

    assert 2 * body.radii[plug] < 2 * body.radii[:plug].min()


def test_an_unknown_shape_is_refused_with_the_known_ones():
    with pytest.raises(InputError, match="One of: sphere, capsule"):
        grain_shape("cube")
