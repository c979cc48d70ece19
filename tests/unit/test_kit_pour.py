"""Predicting, pouring, drawing by lot."""

import math
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from nearmark.errors import InputError, MeasurementError
from nearmark.kit.materials import material
from nearmark.kit.pour import grams_to_pour
from nearmark.kit.prediction import predicted_count
from nearmark.kit.random_pour import BANDS, random_pour
from nearmark.kit.vessels import Vessel, vessel
from nearmark.words.kit_plans import pour_warning

PEAS = material("split-pea")


def test_predicted_count_is_volume_times_density_over_piece_mass():
    # 1000 cm3 * 0.82 g/cm3 / 0.072 g = 11,389 (both published for one lot of green lentils).
    prediction = predicted_count(material("lentil-green"), 1000)

    assert prediction.pieces == 11_389
    # 2 % volume, 8 % density, 8 % piece mass: 11.5 %.
    u = prediction.budget.standard_uncertainty / prediction.budget.value
    assert u == pytest.approx(math.sqrt(0.02**2 + 2 * 0.08**2))


def test_a_heavier_piece_means_fewer_pieces():
    volume, bulk, piece = predicted_count(PEAS, 1000).budget.components

    assert volume.sensitivity > 0
    assert bulk.sensitivity > 0
    assert piece.sensitivity < 0


def test_a_packing_fraction_predicts_the_same_as_volume_shared_out():
    # 1000 cm3 of marbles: 59.5 % solid, 2.5 g/cm3, 5.4 g each: 275.
    assert predicted_count(material("marble-16"), 1000).pieces == round(1000 * 0.595 * 2.5 / 5.4)


def test_the_interval_of_a_prediction_is_lognormal():
    # Relative u 21.3 %: sigma of the logarithm sqrt(ln(1 + 0.213^2)) = 0.2106; exp(1.96 * that)
    # = 1.511, worked by hand.
    prediction = predicted_count(material("coffee-bean"), 1000)
    low, high = prediction.between

    assert high / prediction.budget.value == pytest.approx(1.511, abs=0.002)
    assert prediction.budget.value / low == pytest.approx(1.511, abs=0.002)


@pytest.mark.parametrize(
    ("own", "volume_u", "dominant"),
    [
        ({"piece_mass_g": 0.1}, 0.02, "bulk density"),
        ({"bulk_density_g_cm3": 0.8}, 0.02, "mass of a piece"),
        ({"piece_mass_g": 0.1, "bulk_density_g_cm3": 0.8}, 0.1, "filled volume"),
    ],
)
def test_a_prediction_says_what_makes_it_most_unsure(own, volume_u, dominant):
    rows = predicted_count(PEAS.with_own(**own), 500, volume_u=volume_u).budget.components
    assert max(rows, key=lambda row: row.contribution).name == dominant


@pytest.mark.parametrize(
    ("volume", "u"), [(0, 0.1), (-1, 0.1), (math.inf, 0.1), (100, -0.1), (100, 2), (100, math.nan)]
)
def test_an_impossible_volume_is_refused(volume, u):
    with pytest.raises(InputError, match="volume"):
        predicted_count(PEAS, volume, volume_u=u)


def test_the_grams_of_a_wanted_count_are_in_steps_of_the_scale():
    pour = grams_to_pour(1000, material("chickpea"), scale_step_g=0.5, piece_mass_g=0.4187)

    assert pour.mass_g == Decimal("418.5")
    # 1 % of the mass of a piece, 18 % / sqrt(1000) of the pieces, 0.5 g / sqrt(12) of the scale.
    expected = math.hypot(0.01, 0.18 / math.sqrt(1000), 0.5 / math.sqrt(12) / 418.5)
    assert pour.relative_u == pytest.approx(expected)


@pytest.mark.parametrize("step", [0.01, 0.1, 0.2, 1, 5])
def test_a_pour_is_a_whole_number_of_steps_nearest_to_the_count(step):
    pour = grams_to_pour(777, PEAS, scale_step_g=step, piece_mass_g=0.1013)

    assert pour.mass_g % Decimal(repr(step)) == 0
    assert abs(float(pour.mass_g) - 777 * 0.1013) <= step / 2 + 1e-9


def test_without_a_vessel_nothing_is_said_of_filling():
    pour = grams_to_pour(777, PEAS, scale_step_g=0.1, piece_mass_g=0.1)

    assert (pour.fill, pour.height_cm, pour.warnings) == (None, None, ())


def test_a_vessel_is_filled_to_a_share_and_a_height():
    # 5000 peas of 0.1 g: 500 g; at 0.8 g/cm3 625 cm3; over 15 x 15 cm that is 2.78 cm of 11.1.
    lot = PEAS.with_own(piece_mass_g=0.1, bulk_density_g_cm3=0.8)
    pour = grams_to_pour(5000, lot, scale_step_g=0.1, vessel=vessel("tub-2500"))

    assert pour.fill == pytest.approx(625 / (15 * 15 * 11.1))
    assert pour.height_cm == pytest.approx(625 / 225)
    assert pour.warnings == ()


