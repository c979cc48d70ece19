"""The compiled parts of the engine, each against a plain calculation in double precision."""

import numpy as np
import pytest
from numba import njit
from scipy.optimize import minimize
from scipy.spatial import cKDTree

from nearmark.packing import PackingRequest, cylinder, grain_shape, solid
from nearmark.packing import kernel_balls as balls
from nearmark.packing import kernel_lanes as lanes
from nearmark.packing import kernel_place as place
from nearmark.packing.bed import Bed, Method
from nearmark.packing.kernel_gather import fetch_rows, return_rows
from nearmark.packing.kernel_lanes import L
from nearmark.packing.rain import rain


@njit
def fetched(table, who, w):
    fetch_rows(table, who, 8, w, 16)  # type: ignore[call-arg]  # the compiler's own is added


@njit
def returned(table, who, w):
    return_rows(table, who, 8, w, 16)  # type: ignore[call-arg]


def block_of(columns):
    """A block with these fields, one value a lane each."""
    w = np.zeros(place.PLACE_ROOM, np.float32)
    for at, values in columns.items():
        w[at : at + np.size(values)] = np.ravel(values)
    return w


def three(w, at):
    return w[at : at + 3 * L].reshape(3, L).astype(float).T


def test_rows_are_fetched_as_columns_and_returned():
    rng = np.random.default_rng(1)
    table = rng.random((40, 8), np.float32)
    who = rng.permutation(40)[:16].astype(np.uint32).reshape(1, 16)
    w, back = np.zeros(100, np.float32), np.zeros_like(table)

    fetched(table, who, w)
    returned(back, who, w)

    assert np.array_equal(w[16:80].reshape(8, L), table[who[0, 8:]].T)
    assert np.array_equal(back[who[0, 8:]], table[who[0, 8:]])
    assert not back[who[0, :8]].any()


@pytest.mark.slow
@pytest.mark.parametrize("lengths", [(1.0, 1.0), (1.0, 0.0), (0.0, 0.0)])
def test_the_nearest_points_of_two_parts_are_those_that_a_search_finds(lengths):
    rng = np.random.default_rng(2)
    o, p = rng.normal(0, 0.3, (2, L, 3))
    h, g = (length * rng.normal(0, 1, (L, 3)) for length in lengths)
    d = rng.normal(0, 2, (L, 3))
    radius = np.full(L, 0.5)
    w = block_of(
        {
            place.OWN_PART: np.vstack([o.T, h.T, radius]),
            place.OTHER_PART: np.vstack([p.T, g.T, radius]),
            place.APART: d.T,
        },
    )
    place.place_lanes(w, np.float32(2.0))

    for k in range(L):
        apart = d[k] + o[k] - p[k]

        def far(st, k=k, apart=apart):
            return float(np.linalg.norm(apart + st[0] * h[k] - st[1] * g[k]))

        starts = [(s, t) for s in (-0.9, 0.9) for t in (-0.9, 0.9)]
        least = min(minimize(far, s, bounds=[(-1, 1)] * 2, tol=1e-12).fun for s in starts)
        assert w[lanes.GAP + k] / 2 == pytest.approx(least - 1, abs=2e-5)
        # Both levers, on either side of half the gap, meet in one point.
        normal, own, other = (three(w, at)[k] for at in (lanes.NORMAL, lanes.LEVER, lanes.OTHER))
        assert np.linalg.norm(normal) == pytest.approx(1, abs=1e-5)
        assert d[k] + own == pytest.approx(other, abs=1e-5)


