"""Pouring, cup filling, buying, carrying."""

import math
from decimal import Decimal

import numpy as np
import pytest

from nearmark.errors import InputError, MeasurementError
from nearmark.kit.cup_fill import cup_fill
from nearmark.kit.materials import material
from nearmark.kit.pour import BANDS, grams_to_pour, predicted_count, random_pour
from nearmark.kit.purchase import carried_mass, scoop_supply
from nearmark.kit.vessels import CupSize, vessel


def test_predicted_count_is_volume_times_density_over_piece_mass():
    # 1000 cm3 * 0.82 g/cm3 / 0.072 g = 11,389 (both published for one lot of green lentils).
    budget = predicted_count(material("lentil-green"), 1000)

    assert budget.value == pytest.approx(11_389, abs=1)
    # 2 % volume, 8 % density, 8 % piece mass: 11.5 %.
    assert budget.standard_uncertainty / budget.value == pytest.approx(0.115, abs=0.001)


def test_a_prediction_says_what_makes_it_unsure():
    budget = predicted_count(material("rice"), 500)

    assert max(budget.components, key=budget.share).name in {"bulk density", "mass of a piece"}


def test_the_grams_of_a_wanted_count_are_in_steps_of_the_scale():
    pour = grams_to_pour(1000, material("chickpea"), scale_step_g=0.5, piece_mass_g=0.4187)

    assert pour.mass_g == Decimal("418.5")
    assert pour.relative_u == pytest.approx(0.0115, abs=0.0005)


def test_the_catalogues_piece_mass_is_pointed_at():
    pour = grams_to_pour(1000, material("chickpea"), scale_step_g=0.1)

    assert "weigh 100 of your own first" in pour.warnings[0]
    assert pour.relative_u > 0.1


def test_what_does_not_fit_is_refused():
    with pytest.raises(MeasurementError, match="larger vessel"):
        grams_to_pour(5000, material("chickpea"), scale_step_g=0.1, vessel=vessel("jar-250"))


@pytest.mark.parametrize(("pieces", "step", "mass"), [(0, 0.1, None), (10, 0, None), (10, 0.1, -1)])
def test_impossible_pours_are_refused(pieces, step, mass):
    with pytest.raises(InputError):
        grams_to_pour(pieces, material("rice"), scale_step_g=step, piece_mass_g=mass)


@pytest.mark.parametrize("band", BANDS.values(), ids=BANDS)
def test_a_random_count_lies_in_its_band_and_is_never_round(band):
    rng = np.random.default_rng(5)
    drawn = [random_pour(band, rng) for _ in range(500)]

    assert all(band[0] <= n <= band[1] and n % 5 for n in drawn)
    # Uniform in the logarithm: half lie below the geometric mean (binomial, 4 sd = 0.09).
    below = np.mean([n < math.sqrt(band[0] * band[1]) for n in drawn])
    assert below == pytest.approx(0.5, abs=0.09)


@pytest.mark.parametrize("band", [(0, 10), (10, 10), (20, 10), (10, 11)])
def test_an_impossible_band_is_refused(band):
    with pytest.raises(InputError, match="band"):
        random_pour(band, np.random.default_rng(1))


def test_heavy_hardware_hardly_covers_the_bottom_of_a_cup():
    # 100 g / 3.6 g/cm3 = 28 mL in a 12 fl oz cup of 355 mL: 8 %.
    fill = cup_fill(material("hex-nut-m6"), CupSize(12, 8.5))

    assert fill.fill == pytest.approx(0.078, abs=0.001)
    assert "little to go by" in fill.warnings[0]


def test_light_stuff_overflows():
    assert "does not fit" in cup_fill(material("oat-ring"), CupSize(12, 8.5)).warnings[0]


def test_a_heavy_cup_hides_the_net_mass():
    fill = cup_fill(material("chickpea"), CupSize(12, 182.4))

    assert fill.tare_share == pytest.approx(0.646, abs=0.001)
    assert any("hides the net mass" in w for w in fill.warnings)


def test_a_usual_cup_raises_no_warning():
    assert cup_fill(material("split-pea"), CupSize(9, 6)).warnings == ()


def test_returned_material_needs_a_reserve_and_one_scoop_a_place():
    supply = scoop_supply(
        material("split-pea"), places=12, pairs=80, returned=True, package_g=900, spillage=0
    )

    assert supply.per_place_g == 2550
    assert supply.mass_g == 12 * 2550
    assert supply.packages == 34


def test_material_that_is_not_returned_needs_every_scoop():
    # 7 pairs a place: 7 * 106 + 2.326 * 37 * sqrt(7) = 970 g on top of the reserve.
    supply = scoop_supply(
        material("split-pea"), places=12, pairs=80, returned=False, package_g=900, spillage=0
    )

    assert supply.per_place_g == pytest.approx(2970, abs=1)


@pytest.mark.parametrize(
    ("contents", "words"),
    [(500, "light"), (9000, "an adult carries it"), (30_000, "smaller buckets")],
)
def test_who_carries_it(contents, words):
    load = carried_mass(contents, 420)

    assert words in load.words
    assert load.words.endswith("Follow your local rules.")


def test_a_negative_load_is_refused():
    with pytest.raises(InputError):
        carried_mass(-1, 420)
