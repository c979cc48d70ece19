"""Every caution of the catalogue can be said in another language."""

import pytest

from nearmark.coaching.take_home import take_home_bag
from nearmark.kit.catalogue_files import read_catalogue
from nearmark.kit.cautions import cautions, without_local
from nearmark.kit.materials import materials
from nearmark.printing.bag_labels import bag_label
from nearmark.words.cautions import TRANSLATED, caution_words
from nearmark.words.languages import language, language_codes
from nearmark.words.translation import spoken_in


def test_the_table_has_every_sentence_of_the_catalogue():
    words = read_catalogue("cautions")["words"]
    sentences = {each["text"] for each in words.values() if "{" not in each["text"]}

    assert sentences - TRANSLATED == set()


def test_no_caution_of_any_material_stays_english_in_spanish():
    said = {without_local(each) for known in materials() for each in cautions(known)} - {""}
    with spoken_in(language("es")):
        same = {each for each in said if caution_words(each) == each}

    assert len(said) > 5
    assert same == set()


@pytest.mark.parametrize("code", language_codes())
def test_no_caution_on_a_label_is_cut(code):
    with spoken_in(language(code)):
        labels = [bag_label(take_home_bag(known)) for known in materials()]

    assert [label.name for label in labels if "…" in label.cautions] == []
