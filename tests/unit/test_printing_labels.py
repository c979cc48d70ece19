"""The labels: code, content, cautions, and nothing that gives a key away."""

import io
import re
from dataclasses import replace

import pypdf
import pytest

from nearmark.contest import results
from nearmark.contest.event import Item, Material
from nearmark.demo import larkspur_valley
from nearmark.errors import InputError, RuleError
from nearmark.kit.materials import materials
from nearmark.printing import labels_pdf
from nearmark.printing.labels import item_label
from nearmark.station import Station
from nearmark.words.languages import language, language_codes
from nearmark.words.translation import spoken_in


def text_of(pdf: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


def numbers(text: str) -> set[str]:
    return set(re.findall(r"\d+(?:\.\d+)?", text))


def test_a_label_has_code_content_and_what_not_to_do(small_event):
    text = text_of(labels_pdf(small_event))

    for item in small_event.items:
        assert text.count(f" {item.code} ") == 2
    assert "Chickpeas" in text
    assert "Tea box" in text
    assert "Do not open, lift or taste." in text
    assert "Never taste." in text
    assert "Follow your local rules." in text


def test_nothing_on_a_label_gives_a_key_away():
    event = larkspur_valley()
    secret = {str(key.key) for key in results(event).keys.values() if key.item.code != "M1"}
    secret |= {str(count.pieces) for count in event.hand_counts}
    secret |= {str(g) for c in event.containers for g in (c.gross_g, c.tare_g)}
    secret |= {str(g) for c in event.containers for g in (int(c.gross_g), int(c.tare_g))}
    secret |= {str(s) for sample in event.samples for s in (sample.pieces, sample.mass_g)}
    secret |= {str(reading.reading_cm) for reading in event.box_readings}
    secret |= {str(cup.tare_g) for cup in event.cups}

    assert len(secret) > 30
    assert not numbers(text_of(labels_pdf(event))) & secret


def test_labels_do_not_change_with_what_was_measured():
    event = larkspur_valley()
    bare = replace(event, samples=(), containers=(), hand_counts=(), box_readings=(), cups=())

    assert labels_pdf(event) == labels_pdf(bare)


def test_the_usual_cautions_of_the_catalogue_are_added():
    pasta = item_label(Item("C2", Station.COUNT, "tub"), Material("elbow-pasta", "Elbow pasta"))

    assert "wheat" in pasta.cautions
    assert pasta.cautions.count("Follow your local rules.") == 1


def test_only_what_hands_scoop_warns_of_eating_it_afterwards():
    rice = Material("rice", "Milled rice")
    scooped = item_label(Item("M1", Station.MASS, "rice"), rice)
    closed = item_label(Item("C1", Station.COUNT, "jar"), rice)

    assert "hands have scooped" in scooped.cautions
    assert "hands have scooped" not in closed.cautions


def test_a_material_of_your_own_has_your_own_cautions_and_those_of_the_unknown():
    mine = Material("acorn-caps", "Acorn caps", cautions=("sharp edges",))

    said = item_label(Item("C1", Station.COUNT, "jar"), mine).cautions

    assert said.startswith("Sharp edges. No caution is known for this material")
    assert "choking" in said
    assert said.endswith("Follow your local rules.")


@pytest.mark.parametrize("code", language_codes())
@pytest.mark.parametrize(
    "name", ["Large white beans", "chocolate almonds", "soya beans", "penne and beans", "caps"]
)
def test_the_cautions_of_a_material_of_your_own_fit_a_label_whole(name, code):
    with spoken_in(language(code)):
        said = item_label(Item("M1", Station.MASS, "scoop"), Material("mine", name)).cautions

    assert "\u2026" not in said


def test_a_material_that_must_never_be_used_gets_no_label(small_event):
    items = (Item("C1", Station.COUNT, "jar", "lead-shot"),)
    day = replace(small_event, items=items, materials=(Material("lead-shot", "Shot"),))

    with pytest.raises(RuleError, match="poisonous"):
        labels_pdf(day)


def test_an_event_without_items_is_refused(small_event):
    with pytest.raises(InputError, match=r"items\.csv"):
        labels_pdf(replace(small_event, items=()))


def test_the_cautions_of_every_material_fit_a_label_whole():
    scoop = Item("M1", Station.MASS, "scoop")
    cautions = {m.code: item_label(scoop, Material(m.code, m.code)).cautions for m in materials()}
    wrong = {
        code: words
        for code, words in cautions.items()
        if "…" in words or not words.endswith("Follow your local rules.")
    }

    assert wrong == {}


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_four_items_fill_a_page_whatever_their_cautions(small_event, paper):
    wordy = Material("bean", "x" * 200, cautions=("keep closed and away from small hands",) * 40)
    items = tuple(Item(f"C{i}", Station.COUNT, "jar", "bean") for i in range(5))
    pdf = labels_pdf(replace(small_event, items=items, materials=(wordy,)), paper=paper)

    assert len(pypdf.PdfReader(io.BytesIO(pdf)).pages) == 2
    assert text_of(pdf).count("Follow your local rules.") == 10
