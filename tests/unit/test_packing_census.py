import math

import numpy as np
import pytest
from scipy.optimize import brentq

from nearmark.packing import (
    Jar,
    PackingRequest,
    Rest,
    box,
    census,
    cylinder,
    grain_shape,
    settle,
    top_view,
)
from nearmark.packing.census import bulk_fraction, layers_seen
from nearmark.packing.views import side_view

STILL = Rest(0.0, 0.0, 0.0, 0.0, 0.0, 0, 0.0)
PIXELS = 0.05
"""Relative: eight pixels a width."""

CELLS = 0.003
"""Relative, of a fraction: a surface cuts some 200 cells of a sphere, each in or out by chance,
so a sphere is right within 2.3 % and 512 of them within 0.1 %; three times that."""


def placed(centres, vessel):
    """A jar of 1 cm spheres put where the test wants them."""
    n = len(centres)
    request = PackingRequest(grain_shape("sphere"), n, 10.0, vessel, size_cv=0.0)
    turns = np.tile([1.0, 0, 0, 0], (n, 1))
    return Jar(request, 1, np.array(centres, float), turns, np.ones(n), STILL)


def cubic(nx, ny, nz, step=1.0):
    """A simple cubic pile that just fills a box."""
    grid = np.stack(np.meshgrid(range(nx), range(ny), range(nz), indexing="ij"), axis=-1)
    centres = grid.reshape(-1, 3) + 0.5 - np.array([nx / 2, ny / 2, 0])
    return placed(step * centres, box(step * nx, step * ny, step * nz))


def test_a_cubic_pile_shows_its_top_its_front_and_its_layers():
    told = census(cubic(5, 4, 6))

    assert told.count == 120
    assert told.surface_pieces == 20
    assert told.wall_pieces == 30
    assert told.layers == pytest.approx(6, abs=0.8)  # a line between two columns meets little
    assert told.product == pytest.approx(20 * told.layers)
    assert told.bias == pytest.approx(math.log(told.product / 120))


@pytest.mark.parametrize(("share", "counted"), [(0.4, 1), (0.6, 2)])
def test_a_piece_counts_to_the_surface_if_it_is_mostly_seen(share, counted):
    # Seen from above two equal discs d apart cover a lens of each other; its share is
    # (2 acos d - 2 d sqrt(1 - d2)) / pi for the width 1.
    d = brentq(
        lambda d: (2 * math.acos(d) - 2 * d * math.sqrt(1 - d * d)) / math.pi - 1 + share, 0, 1
    )
    told = census(placed([[0, 0, 2.0], [d, 0, 0.5]], box(5, 5, 5)))

    assert told.surface_pieces == counted


@pytest.mark.slow
def test_the_surface_of_a_poured_jar_holds_about_what_a_layer_one_piece_high_holds():
    told = census(settle(PackingRequest(grain_shape("sphere"), 600, 10.0, cylinder(9.0, 30.0))))
    a_layer = told.count / told.fill_height_cm  # pieces are 1 cm high

    assert told.surface_pieces == pytest.approx(a_layer, rel=0.3)


def test_the_bulk_of_a_cubic_pile_has_a_sixth_of_pi():
    # A spacing that is no whole number of cells, so that the spheres lie every way on the cells.
    step = 1.0371

    fraction = bulk_fraction(cubic(12, 12, 12, step), 12 * step, margin=2 * step)

    assert fraction == pytest.approx(math.pi / 6 / step**3, rel=CELLS)


def test_the_bulk_of_a_cubic_pile_does_not_hang_on_where_the_faces_lie():
    # Eight whole layers each way, wherever the faces are: pi / 6 but for the cells.
    pile = cubic(12, 12, 12)
    fractions = [bulk_fraction(pile, 12.0 + shift, margin=2.0) for shift in (0.0, 0.03, 0.06)]
    # The upper face then cuts a spherical cap of 0.03 or 0.06 into 8 layers: less than its gap.
    assert fractions[0] == pytest.approx(math.pi / 6, rel=CELLS)
    assert fractions[1] == pytest.approx(math.pi / 6 * 8 / 8.03, rel=CELLS)
    assert fractions[2] == pytest.approx(math.pi / 6 * 8 / 8.06, rel=CELLS)


def test_a_bed_too_small_for_a_bulk_has_none():
    assert bulk_fraction(cubic(5, 5, 5), 5.0) is None


def test_a_piece_under_another_is_hidden_from_above():
    jar = placed([(0, 0, 0.5), (0, 0, 1.5), (2, 0, 0.5)], cylinder(6.0, 5.0))

    assert top_view(jar).visible_share() == pytest.approx([0, 1, 1])


def test_half_a_piece_shows_beside_one_that_covers_its_half():
    jar = placed([(0, 0, 0.5), (0.5, 0, 2.0)], cylinder(6.0, 5.0))
    # Two discs of radius r a radius apart share 2 pi / 3 - sqrt(3) / 2 of r squared.
    shared = (2 * math.pi / 3 - math.sqrt(3) / 2) / math.pi

    assert top_view(jar).visible_share()[0] == pytest.approx(1 - shared, abs=PIXELS)


def test_the_side_shows_the_ring_at_the_wall_before_what_lies_within():
    turn = np.linspace(0, 2 * np.pi, 12, endpoint=False)
    ring = np.column_stack([2.5 * np.cos(turn), 2.5 * np.sin(turn), np.full(12, 0.5)])
    jar = placed([*ring, (0.0, 0.0, 0.5)], cylinder(6.0, 5.0))
    share = side_view(jar).visible_share()

    assert (share[:12] > 0.9).all()
    assert share[12] < 0.5


def test_a_tower_at_the_wall_is_counted_up_its_side():
    jar = placed([(2.5, 0, k + 0.5) for k in range(7)], cylinder(6.0, 9.0))

    assert layers_seen(side_view(jar)) == pytest.approx(7, abs=0.8)
