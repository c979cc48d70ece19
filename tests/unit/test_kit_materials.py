"""The catalogue: every value sourced, every material with its cautions, bad entries named."""

import math
from importlib import import_module

import pytest

from nearmark.errors import InputError, RuleError
from nearmark.kit.catalogue_files import Table, read_catalogue
from nearmark.kit.figures import DEFAULT_U, OWN, TYPICAL, own_figure, sources
from nearmark.kit.materials import SHAPES, material, material_from, materials

ALL = materials()
FIGURES = ("piece_mass", "spread", "bulk_density", "particle_density")


def published_values():
    return [
        (m.code, field, getattr(m, field).source)
        for m in ALL
        for field in FIGURES
        if getattr(m, field) is not None and getattr(m, field).is_published
    ]


def test_there_are_enough_materials_of_every_kind():
    assert len(ALL) >= 50
    assert {m.shape for m in ALL} == set(SHAPES)


def test_every_value_names_a_source_that_is_listed():
    listed = {TYPICAL, *sources()}

    assert {m.code: m.sources - listed for m in ALL if not m.sources <= listed} == {}


def test_every_published_value_names_a_source_that_was_opened():
    assert len(published_values()) >= 50
    assert [v for v in published_values() if not sources()[v[2]].opened] == []


def test_every_listed_source_is_used():
    cautions = read_catalogue("cautions")
    told = {entry["source"] for entry in (*cautions["words"].values(), *cautions["never"])}
    # The limit of a carried mass is in the code, not in the catalogue.
    used = frozenset().union(*(m.sources for m in ALL)) | told | {"niosh-lifting"}

    assert used - {TYPICAL} == set(sources())


def test_what_was_not_opened_says_from_memory():
    assert {s.seen for s in sources().values() if not s.opened} == {"from memory"}


def test_mass_size_and_bulk_density_of_a_material_belong_together():
    # Bulk density over (mass / volume of the piece's box) is the number of boxes that fit into
    # the heap's volume: packing fraction over the share of its box that a piece fills.  Heaps of
    # anything here are 40 to 75 % solid, pieces fill half of their box (ellipsoids) to all (cubes).
    boxes = {
        m.code: m.bulk_density.value * math.prod(m.size_mm) / 1000 / m.piece_mass_g for m in ALL
    }

    assert {code: n for code, n in boxes.items() if not 0.40 < n < 1.45} == {}


def test_a_heap_is_lighter_than_its_pieces():
    # Random heaps of anything here are between a half and three quarters solid.
    fractions = {m.code: m.packing_fraction for m in ALL if m.packing_fraction is not None}

    assert len(fractions) >= 10
    assert {code: f for code, f in fractions.items() if not 0.45 < f < 0.75} == {}


def test_a_published_value_is_surer_than_a_typical_one_and_a_specification_surer_still():
    rice, lentil, coin = (material(c).piece_mass for c in ("rice", "lentil-green", "coin-dime"))

    assert rice.relative_u == DEFAULT_U[TYPICAL]
    assert coin.relative_u < lentil.relative_u < rice.relative_u


def test_a_value_may_state_its_own_uncertainty():
    assert material("oat-ring").bulk_density.relative_u == 0.25


def test_bulk_density_may_come_from_a_packing_fraction():
    # 0.595 * 2.5 g/cm3; relative u: 4 % and 2 %, hence 4.5 %.
    marble = material("marble-16")

    assert marble.bulk_density.value == pytest.approx(1.4875)
    assert marble.bulk_density.relative_u == pytest.approx(math.hypot(0.04, 0.02))
    assert marble.packing_fraction == pytest.approx(0.595)


def test_a_name_keeps_its_capitals_within_a_sentence():
    assert material("hex-nut-m5").plain_name == "hexagon nuts M5 (DIN 934)"


def test_values_of_your_own_lot_replace_the_catalogues():
    own = material("chickpea").with_own(piece_mass_g=0.41, bulk_density_g_cm3=0.8)

    assert (own.piece_mass.source, own.bulk_density.source) == (OWN, OWN)
    assert own.spread == material("chickpea").spread
    assert not own.piece_mass.is_published


@pytest.mark.parametrize("wrong", [0, -1, math.nan, math.inf])
def test_an_impossible_value_of_your_own_is_refused(wrong):
    with pytest.raises(InputError, match="mass of a piece"):
        material("chickpea").with_own(piece_mass_g=wrong)
    with pytest.raises(InputError, match="bulk density"):
        material("chickpea").with_own(bulk_density_g_cm3=wrong)


@pytest.mark.parametrize("wrong", [-0.01, 5, math.nan])
def test_an_uncertainty_in_percent_is_taken_for_a_slip(wrong):
    with pytest.raises(InputError, match=r"One percent is 0\.01"):
        own_figure(1.0, wrong, where="mass")


@pytest.mark.parametrize(
    "code",
    [
        *("lead-shot", "Lead shot", "old sinkers", "magnet", "tiny magnets", "button-cell"),
        *("batteries", "water beads", "castor-bean", "rosary pea", "treated seed"),
    ],
)
def test_what_must_never_be_used_is_refused_with_the_reason(code):
    with pytest.raises(RuleError, match="never use"):
        material(code)


def test_what_must_never_be_used_is_refused_by_its_name_too():
    with pytest.raises(RuleError, match="never use"):
        material_from(GOOD | {"name": "Small round magnets"})


