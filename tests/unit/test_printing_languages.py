"""The papers of the day, in another language."""

import io

import pypdf
import pytest
import translations
from bracketed import CODE, untranslated_text, write_catalogue

from nearmark.demo import larkspur_valley
from nearmark.printing.day_paper import paper_of
from nearmark.printing.wishes import Wishes
from nearmark.words import languages

EVENT = larkspur_valley()
PAPERS = paper_of(EVENT)
LONG = "Escuela con un nombre de sesenta letras para que nada falte."


@pytest.fixture(scope="module")
def bracket_folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("translations")
    write_catalogue(translations.template_catalogue(), folder)
    return folder


@pytest.fixture
def brackets(monkeypatch, bracket_folder):
    monkeypatch.setattr(languages, "FOLDER", bracket_folder)
    return CODE


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def data() -> set[str]:
    typed = {EVENT.name, EVENT.venue, "QR"}
    for pair in EVENT.pairs:
        typed |= {pair.school, pair.code}
    for item in EVENT.items:
        typed |= {item.name, item.name[:1].upper() + item.name[1:], item.code}
    for material in EVENT.materials:
        typed |= {material.name, *material.cautions}
        typed |= {f"{each[:1].upper()}{each[1:]}" for each in material.cautions}
    return typed


@pytest.mark.parametrize("sheet", PAPERS, ids=lambda sheet: sheet.name)
@pytest.mark.slow
def test_no_english_is_left_on_a_paper(brackets, sheet):
    text = text_of(sheet.made(EVENT, Wishes(language=brackets)))

    # Codes of pairs carry a check character.
    assert [word for word in untranslated_text(text, data()) if len(word) > 2] == []


@pytest.mark.slow
def test_answer_sheets_in_spanish():
    sheets = next(sheet for sheet in PAPERS if sheet.name == "answer-sheets")

    found = pypdf.PdfReader(io.BytesIO(sheets.made(EVENT, Wishes(language="es"))))

    first = found.pages[0].extract_text()
    assert "Una cifra en cada casilla" in first
    assert "Turno 1" in first
    assert len(found.pages) == 2 * len([p for p in EVENT.pairs if p.status != "withdrawn"])
