"""Settled beds against published packing fractions, wall effects and contact numbers."""

from dataclasses import replace

import numpy as np
import pytest

from nearmark.packing import PackingRequest, census, cylinder, grain_shape, settle
from nearmark.packing.bed import Bed, Method
from nearmark.packing.census import fill_map
from nearmark.packing.rain import Rain, rain
from nearmark.packing.shapes import solid

SPHERE = grain_shape("sphere")
WIDTH = 10.0
"""mm; so cm are widths."""

POURED_RICE = PackingRequest(grain_shape("rice"), 1200, WIDTH, cylinder(16.0, 60.0))
SMOOTH = {"friction": 0.05, "wall_friction": 0.05, "taps": 5}


def poured(code, n, diameter, *, seed=1, **more):
    vessel = cylinder(diameter, 60.0)
    return settle(PackingRequest(grain_shape(code), n, WIDTH, vessel, seed, **more))


@pytest.fixture(scope="module")
def bed():
    """Spheres with friction 0.3, poured."""
    return poured("sphere", 1500, 11.0)


@pytest.fixture(scope="module")
def tapped():
    return poured("sphere", 800, 9.0, **SMOOTH)


@pytest.mark.slow
def test_poured_spheres_with_friction_are_loose(bed):
    # Scott & Kilgour 1969; Onoda & Liniger 1990: poured 0.58-0.61.  From memory.
    assert 0.58 <= census(bed).bulk_fraction <= 0.61


@pytest.mark.slow
def test_smooth_tapped_spheres_are_close_to_random_close_packing(tapped):
    # Random close packing of equal spheres 0.63-0.64: Weeks laboratory, Emory University, page
    # "Random close packing" (opened); a bed of eight hundred is allowed 0.01 either way.
    assert 0.62 <= census(tapped).bulk_fraction <= 0.65


@pytest.mark.slow
def test_smooth_tapped_short_capsules_are_denser_than_spheres(tapped):
    # Dense disordered packings peak at 0.72 for L/D = 0.45 and exceed spheres for L/D up to 2
    # (PMC10405222, opened); ours has L/D = 0.5 and keeps a little friction.
    # So smooth a bed of capsules is refused for want of rest with 6 of 16 seeds (5 in engine 3).
    capsules = poured("capsule", 450, 9.0, seed=3, **SMOOTH)

    assert census(tapped).bulk_fraction + 0.02 < census(capsules).bulk_fraction < 0.73


@pytest.mark.slow
def test_contacts_lie_between_the_isostatic_numbers_with_and_without_friction(bed, tapped):
    # Isostatic counting for spheres: 4 with and 6 without friction (ar5iv 0808.2682 states the
    # argument, opened; the two numbers from memory).  Loose pieces pull the mean down.
    assert 4.0 < bed.rest.contacts < 5.5
    assert bed.rest.contacts < tapped.rest.contacts < 6.1


@pytest.mark.slow
def test_the_wall_loosens_a_narrow_bed_about_as_the_correlation_says(bed):
    # Zou & Yu 1995, Chem. Eng. Sci. 50, 1504, loose packing of spheres in a cylinder, from memory:
    # voidage 0.400 + 0.010 (exp(10.686 d/D) - 1).  Guo et al. 2019 (abstract opened) find swings
    # with D/d about such curves.  Ours reads 0.00 to 0.031 below it at diameters of 5 and 8 (seeds
    # 0 to 3, engine 5); up to engine 4, 0.02 to 0.03.
    fractions = {}
    for jar in (poured("sphere", 250, 5.0), poured("sphere", 800, 8.0), bed):
        diameter = jar.request.vessel.width_cm
        height = census(jar).fill_height_cm
        filled, inside = fill_map(jar, 2.5, height - 2.5, 0.0)
        fractions[diameter] = filled[inside].mean()
        loose = 1 - (0.400 + 0.010 * (np.exp(10.686 / diameter) - 1))
        assert fractions[diameter] == pytest.approx(loose, abs=0.035)

    assert fractions[5.0] < fractions[8.0] < fractions[11.0]


