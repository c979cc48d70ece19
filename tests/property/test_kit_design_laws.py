"""Laws of vessels, pours, small parts and the purchase list."""

import math
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nearmark.kit.cautions import fits_small_parts_cylinder
from nearmark.kit.materials import materials
from nearmark.kit.pour import grams_to_pour
from nearmark.kit.prediction import predicted_count
from nearmark.kit.purchase import Scooping, purchase_list
from nearmark.kit.random_pour import random_pour
from nearmark.kit.vessels import Vessel

sizes = st.floats(1, 100)
shares = st.floats(0, 1)
lots = st.sampled_from(materials())


@given(sizes, sizes, sizes, shares)
def test_the_height_of_a_volume_undoes_the_volume_to_a_height(bottom, top, height, share):
    frustum = Vessel("v", "v", "taper", (bottom, top, height), 1)
    volume = frustum.volume_to(height * share)

    # A brim that rounding puts a hair too high is cut off; doubles carry the rest to ten digits.
    found = frustum.height_of(min(volume, frustum.volume_cm3))
    assert math.isclose(found, height * share, rel_tol=1e-10, abs_tol=1e-10)


@given(st.floats(1, 100), st.floats(-1e-3, 1e-3), sizes, shares)
def test_a_vessel_that_is_hardly_tapered_is_filled_like_a_cylinder(bottom, more, height, share):
    hardly = Vessel("v", "v", "taper", (bottom, bottom + more, height), 1)
    volume = share * min(hardly.volume_cm3, math.pi / 4 * bottom**2 * height)

    assert math.isclose(hardly.height_of(volume), volume / (math.pi / 4 * bottom**2), rel_tol=3e-3)


@given(lots, st.floats(1, 20_000))
def test_a_prediction_lies_within_its_interval_and_grows_with_the_volume(lot, volume):
    once, twice = predicted_count(lot, volume), predicted_count(lot, 2 * volume)

    assert once.between[0] <= once.budget.value <= once.between[1]
    assert math.isclose(twice.budget.value, 2 * once.budget.value)


@given(lots, st.integers(200, 20_000), st.sampled_from([0.01, 0.1, 0.5, 1]))
def test_a_pour_predicted_again_gives_its_count_back(lot, pieces, step):
    pour = grams_to_pour(pieces, lot, scale_step_g=step)
    again = predicted_count(lot, pour.volume_cm3)

    # Apart from the rounding to the scale's step.
    assert abs(again.budget.value - pieces) <= step / 2 / lot.piece_mass_g * (1 + 1e-9)
    assert pour.mass_g % Decimal(repr(float(step))) == 0


@given(st.integers(1, 20_000), st.integers(2, 20_000), st.integers(0, 2**32 - 1))
def test_a_count_by_lot_lies_in_any_band_and_is_never_round(low, width, seed):
    drawn = random_pour((low, low + width), np.random.default_rng(seed))

    assert low <= drawn <= low + width
    assert drawn % 5


@given(st.lists(st.floats(0.1, 80), min_size=3, max_size=3), st.floats(0.1, 1))
def test_what_is_smaller_all_round_fits_where_the_larger_does(size, shrink):
    large = tuple(sorted(size, reverse=True))
    small = tuple(shrink * s for s in large)

    assert fits_small_parts_cylinder(small) or not fits_small_parts_cylinder(large)


@pytest.mark.slow
@given(st.lists(lots, min_size=1, max_size=6, unique_by=lambda m: m.code), st.integers(6, 30))
def test_the_places_of_a_purchase_list_add_up_and_packages_cover_the_mass(chosen, places):
    package_g = {m.code: 500.0 for m in chosen}
    lines = purchase_list(chosen, Scooping(places, 80), package_g=package_g)

    assert sum(line.places for line in lines) == places
    assert all(0 <= 500 * line.packages - line.mass_g < 500 for line in lines)
