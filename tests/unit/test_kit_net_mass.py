"""Net mass of a cup with its own tare or that of its batch."""

import math
from decimal import Decimal

import pytest

from nearmark.errors import InputError, ReadingsDisagree, TooFewReadings, UnitError
from nearmark.kit import batch_tare, net_mass
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.words.key_advice import advice_words
from nearmark.words.key_remarks import warning_words
from nearmark.words.kit_plans import batch_words
from nearmark.words.results_json import assigned_as_json

SCALE = Instrument("bench scale", "g", 0.1)
BATCH = (12.3, 12.4, 12.4, 12.5, 12.4)


def net(gross=(131.2,), tare=(24.1,), scale=SCALE, **more):
    return net_mass(Reading(gross, scale), Reading(tare, scale), **more)


def row(result, name):
    (found,) = (c for c in result.budget.components if c.name == name)
    return found


def test_the_key_is_the_decimal_difference_of_what_was_read():
    # as floats 131.2 - 24.1 is 107.1 only nearly
    assert net().key == Decimal("107.1")
    assert net(gross=(0.3,), tare=(0.1,)).key == Decimal("0.2")


def test_own_tare_counts_the_resolution_twice():
    # sqrt(2) * 0.1 / sqrt(12) = 0.0408248 g; both rectangular, so k = 1.96
    result = net()

    assert result.u == pytest.approx(0.0408248, abs=1e-7)
    assert result.budget.dof == math.inf
    assert assigned_as_json(result)["dof"] is None
    assert result.fit


def test_repeated_readings_use_their_scatter_when_it_is_larger():
    # gross 131.0 131.4: sd 0.282843, u 0.2 g; tare 0.0288675 g
    result = net(gross=(131.0, 131.4))

    assert result.u == pytest.approx(math.hypot(0.2, 0.0288675), abs=1e-6)
    assert result.key == Decimal("107.1")


def test_the_gain_of_one_scale_scales_the_net():
    scale = Instrument("bench scale", "g", 0.1, gain_u=0.002)

    gain = row(net(scale=scale), "calibration (gain) of bench scale")
    assert gain.contribution == pytest.approx(0.002 * 107.1)


def test_a_tare_from_another_scale_keeps_both_gains():
    fine = Instrument("pocket scale", "g", 0.01, gain_u=0.001)
    scale = Instrument("bench scale", "g", 0.1, gain_u=0.002)
    result = net_mass(Reading((131.2,), scale), Reading((24.1,), fine))

    assert row(result, "calibration (gain) of bench scale").contribution == pytest.approx(0.2624)
    assert row(result, "calibration (gain) of pocket scale").contribution == pytest.approx(0.0241)


def test_linearity_counts_once_for_the_net():
    scale = Instrument("bench scale", "g", 0.1, linearity_u=0.05)

    assert row(net(scale=scale), "linearity of the net reading").contribution == 0.05


def test_a_zeroed_scale_gives_a_tare_of_zero():
    assert net(gross=(107.1,), tare=(0.0,)).key == Decimal("107.1")


def test_a_batch_counts_the_scatter_of_single_cups_not_of_their_mean():
    # sd of BATCH = 0.0707107 g; one cup against the mean of five: 0.0707107 * sqrt(1 + 1/5)
    result = net(tare=(12.4,), batch_tares_g=BATCH)

    cups = [row(result, n) for n in ("spread of the cups", "mean of the cups weighed")]
    assert [c.u for c in cups] == pytest.approx([0.0707107, 0.0316228], abs=1e-6)
    assert {c.dof for c in cups} == {4}
    # joined before Welch-Satterthwaite: with the gross resolution 0.0288675 g
    u_cups = 0.0707107 * math.sqrt(1.2)
    assert result.u == pytest.approx(math.hypot(u_cups, 0.0288675), abs=1e-6)
    assert result.budget.dof == pytest.approx(4 * (result.u / u_cups) ** 4, rel=1e-5)