def test_a_forbidden_word_within_another_word_is_no_hazard():
    assert material_from(GOOD | {"name": "Misleading peas"}).name == "Misleading peas"


def test_a_misspelt_material_names_the_nearest():
    with pytest.raises(InputError, match="Did you mean chickpea"):
        material("chikpea")


def test_a_material_unlike_any_other_lists_them_all():
    with pytest.raises(InputError, match="Known: rice, "):
        material("zzz")


GOOD = {
    "code": "pea",
    "name": "Peas",
    "shape": "sphere",
    "piece_mass_g": {"value": 0.2, "source": "typical"},
    "piece_cv": {"value": 0.1, "source": "typical"},
    "size_mm": {"value": [7, 6, 5], "source": "typical"},
    "bulk_density_g_cm3": {"value": 0.7, "source": "typical"},
}
PACKED = {k: v for k, v in GOOD.items() if k != "bulk_density_g_cm3"} | {
    "packing_fraction": {"value": 0.6, "source": "typical"}
}


def test_a_good_entry_is_taken():
    assert material_from(GOOD).size_mm == (7.0, 6.0, 5.0)


@pytest.mark.parametrize(
    ("entry", "field"),
    [
        (GOOD | {"name": ""}, "name"),
        (GOOD | {"name": 7}, "name"),
        (GOOD | {"shape": "blob"}, "shape"),
        (GOOD | {"colour": "green"}, "colour"),
        (GOOD | {"note": ""}, "note"),
        (GOOD | {"piece_mass_g": 0.2}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": 0.2}}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": "0.2", "source": "typical"}}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": True, "source": "typical"}}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": 0, "source": "typical"}}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": math.nan, "source": "typical"}}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": 0.2, "source": "a friend"}}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": 0.2, "source": ["typical"]}}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": 0.2, "source": "cfr-1501"}}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": 0.2, "source": "typical", "unit": "g"}}, "piece_mass_g"),
        (GOOD | {"piece_mass_g": {"value": 0.2, "source": "typical", "u": 8}}, "piece_mass_g, u"),
        (GOOD | {"piece_cv": {"value": 14, "source": "typical"}}, "piece_cv"),
        (GOOD | {"size_mm": {"value": [5, 6, 7], "source": "typical"}}, "size_mm"),
        (GOOD | {"size_mm": {"value": [6, 7, 5], "source": "typical"}}, "size_mm"),
        (GOOD | {"size_mm": {"value": [5, 6], "source": "typical"}}, "size_mm"),
        (GOOD | {"size_mm": {"value": 7, "source": "typical"}}, "size_mm"),
        (GOOD | {"allergens": ["nuts"]}, "allergens"),
        (GOOD | {"allergens": "wheat"}, "allergens"),
        (GOOD | {"tags": ["lovely"]}, "tags"),
        (PACKED, "packing_fraction"),
        (GOOD | PACKED, "bulk_density_g_cm3"),
        ({k: v for k, v in PACKED.items() if k != "packing_fraction"}, "bulk_density_g_cm3"),
        ({k: v for k, v in GOOD.items() if k != "piece_cv"}, "piece_cv"),
    ],
)
def test_a_bad_entry_names_material_and_field(entry, field):
    with pytest.raises(InputError) as refusal:
        material_from(entry)

    assert refusal.value.where == f"material pea, {field}"


def test_an_entry_without_a_code_is_refused():
    with pytest.raises(InputError, match=r"material \(no code\), code: is missing"):
        material_from({k: v for k, v in GOOD.items() if k != "code"})


def test_a_misspelt_field_names_the_nearest():
    with pytest.raises(InputError, match="Did you mean piece_mass_g"):
        material_from(GOOD | {"peace_mass_g": 1})


@pytest.fixture
def replaced_file(monkeypatch):
    """Lets a test put other entries in place of a file of the catalogue."""

    def replace(module, entries):
        # The package exports a function of the module's name, so the module is asked for by path.
        there = import_module(f"nearmark.kit.{module}")
        monkeypatch.setattr(there, "read_catalogue", lambda _: entries)
        return there

    return replace


def test_a_code_that_stands_there_twice_is_refused(replaced_file):
    module = replaced_file("materials", {"material": [GOOD, GOOD]})

    with pytest.raises(InputError, match="material pea, code: is there twice"):
        module._materials.__wrapped__()


@pytest.mark.parametrize(
    ("entry", "field"),
    [
        ({"kind": "lot", "opened": True, "seen": "page"}, "title"),
        ({"title": "t", "kind": "rumour", "opened": True, "seen": "page"}, "kind"),
        ({"title": "t", "kind": "lot", "opened": "yes", "seen": "page"}, "opened"),
        ({"title": "t", "kind": "lot", "opened": True}, "seen"),
    ],
)
def test_a_source_must_say_what_was_seen(replaced_file, entry, field):
    module = replaced_file("figures", {"somebody": entry})

    with pytest.raises(InputError) as refusal:
        module.sources.__wrapped__()

    assert refusal.value.where == f"source somebody, {field}"


def test_sources_cannot_be_changed_by_a_reader():
    with pytest.raises(TypeError):
        sources()["us-mint"] = None  # type: ignore[index]


def test_a_table_reads_plain_numbers_with_the_place():
    with pytest.raises(InputError, match="cup x, tare_g: must be between 1 and 9"):
        Table("cup", {"code": "x", "tare_g": 10}).number("tare_g", 1, 9)