@pytest.mark.slow
def test_the_fraction_swings_near_the_wall(bed):
    # Benenati & Brosilow 1962, AIChE J. 8, 359: damped waves of about one diameter with the
    # densest shell half a diameter from the wall and a loose one at one diameter.  From memory.
    x, y, z = bed.centres_cm.T
    middle = (z > 3) & (z < census(bed).fill_height_cm - 3)
    away = 5.5 - np.hypot(x, y)[middle]
    shells = {k: ((away > k - 0.1) & (away < k + 0.1)).sum() for k in (0.5, 1.0, 1.4)}

    # The centres lie half a diameter off; few are a whole one off; the second ring lies at 1.4.
    assert shells[0.5] > 5 * shells[1.0]
    assert shells[1.4] > 1.5 * shells[1.0]


@pytest.mark.slow
def test_energy_does_not_rise_after_the_pour(bed):
    assert (
        bed.rest.rise < 1e-4
    )  # of m g w per piece, between looks; undoing overlaps lifts a little


@pytest.mark.slow
def test_the_bed_is_at_rest_and_clean(bed, tapped):
    for jar in (bed, tapped):
        assert jar.rest.kinetic < 1e-6
        assert jar.rest.overlap_max < 0.03 * 0.5 * jar.sizes.min()
        assert jar.rest.overlap_median < 0.005 * 0.5 * jar.sizes.min()


@pytest.mark.slow
def test_poured_rice_lies_between_the_published_beds_around_it():
    # No figure for smooth grains three times as long as wide, poured with friction, could be
    # opened.  Around them: rough paddy 0.49 (Singh et al. 2015, IJSART 1, porosity 51.2 %, abstract
    # opened); the densest disordered spherocylinders without friction 0.72 (PMC10405222, opened).
    # From memory, poured or gently shaken rods of 2 to 4: 0.56 to 0.64, falling with length, after
    # 0.58 for rods of 6.8 (Parkhouse & Kelly, as told in doi 10.1007/s10035-016-0617-1; its first
    # page read).
    fractions = [census(settle(replace(POURED_RICE, seed=seed))).bulk_fraction for seed in (1, 2)]

    assert all(0.56 < fraction < 0.64 for fraction in fractions)
    assert abs(fractions[0] - fractions[1]) < 0.015


@pytest.mark.slow
def test_half_the_time_step_gives_the_same_fraction():
    # By the mean height of the pieces, seed against the same seed.  Of 24 seeds of 2,000 pieces
    # (``python benchmarks/packing.py --halving``) the change is -0.39 % with a standard error of
    # 0.08 %; of the bulk fraction, which also sees the surface, -0.30 % with 0.10 %.
    request = PackingRequest(SPHERE, 1000, WIDTH, cylinder(9.5, 60.0))

    def height(seed, step):
        jar = settle(replace(request, seed=seed), method=Method(step=step))
        return jar.centres_cm[:, 2].mean()

    changes = [height(seed, 0.03) / height(seed, 0.015) - 1 for seed in range(8)]

    assert np.std(changes, ddof=1) / len(changes) ** 0.5 < 0.0025
    assert abs(np.mean(changes)) < 0.005


@pytest.mark.slow
def test_a_mirrored_start_gives_the_mirrored_bed():
    request = PackingRequest(grain_shape("bean"), 80, WIDTH, cylinder(8.0, 30.0), seed=2)
    body, drops = solid(request.shape), rain(request, solid(request.shape))
    # Beans are their own mirror image in the plane z = 0 of their frame, so a mirror of the
    # world in x is a turn of the piece: reflect, then flip the frame's z.
    mirrored = Rain(
        drops.sizes,
        drops.centres * [-1, 1, 1],
        drops.turns[:, [2, 3, 0, 1]],
        drops.velocities * [-1, 1, 1, 1, -1, -1],
        drops.times,
    )
    beds = [Bed(request, body, start, Method()) for start in (drops, mirrored)]
    for each in beds:
        while each.time < 12:
            each.advance(0.5)
    straight, mirror = beds

    assert straight.overlaps().size > 100
    assert mirror.x == pytest.approx(straight.x * [-1, 1, 1], abs=1e-6)
