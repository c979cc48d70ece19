"""A material that the catalogue does not have keeps its cautions, and rather more than fewer."""

import pytest

from nearmark.errors import RuleError
from nearmark.kit.catalogue_files import read_catalogue
from nearmark.kit.cautions import cautions, without_local
from nearmark.kit.figures import sources
from nearmark.kit.materials import ALLERGENS, TAGS, materials
from nearmark.kit.own_material import care_of
from nearmark.words.cautions import allergen_words, care_words, near_codes
from nearmark.words.languages import language
from nearmark.words.translation import spoken_in

# What the words mean is common knowledge; that they are major allergens: FALCPA and FASTER Act.
HELD = {
    "Large white beans": "raw pulse",
    "dried peas, from the market": "raw pulse",
    "Garbanzos": "raw pulse",
    "Jud\u00edas blancas": "raw pulse",
    "salted almonds": "tree nuts",
    "Brazil nuts": "tree nuts",
    "nueces": "tree nuts",
    "Peanuts in the shell": "peanuts",
    "spaghetti rings": "wheat",
    "Fideos": "wheat",
    "chocolate drops": "milk",
    "Sesame sticks": "sesame",
    "S\u00e9samo": "sesame",
    "soya mince": "soybeans",
    "egg noodles": "egg",
}


@pytest.mark.parametrize(("name", "held"), HELD.items())
def test_a_word_of_the_name_is_enough(name, held):
    care = care_of("mine", name)

    assert not care.in_catalogue
    assert held in care.allergens or (held == "raw pulse" and care.raw_pulse)


@pytest.mark.parametrize("name", ["Acorn caps", "Toy bricks", "x", "9 x 6", "\u6771\u4eac"])
def test_of_the_unknown_small_parts_and_food_are_always_said(name):
    care = care_of("mine", name)
    said = care_words("mine", name, ["Sharp edges"])

    assert (care.kinds, care.by_name) == ((), False)
    assert said[0] == "Sharp edges."
    assert said[1] == "No caution is known for this material: read its package."
    assert any("choking" in each for each in said)
    assert any("allergen line" in each for each in said)


def test_a_material_of_the_catalogue_under_another_code_keeps_all_its_cautions():
    missing = {
        known.code: lost
        for known in materials()
        if (lost := _usual(known) - set(care_of("my-own", known.name).texts))
    }

    assert missing == {}


def _usual(known):
    """Allergens may stand among more of them: those are compared by their names."""
    return {
        text
        for each in cautions(known)
        if (text := without_local(each)) and not text.startswith("Contains")
    } | (set() if set(known.allergens) <= set(care_of("my-own", known.name).allergens) else {"?"})


def test_a_material_of_the_catalogue_has_its_own_cautions_and_no_others():
    for known in materials():
        said = care_words(known.code, "whatever it is called")

        assert said == tuple(t for each in cautions(known) if (t := without_local(each)))
        assert near_codes(known.code, known.name) == ""


def test_nuts_of_steel_are_no_tree_nuts():
    assert care_of("mine", "Hex nuts M10").allergens == ()
    assert "heavy" in " ".join(care_of("mine", "Hex nuts M10").texts).casefold()


def test_near_codes_are_offered_with_the_likeliest_first():
    assert near_codes("bean", "Large white beans").split(": ")[1].startswith("white-bean, ")
    assert near_codes("acorn", "Acorn caps") == (
        "The catalogue has no acorn. Write its cautions beside it."
    )


def test_what_must_never_be_used_is_refused_by_its_name_too():
    with pytest.raises(RuleError):
        care_of("shot", "lead shot")


def test_the_table_of_words_names_known_cautions_and_sources():
    for entry in read_catalogue("cautions")["near"]:
        assert set(entry.get("allergens", ())) <= set(ALLERGENS)
        assert set(entry.get("tags", ())) <= set(TAGS)
        assert entry["source"] in sources()
        assert all(word == word.casefold() and word.isascii() for word in entry["words"])


def test_every_allergen_can_be_said_in_spanish():
    with spoken_in(language("es")):
        assert [name for name in ALLERGENS if allergen_words(name) == name] == []
