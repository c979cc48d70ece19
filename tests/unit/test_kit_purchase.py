"""Cup filling, buying, carrying."""

import math

import pytest

from nearmark.errors import InputError
from nearmark.kit.cup_fill import cup_fill
from nearmark.kit.materials import material
from nearmark.kit.purchase import Scooping, carried_mass, purchase_list
from nearmark.kit.vessels import CupSize
from nearmark.words.kit_plans import cup_warnings, load_words

PEAS, NUTS, CEREAL = material("split-pea"), material("hex-nut-m6"), material("oat-ring")


def test_heavy_hardware_hardly_covers_the_bottom_of_a_cup():
    # 100 g / 3.6 g/cm3 = 28 mL in a 12 fl oz cup of 355 mL: 8 %; 100 g / 2.4 g = 42 nuts.
    fill = cup_fill(NUTS, CupSize(12, 8.5))

    assert (fill.fill, fill.pieces) == (pytest.approx(0.078, abs=0.001), 42)
    assert "little to go by" in cup_warnings(fill)[0]


@pytest.mark.parametrize(
    ("us_fl_oz", "warning"),
    # 100 g of oat rings at 0.12 g/cm3 are 833 mL: 28.2 fl oz.
    [(24, "does not fit"), (28.5, "the brim gives it away"), (40, None)],
)
def test_light_stuff_overflows(us_fl_oz, warning):
    warnings = cup_warnings(cup_fill(CEREAL, CupSize(us_fl_oz, 10)))

    assert len(warnings) == (warning is not None)
    assert warning is None or warning in warnings[0]


def test_a_heavy_cup_hides_the_net_mass():
    fill = cup_fill(material("chickpea"), CupSize(12, 182.4))

    assert fill.tare_share == pytest.approx(0.646, abs=0.001)
    assert "65 % of the gross mass" in cup_warnings(fill)[0]


def test_a_usual_cup_raises_no_warning():
    assert cup_fill(PEAS, CupSize(9, 6)).warnings == ()


@pytest.mark.parametrize("mass", [0, -1, math.inf, math.nan])
def test_an_impossible_mass_in_a_cup_is_refused(mass):
    with pytest.raises(InputError, match="mass"):
        cup_fill(PEAS, CupSize(9, 6), mass_g=mass)


@pytest.mark.parametrize("cup", [CupSize(0, 6), CupSize(9, -1), CupSize(math.inf, 6)])
def test_an_impossible_cup_is_refused(cup):
    with pytest.raises(InputError, match="cup"):
        cup_fill(PEAS, cup)


def test_returned_material_needs_a_reserve_and_one_scoop_a_place():
    (line,) = purchase_list([PEAS], Scooping(12, 80, spillage=0), package_g={"split-pea": 900})

    assert (line.places, line.per_place_g, line.mass_g) == (12, 2550, 12 * 2550)
    assert line.packages == 34  # 30,600 g in bags of 900 g


def test_material_that_is_not_returned_needs_every_scoop():
    # 7 pairs a place: 7 * 106 + 2.326 * 37 * sqrt(7) = 970 g on top of the reserve.
    scooping = Scooping(12, 80, returned=False, spillage=0)

    assert scooping.per_place_g(PEAS) == pytest.approx(2970, abs=1)


def test_nobody_scoops_more_than_the_largest_cup_holds():
    # 28 fl oz of 828 mL at 0.12 g/cm3: 99 g, not 550.
    assert Scooping(12, 80, reserve_g=0).per_place_g(CEREAL) == pytest.approx(99.4, abs=0.1)
    not_returned = Scooping(12, 80, returned=False, reserve_g=0)
    assert not_returned.per_place_g(CEREAL) == pytest.approx(7 * 99.4, abs=1)


def test_spillage_is_bought_on_top():
    bare, spilt = (
        purchase_list([PEAS], Scooping(3, 9, spillage=s), package_g={"split-pea": 1})[0].mass_g
        for s in (0, 0.1)
    )

    assert spilt == pytest.approx(1.1 * bare)


def test_places_are_shared_evenly_and_the_first_get_what_is_left():
    lines = purchase_list(
        [PEAS, NUTS, CEREAL],
        Scooping(11, 80),
        package_g={"split-pea": 900, "hex-nut-m6": 2400, "oat-ring": 400},
    )

    assert [line.places for line in lines] == [4, 4, 3]


def test_scooped_and_poured_material_is_bought_together():
    package_g = {"split-pea": 1000, "hex-nut-m6": 1000}
    lines = purchase_list(
        [PEAS],
        Scooping(2, 20, spillage=0),
        package_g=package_g,
        poured=[(PEAS, 300), (NUTS, 1500), (PEAS, 700)],
    )

    assert [(line.material.code, line.mass_g) for line in lines] == [
        ("split-pea", 2 * 2550 + 1000),
        ("hex-nut-m6", 1500),
    ]
    assert [line.packages for line in lines] == [7, 2]
    assert (lines[1].places, lines[1].per_place_g) == (0, 0)


@pytest.mark.parametrize(
    "wrong",
    [
        {"places": 0},
        {"pairs": 0},
        {"reserve_g": -1},
        {"reserve_g": math.nan},
        {"spillage": -0.1},
        {"spillage": 5},
    ],
)
def test_an_impossible_station_is_refused(wrong):
    with pytest.raises(InputError, match="out of range"):
        Scooping(**({"places": 12, "pairs": 80} | wrong))


def test_more_materials_than_places_are_refused():
    with pytest.raises(InputError, match="2 for 1 places"):
        purchase_list([PEAS, NUTS], Scooping(1, 9), package_g={})


def test_a_package_that_is_not_given_is_asked_for():
    with pytest.raises(InputError, match="package of split-pea"):
        purchase_list([PEAS], Scooping(2, 9), package_g={})
    with pytest.raises(InputError, match="package of split-pea"):
        purchase_list([PEAS], Scooping(2, 9), package_g={"split-pea": 0})


def test_a_negative_pour_is_refused():
    with pytest.raises(InputError, match="poured split-pea"):
        purchase_list([PEAS], Scooping(2, 9), package_g={"split-pea": 900}, poured=[(PEAS, -1)])


@pytest.mark.parametrize(
    ("contents", "words"),
    # 420 g of bucket on top.
    [
        (2580, "light"),
        (2590, "an adult carries it, never a child"),
        (22_580, "an adult carries it"),
        (22_590, "above 23 kg, split it"),
    ],
)
def test_who_carries_it(contents, words):
    load = carried_mass(contents, 420)

    assert words in load_words(load)
    assert load_words(load).endswith("Follow your local rules.")


@pytest.mark.parametrize("masses", [(-1, 420), (420, -1), (math.nan, 1), (1, math.inf)])
def test_an_impossible_load_is_refused(masses):
    with pytest.raises(InputError):
        carried_mass(*masses)