def test_the_masses_of_a_contact_undo_what_a_unit_impulse_does():
    rng = np.random.default_rng(3)
    normal = rng.normal(size=(L, 3))
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    levers = rng.normal(0, 0.5, (2, L, 3))
    light = rng.uniform(0.5, 2, (2, L))
    roots = rng.normal(size=(2, L, 3, 3))
    ease = roots @ roots.transpose(0, 1, 3, 2)

    def six(m):
        return [m[:, a, b] for a, b in ((0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2))]

    w = block_of(
        {
            lanes.NORMAL: normal.T,
            lanes.LEVER: levers[0].T,
            lanes.OTHER: levers[1].T,
            lanes.EASE: np.vstack([light[0], *six(ease[0])]),
            lanes.EASE + lanes.NEXT: np.vstack([light[1], *six(ease[1])]),
        },
    )
    lanes.mass_lanes(w)

    across = w[lanes.ACROSS : lanes.MIN_SIZE].reshape(6, L).astype(float)
    for k in range(L):
        gives = np.zeros((3, 3))
        for side in range(2):
            x, y, z = levers[side, k]
            cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
            gives += light[side, k] * np.eye(3) - cross @ ease[side, k] @ cross
        n = normal[k]
        flat = np.eye(3) - np.outer(n, n)
        assert w[lanes.MASS + k] == pytest.approx(1 / (n @ gives @ n), rel=1e-4)
        xx, yy, zz, xy, xz, yz = across[:, k]
        mass = np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]])
        assert mass @ (flat @ gives @ flat) == pytest.approx(flat, abs=2e-3)
        largest = np.linalg.eigvalsh(flat @ gives @ flat).max()
        assert w[lanes.MIN_SIZE + k] == pytest.approx(1 / largest, rel=1e-4)


def test_the_short_way_for_balls_does_what_the_long_way_does():
    rng = np.random.default_rng(4)
    radii, density = rng.uniform(0.45, 0.55, (2, L)), 6 / np.pi
    light = 1 / (np.pi / 6 * density * (2 * radii) ** 3)
    d = rng.normal(size=(L, 3))
    d *= ((radii.sum(axis=0) - 0.001) / np.linalg.norm(d, axis=1))[:, None]
    speeds = rng.normal(size=(2, 6, L))
    zero = np.zeros((6, L))
    inertia = [np.tile(2.5 * m / r**2, (3, 1)) for m, r in zip(light, radii, strict=True)]
    common = {
        place.OWN_PART: np.vstack([zero, radii[0]]),
        place.OTHER_PART: np.vstack([zero, radii[1]]),
        place.APART: d.T,
        lanes.SPEED: speeds[0],
        lanes.SPEED + lanes.NEXT: speeds[1],
        lanes.EASE: np.vstack([light[0], inertia[0], zero[:3]]),
        lanes.EASE + lanes.NEXT: np.vstack([light[1], inertia[1], zero[:3]]),
    }
    long, short = block_of(common), block_of(common)
    step, mu = np.float32(1 / 0.03), np.float32(0.3)
    place.place_lanes(long, step)
    lanes.mass_lanes(long)
    place.place_balls(short, step)
    short[lanes.MASS : lanes.MASS + L] = 1 / light.sum(axis=0)
    short[balls.BALL_LIGHT : balls.BALL_LIGHT + 2 * L] = light.ravel()
    for _ in range(2):
        lanes.solve_lanes(long, mu, mu)
        balls.solve_balls(short, mu, mu)

    assert np.abs(long[: 4 * L]).max() > 0.1
    assert short[: 4 * L] == pytest.approx(long[: 4 * L], abs=5e-3)
    speed = slice(lanes.SPEED, lanes.SPEED + 2 * lanes.NEXT)
    assert short[speed] == pytest.approx(long[speed], abs=1e-2)


@pytest.fixture(scope="module")
def falling():
    """Balls half way into their vessel."""
    request = PackingRequest(grain_shape("sphere"), 600, 10.0, cylinder(8.0, 20.0), seed=5)
    bed = Bed(request, solid(request.shape), rain(request, solid(request.shape)), Method())
    while bed.time < 6:
        bed.advance(0.5)
    return bed


def test_no_block_moves_a_piece_twice(falling):
    used = int(falling.block_first[-1])
    for who, pairs in zip(falling.who[:used], falling.own_pairs[:used], strict=True):
        pieces = who[np.tile(pairs >= 0, 2)]
        pieces = pieces[pieces < len(falling.x)]
        assert len(set(pieces.tolist())) == len(pieces)


def test_every_pair_that_touches_is_in_a_block(falling):
    n = falling.active
    tree = cKDTree(falling.x[:n])
    touching = {
        (i, j)
        for i, j in tree.query_pairs(1.1)
        if np.linalg.norm(falling.x[i] - falling.x[j])
        < (falling.size[i] + falling.size[j]) / 2 - 1e-6
    }
    held = falling.own_pairs[: int(falling.block_first[-1])]
    dealt = {tuple(sorted(p[:2])) for p in falling.pairs[held[held >= 0]].tolist()}

    assert len(touching) > 300
    assert touching <= dealt
