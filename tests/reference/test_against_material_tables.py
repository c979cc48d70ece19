"""Catalogue, conversions and geometry against published tables.

What was read of each source is in ``kit/catalogue/sources.toml``; figures here that are not in
the catalogue (porosity, mean diameter, least dimensions) were read in the same place.
"""

import math

import pytest

from nearmark.kit.cautions import SMALL_PARTS_DEPTH_MM, SMALL_PARTS_DIAMETER_MM
from nearmark.kit.counting import count_by_weighing
from nearmark.kit.figures import DEFAULT_U
from nearmark.kit.materials import ALLERGENS, material
from nearmark.kit.prediction import predicted_count
from nearmark.kit.purchase import LIFTING_LIMIT_KG
from nearmark.kit.unit_mass import Sample
from nearmark.kit.vessels import cup_sizes
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.units import cm_from_inches, ml_from_us_fl_oz

STEEL_G_CM3 = 7.85
"""The density the fastener tables themselves state."""

CUP_ML = 236.588


@pytest.mark.parametrize(
    ("code", "mass_g", "diameter_mm", "thickness_mm"),
    # United States Mint, Coin specifications.
    [
        ("coin-cent", 2.500, 19.05, 1.52),
        ("coin-five-cents", 5.000, 21.21, 1.95),
        ("coin-dime", 2.268, 17.91, 1.35),
        ("coin-quarter", 5.670, 24.26, 1.75),
    ],
)
def test_coins_are_as_the_mint_specifies(code, mass_g, diameter_mm, thickness_mm):
    coin = material(code)

    assert coin.piece_mass_g == mass_g
    assert coin.size_mm == (diameter_mm, diameter_mm, thickness_mm)


@pytest.mark.parametrize(
    ("mass_g", "pieces"),
    # 100 g of five-cent coins are twenty, of cents forty, of dimes 44.09: 44.
    [(5.000, 20), (2.500, 40), (2.268, 44)],
)
def test_a_hundred_grams_of_coins_are_counted_by_weighing(mass_g, pieces):
    scale = Instrument("bench scale", "g", 0.1)
    samples = [Sample(10, 10 * mass_g)] * 3
    counted = count_by_weighing(samples, Reading((112.3,), scale), Reading((12.3,), scale))

    assert counted.key == pieces


def test_a_fluid_ounce_is_a_128th_of_231_cubic_inches():
    # The US gallon is 231 cubic inches by definition: NIST Handbook 44, appendix C (from memory).
    assert ml_from_us_fl_oz(128) == pytest.approx(231 * cm_from_inches(1) ** 3, rel=1e-14)


@pytest.mark.parametrize(
    ("computed", "published"),
    # NIST SP 811 (2008), appendix B.8 (from memory).
    [
        (ml_from_us_fl_oz(1), 29.57353),
        (ml_from_us_fl_oz(8), 236.5882),
        (ml_from_us_fl_oz(128), 3785.412),
        (cm_from_inches(1), 2.54),
    ],
)
def test_conversions_of_sp_811(computed, published):
    assert computed == pytest.approx(published, rel=2e-7)


def test_the_brims_of_the_cups_in_millilitres():
    # Worked by hand from 29.5735 mL.
    brims = [237, 266, 296, 355, 414, 473, 532, 591, 710, 828]

    assert [round(c.brim_ml) for c in cup_sizes()] == brims


NUTS = [
    # Across flats and height, greatest and least (DIN 934, as reprinted); minor diameter of the
    # coarse thread, ISO 724 (from memory).
    ("hex-nut-m5", (8.00, 4.0), (7.78, 3.70), 4.134),
    ("hex-nut-m6", (10.00, 5.0), (9.78, 4.70), 4.917),
    ("hex-nut-m8", (13.00, 6.5), (12.73, 6.14), 6.647),
]


