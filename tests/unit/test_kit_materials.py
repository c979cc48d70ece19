"""The catalogue: every value sourced, every material with its cautions, bad entries named."""

from importlib import resources

import pytest

from nearmark.errors import InputError, RuleError
from nearmark.kit.cautions import cautions, fits_small_parts_cylinder
from nearmark.kit.materials import TYPICAL, material, material_from, materials, sources
from nearmark.kit.vessels import cup_sizes, vessel, vessels

ALL = materials()


def test_there_are_enough_materials_of_every_kind():
    assert len(ALL) >= 30
    assert len({m.code for m in ALL}) == len(ALL)
    assert {m.shape for m in ALL} >= {"sphere", "bean", "rice", "oblate", "coin", "short tube"}
    assert {m.shape for m in ALL} >= {"twist", "hex nut"}


@pytest.mark.parametrize("m", ALL, ids=lambda m: m.code)
def test_every_value_names_a_source_that_is_listed(m):
    assert m.sources <= {TYPICAL, *sources()}


def test_every_listed_source_is_used_and_says_what_was_seen():
    text = (resources.files("nearmark.kit") / "catalogue" / "sources.toml").read_text("utf-8")
    used = frozenset().union(*(m.sources for m in ALL))

    assert used - {TYPICAL} == set(sources())
    assert text.count("opened = ") == len(sources())


@pytest.mark.parametrize("m", ALL, ids=lambda m: m.code)
def test_every_material_has_cautions_that_defer_to_local_rules(m):
    told = cautions(m)

    assert told
    assert all(sentence.endswith("Follow your local rules.") for sentence in told)


@pytest.mark.parametrize("m", ALL, ids=lambda m: m.code)
def test_a_piece_weighs_what_its_size_and_any_solid_could(m):
    # An ellipsoid fills pi/6 of its box, a cube all of it, a thin tube or a twist far less; solids
    # here run from cork and foamed sugar (0.2) to steel (7.9 g/cm3).
    box_cm3 = m.size_mm[0] * m.size_mm[1] * m.size_mm[2] / 1000

    assert 0.1 < m.piece_mass_g / box_cm3 < 7.9


@pytest.mark.parametrize("m", ALL, ids=lambda m: m.code)
def test_a_heap_is_lighter_than_its_pieces(m):
    # Random heaps of anything here are between a third and three quarters solid.
    fraction = m.packing_fraction

    assert fraction is None or 0.45 < fraction < 0.75


def test_a_published_value_is_surer_than_a_typical_one():
    assert material("lentil-green").piece_mass.relative_u < material("rice").piece_mass.relative_u
    assert (
        material("coin-cent").piece_mass.relative_u < material("lentil-green").piece_mass.relative_u
    )


@pytest.mark.parametrize("code", ["lead-shot", "magnet", "button-cell"])
def test_what_must_never_be_used_is_refused_with_the_reason(code):
    with pytest.raises(RuleError, match="never use"):
        material(code)


def test_a_misspelt_material_names_the_nearest():
    with pytest.raises(InputError, match="Did you mean chickpea"):
        material("chikpea")
    with pytest.raises(InputError, match="Did you mean jar-1000"):
        vessel("jar-100")


def test_small_things_are_a_choking_hazard_and_large_ones_are_not():
    assert fits_small_parts_cylinder((31.7, 31.7, 31.7))
    assert fits_small_parts_cylinder((57.1, 31.7, 10))
    assert not fits_small_parts_cylinder((57.2, 31.7, 10))
    assert not fits_small_parts_cylinder((40, 31.8, 10))


def words_about(code):
    return " ".join(cautions(material(code)))


def test_allergens_raw_pulses_and_glass_are_said():
    assert "wheat" in words_about("elbow-pasta")
    assert "soybeans" in words_about("soybean")
    assert "never taste" in words_about("kidney-bean")
    assert "Glass breaks" in words_about("marble-16")
    assert "never eaten" in words_about("rice")
    assert "never eaten" not in words_about("hex-nut-m6")


GOOD = {
    "code": "pea",
    "name": "Peas",
    "shape": "sphere",
    "piece_mass_g": {"value": 0.2, "source": "typical"},
    "piece_cv": {"value": 0.1, "source": "typical"},
    "size_mm": {"value": [7, 6, 5], "source": "typical"},
    "bulk_density_g_cm3": {"value": 0.7, "source": "typical"},
}


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"name": ""}, "name"),
        ({"shape": "blob"}, "shape"),
        ({"piece_mass_g": {"value": 0.2}}, "piece_mass_g"),
        ({"piece_mass_g": {"value": "0.2", "source": "typical"}}, "piece_mass_g"),
        ({"piece_mass_g": {"value": 0, "source": "typical"}}, "piece_mass_g"),
        ({"piece_mass_g": {"value": 0.2, "source": "a friend"}}, "piece_mass_g"),
        ({"piece_cv": {"value": 14, "source": "typical"}}, "piece_cv"),
        ({"size_mm": {"value": [5, 6, 7], "source": "typical"}}, "size_mm"),
        ({"size_mm": {"value": [5, 6], "source": "typical"}}, "size_mm"),
        ({"allergens": ["nuts"]}, "allergens"),
        ({"tags": ["lovely"]}, "tags"),
    ],
)
def test_a_bad_entry_names_material_and_field(change, field):
    with pytest.raises(InputError) as refusal:
        material_from(GOOD | change, frozenset({"typical"}))

    assert refusal.value.where == f"material pea, {field}"


def test_cups_run_from_8_to_28_fluid_ounces():
    sizes = [cup.us_fl_oz for cup in cup_sizes()]

    assert (sizes[0], sizes[-1]) == (8, 28)
    assert sizes == sorted(sizes)


@pytest.mark.parametrize("each", vessels().values(), ids=lambda v: v.code)
def test_a_vessel_fills_from_nothing_to_its_volume(each):
    assert each.volume_to(0) == 0
    assert 0 < each.volume_to(each.height_cm / 2) < each.volume_cm3
    with pytest.raises(InputError):
        each.volume_to(each.height_cm + 1)


def test_a_tapered_vessel_is_a_frustum():
    # Worked by hand: d 10 to 20, h 12: pi/12 * 12 * (100 + 200 + 400) = 700 pi.
    pail = vessels()["pail-1000"]
    frustum = type(pail)("x", "x", "taper", (10.0, 20.0, 12.0), 1)

    assert frustum.volume_cm3 == pytest.approx(700 * 3.14159265, rel=1e-6)
