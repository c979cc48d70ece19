"""Scales, rulers and readings: what no instrument can mean is refused."""

import math
from dataclasses import replace

import pytest

from nearmark.errors import InputError, TooFewReadings, UnitError
from nearmark.measurement.instruments import Instrument, Reading, certified_gain_u, checked_reading

SCALE = Instrument("bench scale", "g", 0.1, capacity=6000)


def test_one_reading_has_no_scatter():
    assert Reading((61.2,), SCALE).type_a() is None


def test_no_reading_has_no_mean():
    with pytest.raises(TooFewReadings, match="bench scale"):
        _ = Reading((), SCALE).mean


@pytest.mark.parametrize(
    ("indications", "kind"),
    [
        ((), InputError),
        ((0.0,), InputError),
        ((-1.0,), InputError),
        ((math.nan,), InputError),
        ((math.inf,), InputError),
        ((7000.0,), InputError),
        ((0.0612,), UnitError),
        ((61.2, -61.2), InputError),
    ],
)
def test_what_no_scale_can_mean_is_refused(indications, kind):
    with pytest.raises(kind) as refusal:
        checked_reading(indications, SCALE, "sample 1")

    assert refusal.value.where == "sample 1"
    assert refusal.value.mend


def test_a_tared_scale_may_show_zero():
    assert checked_reading((0.0,), SCALE, "tare", zero_allowed=True).mean == 0


def test_a_scale_may_show_its_capacity_and_one_step():
    assert checked_reading((6000.0, 0.1), SCALE, "gross").n == 2


@pytest.mark.parametrize(
    "change",
    [
        {"resolution": 0},
        {"resolution": math.nan},
        {"resolution": math.inf},
        {"gain_u": -1},
        {"linearity_u": math.inf},
        {"capacity": 0},
        {"capacity": math.nan},
    ],
)
def test_an_impossible_instrument_is_refused(change):
    with pytest.raises(InputError, match="bench scale"):
        replace(SCALE, **change)


@pytest.mark.parametrize(
    ("indication", "resolution"),
    [(0.3, 0.1), (61.2, 0.1), (99_999.9, 0.1), (1.15, 0.05), (3914.2, 0.2), (0.0, 0.1)],
)
def test_a_whole_number_of_steps_can_be_shown(indication, resolution):
    assert Instrument("scale", "g", resolution).can_show(indication)


@pytest.mark.parametrize(
    ("indication", "resolution"),
    [(0.35, 0.1), (61.25, 0.1), (99_999.95, 0.1), (3914.1, 0.2), (2_000_000.5, 1.0)],
)
def test_part_of_a_step_cannot_be_shown_however_heavy_the_load(indication, resolution):
    assert not Instrument("scale", "g", resolution).can_show(indication)


def test_a_certificate_gives_the_uncertainty_of_the_scale_factor():
    """EA-4/02, S2 (opened, see test_against_ea402.py): U = 45 mg, k = 2 at 10 kg."""
    assert certified_gain_u(0.045, 2, 10_000) == pytest.approx(22.5e-3 / 10_000)
    assert certified_gain_u(0.001, 2, 0.5) == pytest.approx(0.001)  # below one of the unit, too


@pytest.mark.parametrize("numbers", [(-0.1, 2, 1000), (0.1, 0, 1000), (0.1, 2, 0)])
def test_a_certificate_of_impossible_numbers_is_refused(numbers):
    with pytest.raises(InputError):
        certified_gain_u(*numbers)


def test_a_zero_is_stated_without_a_sign():
    with pytest.raises(InputError, match="zero_u must be zero or more"):
        Instrument("ruler", "cm", 0.1, zero_u=-0.1)