def nut_g(size_mm, bore_mm):
    """Hexagonal prism with a bore."""
    across_flats_mm, height_mm = size_mm
    face = math.sqrt(3) / 2 * across_flats_mm**2 - math.pi / 4 * bore_mm**2
    return face * height_mm / 1000 * STEEL_G_CM3


@pytest.mark.parametrize(("code", "greatest", "least", "bore_mm"), NUTS)
def test_a_nut_weighs_what_its_geometry_gives(code, greatest, least, bore_mm):
    # Thread grooves and chamfers take some percent off the prism of the least dimensions.
    mass = material(code).piece_mass_g

    assert 0.95 * nut_g(least, bore_mm) < mass < nut_g(greatest, bore_mm)


@pytest.mark.parametrize(("code", "greatest", "least", "bore_mm"), NUTS)
def test_a_nut_is_as_wide_over_corners_as_its_flats_allow(code, greatest, least, bore_mm):
    # The table states the least width across corners; a sharp hexagon is 2 / sqrt(3) as wide.
    corners, flats, height = material(code).size_mm

    assert (flats, height) == greatest
    assert least[0] < corners < 2 / math.sqrt(3) * greatest[0]
    assert bore_mm < flats


@pytest.mark.parametrize(
    ("code", "bolt_hole_mm"), [("washer-m5", 5.3), ("washer-m6", 6.4), ("washer-m8", 8.4)]
)
def test_a_washer_weighs_what_its_geometry_gives(code, bolt_hole_mm):
    # DIN 125 / ISO 7089; the table's masses are rounded to three digits.
    washer = material(code)
    outer, _, thick = washer.size_mm
    ring_g = math.pi / 4 * (outer**2 - bolt_hole_mm**2) * thick / 1000 * STEEL_G_CM3

    assert washer.piece_mass_g == pytest.approx(ring_g, rel=0.005)


@pytest.mark.parametrize(
    ("code", "per_thousand_g", "bulk_kg_m3"),
    [
        ("lentil-green", 72.00, 820),
        ("lentil-yellow", 15.1, 750.27),
        ("chickpea-black", 100.18, 780.58),
        ("green-pea", 188.89, 670.70),
        ("soybean", 103.57, 749.1),
        ("popcorn", 136, 771),
        ("sweet-corn", 220, 765),
        ("sunflower-kernel", 36, 535),
        ("black-eyed-pea", 245.4, 637.80),
        ("white-bean", 643, 1110 * (1 - 0.3689)),
    ],
)
def test_published_grains(code, per_thousand_g, bulk_kg_m3):
    grain = material(code)

    assert 1000 * grain.piece_mass_g == pytest.approx(per_thousand_g)
    assert 1000 * grain.bulk_density.value == pytest.approx(bulk_kg_m3, rel=1e-3)
    assert grain.piece_mass.is_published
    assert grain.bulk_density.is_published
    # A litre holds its mass divided by the mass of a piece.
    by_mass = bulk_kg_m3 / (per_thousand_g / 1000)
    assert predicted_count(grain, 1000).pieces == pytest.approx(by_mass, rel=1e-3)


@pytest.mark.parametrize(
    ("code", "porosity_percent"),
    # Published beside the densities, not used by the catalogue.
    [
        ("lentil-green", 29.91),
        ("lentil-yellow", 37.49),
        ("chickpea-black", 39.90),
        ("green-pea", 40.75),
        ("soybean", 40.07),
        ("popcorn", 40.87),
        ("black-eyed-pea", 40.05),
        ("sunflower-kernel", 47.2),
    ],
)
def test_bulk_and_particle_density_give_the_published_porosity(code, porosity_percent):
    # Tolerance: three digits of the published densities, 0.1 percentage points.
    assert 100 * (1 - material(code).packing_fraction) == pytest.approx(porosity_percent, abs=0.1)