def test_a_batch_that_agrees_to_the_last_digit_keeps_the_resolution():
    result = net(tare=(12.4,), batch_tares_g=(12.4,) * 4)

    assert result.u == pytest.approx(0.0408248, abs=1e-6)


def test_the_tare_must_be_that_of_the_batch():
    with pytest.raises(ReadingsDisagree, match=r"mean of the batch is 12\.4 g"):
        net(tare=(24.1,), batch_tares_g=BATCH)


def test_two_cups_are_no_batch():
    with pytest.raises(TooFewReadings, match="batch of cups: at least 3 needed"):
        net(tare=(12.4,), batch_tares_g=(12.4, 12.4))


def test_an_unfit_net_mass_says_what_to_change():
    uneven = (11.0, 12.4, 13.8, 12.4)
    result = net(gross=(112.4,), tare=(12.4,), batch_tares_g=uneven)

    assert not result.fit
    assert advice_words(result.advice[0]).endswith("spread of the cups: weigh each cup")
    coarse = Instrument("kitchen scale", "g", 5.0)
    assert "a finer scale" in advice_words(
        net(gross=(130.0,), tare=(25.0,), scale=coarse).advice[0]
    )


@pytest.mark.parametrize("gross", [24.1, 20.0])
def test_gross_must_be_above_tare(gross):
    with pytest.raises(InputError, match="gross is not above tare"):
        net(gross=(gross,))


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_an_impossible_gross_is_refused(value):
    with pytest.raises(InputError, match=r"^gross:"):
        net(gross=(value,))


def test_an_impossible_limit_is_refused():
    with pytest.raises(InputError, match="u_limit"):
        net(u_limit=0.0)


def test_kilograms_are_recognised_by_the_step_of_the_scale():
    with pytest.raises(UnitError, match="smaller than one step"):
        net(tare=(0.0241,))


def test_a_cup_of_more_than_a_hundred_kilograms_asks_for_the_decimal_point():
    with pytest.raises(UnitError, match="more than 100000 g"):
        net(gross=(1.312e6,))


def test_a_gross_off_the_grid_and_swapped_digits_are_pointed_at():
    assert "a digit slip?" in warning_words(net(gross=(131.23,)).warnings[0])
    assert any(
        "digits swapped?" in text
        for text in map(warning_words, net(gross=(131.2, 131.3, 113.2)).warnings)
    )


def test_alike_cups_are_good_enough_and_worth_a_fraction_of_a_point():
    # t(4) = 2.7764 * 0.0707107 * sqrt(1.2) = 0.21506 g on 100 g
    batch = batch_tare(BATCH, SCALE)

    assert batch.points == pytest.approx(0.21506, abs=1e-4)
    assert not batch.outlying
    assert batch.is_good_enough
    assert batch_words(batch).endswith("by 0.2 points: good enough")


def test_uneven_cups_are_to_be_weighed_each():
    batch = batch_tare([11.0, 12.4, 13.8, 12.4, 11.9, 13.0], SCALE)

    assert not batch.outlying
    assert not batch.is_good_enough
    assert batch_words(batch).endswith("weigh each cup")


def test_the_cup_that_does_not_belong_is_named():
    batch = batch_tare([12.4, 12.4, 15.1, 12.4, 9.0], SCALE)

    assert batch.outlying == (3, 5)
    assert not batch.is_good_enough
    assert batch_words(batch).startswith("Cup 3 (15.1 g) and 1 more do not belong")


def test_a_cup_one_step_off_is_not_foreign():
    assert not batch_tare([12.4, 12.4, 12.5, 12.4], SCALE).outlying


def test_an_impossible_cup_is_named():
    with pytest.raises(InputError, match="cup 2"):
        batch_tare([12.4, -12.4, 12.4], SCALE)


def test_the_target_must_be_above_zero():
    with pytest.raises(InputError, match="target mass"):
        batch_tare(BATCH, SCALE, target_g=0.0)
