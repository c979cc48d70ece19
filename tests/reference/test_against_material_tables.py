"""Catalogue, conversions and geometry against published tables."""

import math

import pytest

from nearmark.kit.counting import count_by_weighing
from nearmark.kit.materials import material
from nearmark.kit.pour import predicted_count
from nearmark.kit.unit_mass import Sample
from nearmark.kit.vessels import CupSize
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.units import cm_from_inches, g_from_pounds, ml_from_us_fl_oz

STEEL_G_CM3 = 7.85


@pytest.mark.parametrize(
    ("code", "mass_g", "diameter_mm", "thickness_mm"),
    # United States Mint, Coin specifications (page read in a stored copy).
    [
        ("coin-cent", 2.500, 19.05, 1.52),
        ("coin-five-cents", 5.000, 21.21, 1.95),
        ("coin-quarter", 5.670, 24.26, 1.75),
    ],
)
def test_coins_are_as_the_mint_specifies(code, mass_g, diameter_mm, thickness_mm):
    coin = material(code)

    assert coin.piece_mass_g == mass_g
    assert coin.size_mm == (diameter_mm, diameter_mm, thickness_mm)


def test_a_hundred_grams_of_coins_are_counted_by_weighing():
    # 100 g of a 5.000 g coin are twenty, of a 2.500 g coin forty (mint specification).
    scale = Instrument("bench scale", "g", 0.1)
    for mass_g, pieces in ((5.000, 20), (2.500, 40)):
        samples = [Sample(10, 10 * mass_g)] * 3
        counted = count_by_weighing(samples, Reading((112.3,), scale), Reading((12.3,), scale))
        assert counted.key == pieces


@pytest.mark.parametrize(
    ("computed", "published"),
    # NIST SP 811 (2008), appendix B.8: exact factors (from memory).
    [
        (ml_from_us_fl_oz(1), 29.57353),
        (ml_from_us_fl_oz(128), 3785.412),  # a US gallon in mL
        (g_from_pounds(1), 453.59237),
        (cm_from_inches(1), 2.54),
        (CupSize(8, 0).brim_ml, 236.5882),  # a US cup in mL
    ],
)
def test_conversions_of_sp_811(computed, published):
    assert computed == pytest.approx(published, rel=2e-7)


@pytest.mark.parametrize(
    ("code", "across_flats_mm", "height_mm", "bore_mm"),
    # DIN 934 dimensions (page read); bore = minor diameter of the coarse thread, ISO 724
    # (from memory).  Chamfers take a few percent off, so the nut may be up to 12 % lighter.
    [
        ("hex-nut-m5", 8.0, 4.0, 4.134),
        ("hex-nut-m6", 10.0, 5.0, 4.917),
        ("hex-nut-m8", 13.0, 6.5, 6.647),
    ],
)
def test_a_nut_weighs_what_its_geometry_gives(code, across_flats_mm, height_mm, bore_mm):
    hexagon = math.sqrt(3) / 2 * across_flats_mm**2
    steel_g = (hexagon - math.pi / 4 * bore_mm**2) * height_mm / 1000 * STEEL_G_CM3

    assert 0.88 * steel_g < material(code).piece_mass_g < 1.02 * steel_g


@pytest.mark.parametrize(
    ("code", "per_thousand_g", "bulk_kg_m3"),
    # Abstracts named in sources.toml, opened.
    [
        ("lentil-green", 72.00, 820),
        ("chickpea-black", 100.18, 780.58),
        ("green-pea", 188.89, 670.70),
        ("soybean", 103.57, 749.1),
        ("popcorn", 136, 771),
        ("sweet-corn", 220, 765),
        ("white-bean", 643, 1110 * (1 - 0.3689)),
    ],
)
def test_published_grains(code, per_thousand_g, bulk_kg_m3):
    grain = material(code)

    assert 1000 * grain.piece_mass_g == pytest.approx(per_thousand_g)
    assert 1000 * grain.bulk_density.value == pytest.approx(bulk_kg_m3, rel=1e-3)
    assert grain.piece_mass.is_published
    # A litre by volume and by mass is the same count.
    by_mass = bulk_kg_m3 / (per_thousand_g / 1000)
    assert predicted_count(grain, 1000).value == pytest.approx(by_mass, rel=1e-3)


def test_the_porosity_of_a_published_grain_is_its_own():
    # Karababa 2006: porosity 40.87 % at the moisture of the catalogue's values.
    fraction = material("popcorn").packing_fraction

    assert fraction == pytest.approx(1 - 0.4087, abs=5e-4)