@pytest.mark.parametrize(
    ("code", "mean_diameter_mm"),
    # Published geometric mean of the three sizes (mean over grains, so up to 2 % beside the mean
    # sizes').
    [
        ("lentil-green", 4.879),
        ("lentil-yellow", 2.82),
        ("green-pea", 5.90),
        ("soybean", 5.44),
        ("popcorn", 5.54),
        ("sweet-corn", 6.18),
        ("chickpea-split", 4.58),
        ("black-eyed-pea", 7.16),
        ("sunflower-kernel", 4.01),
    ],
)
def test_sizes_give_the_published_mean_diameter(code, mean_diameter_mm):
    mean = math.prod(material(code).size_mm) ** (1 / 3)

    assert mean == pytest.approx(mean_diameter_mm, rel=0.02)


@pytest.mark.parametrize(
    ("code", "cup_g"),
    # USDA Standard Reference, household weights: grams in a US cup.
    [
        ("rice", 185),
        ("rice-short", 200),
        ("barley", 200),
        ("wheat", 192),
        ("lentil-red", 192),
        ("split-pea", 197),
        ("chickpea", 200),
        ("mung-bean", 207),
        ("black-bean", 194),
        ("pinto-bean", 193),
        ("kidney-bean", 184),
        ("elbow-pasta", 105),
        ("twist-pasta", 84),
        ("shell-pasta", 93),
        ("gumdrop", 182),
        ("marshmallow", 50),
    ],
)
def test_a_cup_of_food_weighs_what_the_usda_found(code, cup_g):
    food = material(code)

    assert food.bulk_density.source == "usda-sr"
    # Three decimals of the density: 0.12 g in a cup.
    assert food.bulk_density.value * CUP_ML == pytest.approx(cup_g, abs=0.12)


def test_published_bulk_densities_of_two_sources_differ_as_their_stated_uncertainty_says():
    # USDA grams in a cup beside an independent publication of the same kind of grain.
    cup_g = {"lentil-green": 192, "soybean": 186, "black-eyed-pea": 167, "navy-bean": 208}
    apart = [math.log(g / CUP_ML / material(code).bulk_density.value) for code, g in cup_g.items()]
    root_mean_square = math.sqrt(sum(x * x for x in apart) / len(apart))

    # Each source is off by u, so two differ by sqrt(2) u; four pairs tell it within a factor of 2.
    assert 0.5 < root_mean_square / (math.sqrt(2) * DEFAULT_U["lot"]) < 2


def test_marbles_in_a_litre_lie_between_loose_and_close_random_packing():
    # Equal spheres fill 55 % settled gently, 64 % shaken.
    sphere_cm3 = math.pi / 6 * 1.6**3
    low, high = predicted_count(material("marble-16"), 1000).between

    assert low < 1000 * 0.55 / sphere_cm3
    assert high > 1000 * 0.64 / sphere_cm3
    # A glass sphere of 16 mm at 2.5 g/cm3: 5.36 g.
    assert material("marble-16").piece_mass_g == pytest.approx(2.5 * sphere_cm3, rel=0.01)


def test_the_nine_major_allergens_are_those_of_the_law():
    # FALCPA 2004: the first eight; FASTER Act 2021: sesame.
    law = "milk, egg, fish, crustacean shellfish, tree nuts, wheat, peanuts, soybeans, sesame"

    assert sorted(ALLERGENS) == sorted(law.split(", "))


def test_the_small_parts_cylinder_is_as_the_rule_approximates_it():
    # 16 CFR 1501.4 figure 1: 31.7 mm and 57.1 mm beside 1.25 in and 2.25 in.
    assert pytest.approx(31.7, abs=0.06) == SMALL_PARTS_DIAMETER_MM
    assert pytest.approx(57.1, abs=0.06) == SMALL_PARTS_DEPTH_MM


def test_the_lifting_limit_is_the_51_pounds_of_niosh():
    # A pound is 0.453 592 37 kg: NIST SP 811 (2008), appendix B.8 (from memory).
    assert pytest.approx(51 * 0.45359237, abs=0.2) == LIFTING_LIMIT_KG
