"""Cups and vessels: exact sizes, volumes and heights that undo each other, bad entries named."""

import math

import pytest

from nearmark.errors import InputError
from nearmark.kit.vessels import Vessel, cup_from, cup_sizes, vessel, vessel_from, vessels


def test_cups_run_from_8_to_28_fluid_ounces():
    assert [c.us_fl_oz for c in cup_sizes()] == [8, 9, 10, 12, 14, 16, 18, 20, 24, 28]


def test_a_larger_cup_weighs_more():
    tares = [c.tare_g for c in cup_sizes()]

    assert tares == sorted(tares)


@pytest.mark.parametrize("each", vessels().values(), ids=lambda v: v.code)
def test_a_vessel_fills_from_nothing_to_its_volume(each):
    assert each.volume_to(0) == 0
    assert 0 < each.volume_to(each.height_cm / 2) < each.volume_cm3
    for outside in (-0.1, each.height_cm + 0.1, math.nan):
        with pytest.raises(InputError, match="fill height"):
            each.volume_to(outside)


@pytest.mark.parametrize("each", vessels().values(), ids=lambda v: v.code)
def test_the_height_of_a_volume_undoes_the_volume_to_a_height(each):
    for share in (0.0, 0.1, 0.5, 0.99):
        height = each.height_cm * share
        assert each.height_of(each.volume_to(height)) == pytest.approx(height, abs=1e-9)
    assert each.height_of(each.volume_cm3) == pytest.approx(each.height_cm)
    assert each.height_of(each.volume_cm3 * 1.01) is None


@pytest.mark.parametrize("each", vessels().values(), ids=lambda v: v.code)
def test_a_code_states_the_volume_within_four_percent(each):
    assert each.volume_cm3 == pytest.approx(float(each.code.split("-")[1]), rel=0.04)


def test_a_tapered_vessel_is_a_frustum():
    # Worked by hand: d 10 to 20, h 12: pi/12 * 12 * (100 + 200 + 400) = 700 pi.
    frustum = Vessel("x", "x", "taper", (10.0, 20.0, 12.0), 1)

    assert frustum.volume_cm3 == pytest.approx(700 * math.pi)
    assert frustum.narrowest_cm == 10


def test_a_misspelt_vessel_names_the_nearest():
    with pytest.raises(InputError, match="Did you mean jar-1000"):
        vessel("jar-100")


GOOD = {"code": "v", "name": "v", "shape": "box", "sizes_cm": [9, 9, 6], "tare_g": 35}


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"shape": "ball"}, "shape"),
        ({"sizes_cm": [9, 6]}, "sizes_cm"),
        ({"sizes_cm": [9, 9, 0]}, "sizes_cm"),
        ({"shape": "cylinder"}, "sizes_cm"),
        ({"tare_g": "35"}, "tare_g"),
        ({"colour": "red"}, "colour"),
        ({"name": " "}, "name"),
    ],
)
def test_a_bad_vessel_names_the_field(change, field):
    with pytest.raises(InputError) as refusal:
        vessel_from(GOOD | change)

    assert refusal.value.where == f"vessel v, {field}"


@pytest.mark.parametrize(
    ("entry", "field"),
    [
        ({"us_fl_oz": 0, "tare_g": 5}, "us_fl_oz"),
        ({"us_fl_oz": 8}, "tare_g"),
        ({"us_fl_oz": 8, "tare": 5}, "tare"),
    ],
)
def test_a_bad_cup_names_the_field(entry, field):
    with pytest.raises(InputError) as refusal:
        cup_from(entry)

    assert refusal.value.where.endswith(f"fl oz, {field}")
