"""Cautions: worked out from sizes and tags, each deferring to local rules."""

import math

import pytest

from nearmark.kit.catalogue_files import read_catalogue
from nearmark.kit.cautions import cautions, fits_small_parts_cylinder
from nearmark.kit.figures import sources
from nearmark.kit.materials import material, materials

INCH_MM = 25.4


def words_about(code):
    return " ".join(cautions(material(code)))


def test_every_material_has_cautions():
    assert [m.code for m in materials() if not cautions(m)] == []


def test_every_caution_is_a_whole_sentence_that_defers_to_local_rules():
    wrong = [
        f"{m.code}: {sentence}"
        for m in materials()
        for sentence in cautions(m)
        if not sentence.endswith("Follow your local rules.") or "{" in sentence
    ]

    assert wrong == []


def test_every_caution_names_a_listed_source():
    table = read_catalogue("cautions")
    named = {entry["source"] for entry in (*table["words"].values(), *table["never"])}

    assert named <= set(sources())


def test_allergens_raw_pulses_and_glass_are_said():
    assert "wheat" in words_about("elbow-pasta")
    assert "soybeans" in words_about("soybean")
    assert "never taste" in words_about("kidney-bean")
    assert "seed for sowing" in words_about("kidney-bean")
    assert "Glass breaks" in words_about("marble-16")
    assert "an adult carries" in words_about("hex-nut-m6")


def test_food_is_never_eaten_after_hands_scooped_it_and_hardware_says_nothing_of_eating():
    assert "never eaten" in words_about("rice")
    assert "allergen line" in words_about("rice")
    assert "eaten" not in words_about("hex-nut-m6")


def test_raw_pulses_allergens_and_small_pieces_are_named_where_they_apply_and_nowhere_else():
    words = {m: " ".join(cautions(m)) for m in materials()}
    applies = {
        "never taste": lambda m: "raw pulse" in m.tags,
        "Contains": lambda m: bool(m.allergens),
        "choking hazard": lambda m: fits_small_parts_cylinder(m.size_mm),
    }

    wrong = [
        f"{m.code}: {phrase}"
        for m in words
        for phrase, is_due in applies.items()
        if (phrase in words[m]) != is_due(m)
    ]

    assert wrong == []


@pytest.mark.parametrize(
    ("size_mm", "fits"),
    # 16 CFR 1501.4: 1.25 in wide, 2.25 in at the deepest; the inch dimensions govern.
    [
        ((1.25 * INCH_MM, 1.25 * INCH_MM, 1.25 * INCH_MM), True),
        ((2.25 * INCH_MM, 1.25 * INCH_MM, 10), True),
        ((40, 1.251 * INCH_MM, 10), False),
        ((40, 40, 1), False),  # a disc wider than the opening never goes in, tilted or not
        ((65, 1, 1), True),  # a thin rod longer than the depth lies along the diagonal of 65.4 mm
        ((65.5, 1, 1), False),
        ((58, 31.7, 31.7), False),
    ],
)
def test_a_small_part_fits_in_any_orientation(size_mm, fits):
    assert fits_small_parts_cylinder(size_mm) is fits


@pytest.mark.parametrize(
    "size", [(62, 12, 8), (60, 25, 20), (64, 20, 20), (58, 28, 5), (50, 31, 9)]
)
def test_tilting_step_by_step_agrees_with_the_closed_form(size):
    # The piece as an ellipse of axes a and b in the plane of the tilt, turned by small steps.
    a, b, _ = size
    d, h = 1.25 * INCH_MM, 2.25 * INCH_MM
    tilted = any(
        math.hypot(a * math.cos(t), b * math.sin(t)) <= h
        and math.hypot(a * math.sin(t), b * math.cos(t)) <= d
        for t in (i * math.pi / 20_000 for i in range(10_001))
    )

    assert fits_small_parts_cylinder(size) == tilted
