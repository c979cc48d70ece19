"""A true value agrees with its parts, or is refused."""

import pytest

from nearmark.coaching.true_value import agreed_volume, box_volume, check_layers
from nearmark.errors import InputError


def test_a_box_without_a_volume_takes_that_of_its_sides():
    assert agreed_volume(None, [10, 6, 5]) == 300
    assert box_volume([12.4, 8.0, 6.5]) == 644.8


@pytest.mark.parametrize("written", [999, 30, 3000, 320, 280])
def test_a_volume_that_the_sides_contradict_is_refused(written):
    with pytest.raises(InputError, match="10 x 6 x 5 cm are 300 cm3"):
        agreed_volume(written, [10, 6, 5])


@pytest.mark.parametrize("side", [5.0, 8.3, 12.4, 30.0])
def test_sides_rounded_to_a_millimetre_contradict_nothing(side):
    sides = [side, 6.0, 8.0]  # each up to half a millimetre longer
    assert agreed_volume((side + 0.05) * 6.05 * 8.05, sides)


def test_a_volume_with_neither_number_nor_sides_is_refused():
    with pytest.raises(InputError, match="missing"):
        agreed_volume(None, None)


def test_layers_may_lie_in_each_other_but_no_factor_of_ten():
    check_layers(303, 37, 11)  # 407: the next layer is seen through the gaps
    with pytest.raises(InputError, match="10 layers of 42 are 420"):
        check_layers(4200, 42, 10)