def test_the_catalogues_piece_mass_is_pointed_at():
    pour = grams_to_pour(1000, material("chickpea"), scale_step_g=0.1)

    assert "weigh 100 of your own first" in pour_warning(pour.warnings[0])
    assert "15 %" in pour_warning(pour.warnings[0])
    assert pour.relative_u > 0.15


def test_a_note_of_the_material_is_told():
    pour = grams_to_pour(400, material("coin-cent"), scale_step_g=0.1)

    assert "3.11 g" in pour_warning(pour.warnings[1])


def box(height_cm):
    return Vessel("b", "box", "box", (10.0, 10.0, height_cm), 1)


LOT = PEAS.with_own(piece_mass_g=0.1, bulk_density_g_cm3=0.8, bulk_density_u=0.03)


@pytest.mark.parametrize(
    ("height_cm", "warning"),
    # 8000 peas: 1000 cm3, 10 cm in a box of 10 x 10, sure to 3 %.
    [(9.6, "may not fit"), (10.5, "may not fit"), (40.5, "too few layers"), (20, None)],
)
def test_a_vessel_that_hardly_suits_is_pointed_at(height_cm, warning):
    warnings = grams_to_pour(8000, LOT, scale_step_g=0.1, vessel=box(height_cm)).warnings

    assert len(warnings) == (warning is not None)
    assert warning is None or warning in pour_warning(warnings[0])


def test_a_vessel_that_is_nearly_full_may_not_close():
    sure = replace(LOT, bulk_density=replace(LOT.bulk_density, relative_u=0.005))
    pour = grams_to_pour(8000, sure, scale_step_g=0.1, vessel=box(10.3))

    assert "may not close" in pour_warning(pour.warnings[0])


def test_what_cannot_fit_is_refused():
    with pytest.raises(MeasurementError, match=r"fill box to 111 %\. Choose|larger vessel"):
        grams_to_pour(8000, LOT, scale_step_g=0.1, vessel=box(9))


@pytest.mark.parametrize(
    ("diameter_cm", "narrow"),
    # Marbles of 16 mm: six side by side are 9.6 cm.
    [(9.5, True), (9.7, False)],
)
def test_a_vessel_narrow_for_its_pieces_is_pointed_at(diameter_cm, narrow):
    lot = material("marble-16").with_own(piece_mass_g=5.4)
    jar = Vessel("j", "jar", "cylinder", (diameter_cm, 12.0), 1)
    warnings = grams_to_pour(150, lot, scale_step_g=1, vessel=jar).warnings

    assert any("walls loosen the heap" in pour_warning(w) for w in warnings) is narrow


@pytest.mark.parametrize(
    ("pieces", "step", "mass"),
    [(0, 0.1, None), (10, 0, None), (10, math.inf, None), (10, 0.1, -1), (10, 0.1, math.nan)],
)
def test_impossible_pours_are_refused(pieces, step, mass):
    with pytest.raises(InputError):
        grams_to_pour(pieces, PEAS, scale_step_g=step, piece_mass_g=mass)


def test_less_than_a_step_of_the_scale_cannot_be_poured():
    with pytest.raises(MeasurementError, match="less than one step"):
        grams_to_pour(2, material("rice"), scale_step_g=1)


@pytest.mark.parametrize("band", BANDS.values(), ids=BANDS)
def test_a_random_count_lies_in_its_band_and_is_never_round(band):
    rng = np.random.default_rng(5)
    drawn = [random_pour(band, rng) for _ in range(500)]

    assert all(band[0] <= n <= band[1] and n % 5 for n in drawn)
    # Uniform in the logarithm: half lie below the geometric mean (binomial, 4 sd = 0.09).
    below = np.mean([n < math.sqrt(band[0] * band[1]) for n in drawn])
    assert below == pytest.approx(0.5, abs=0.09)


def test_a_seed_repeats_its_draw_and_another_does_not():
    def draws(seed):
        rng = np.random.default_rng(seed)
        return [random_pour(BANDS["large"], rng) for _ in range(5)]

    assert draws(1) == draws(1) != draws(2)


def test_the_narrowest_band_still_yields_a_count():
    assert random_pour((4, 6), np.random.default_rng(1)) in {4, 6}


@pytest.mark.parametrize("band", [(0, 10), (10, 10), (20, 10), (10, 11)])
def test_an_impossible_band_is_refused(band):
    with pytest.raises(InputError, match="band"):
        random_pour(band, np.random.default_rng(1))
