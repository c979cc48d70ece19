"""A name that no font has the signs for is said, on the page and beside it; never an empty box."""

import json
import struct
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from nearmark.cli import main
from nearmark.errors import InputError
from nearmark.event_folder import read_event, write_event
from nearmark.printing.day_paper import paper_of
from nearmark.printing.fonts_in_use import OWN_FONTS, fonts_from, unprintable
from nearmark.printing.missing_signs import missing_signs
from nearmark.printing.wishes import Wishes
from nearmark.words.missing_signs import NameOf

TOKYO = "東京第三小学校"


def event_of_many_scripts(event, school=TOKYO):
    first, *others = event.pairs
    return replace(
        event, pairs=(replace(first, school=school, members=("Иван", "さくら")), *others)
    )


def font_with(folder: Path, sign: str) -> Path:
    """A font of one sign: our zero, under another number in its table of signs (format 4)."""
    data = (OWN_FONTS / "NearmarkPlainZero-Regular.ttf").read_bytes()
    zero, wanted = ord("0"), ord(sign)
    delta = struct.pack(">H", (1 - zero) & 0xFFFF)
    table = struct.pack(">HHHHH", zero, 0xFFFF, 0, zero, 0xFFFF) + delta
    assert data.count(table) == 1
    new = struct.pack(">HHHHHH", wanted, 0xFFFF, 0, wanted, 0xFFFF, (1 - wanted) & 0xFFFF)
    folder.mkdir()
    (folder / "one-sign.ttf").write_bytes(data.replace(table, new))
    return folder


def text_of(pdf: bytes) -> str:
    return " ".join(p.get_textpage().get_text_range() for p in pypdfium2.PdfDocument(pdf))


def test_scripts_that_print_are_not_complained_of():
    names = ["Łódź", "Niños", "Ωμέγα", "Иван", "محمد", "שלום", "Ada", "cm³", "\u200bx"]

    assert unprintable(names) == {}


def test_a_word_that_does_not_print_names_its_signs():
    assert unprintable(["Ōta東", TOKYO, "Ada"]) == {"Ōta東": "東", TOKYO: TOKYO}


def test_names_are_found_with_what_they_are_of(small_event):
    event = event_of_many_scripts(small_event)

    assert [(m.what, m.name) for m in missing_signs(event, names=True)] == [
        (NameOf.SCHOOL, TOKYO),
        (NameOf.CHILD, "さくら"),
    ]
    assert [m.what for m in missing_signs(event, names=False)] == [NameOf.SCHOOL]
    assert missing_signs(small_event, names=True) == ()


def test_the_page_says_it_in_words_beside_the_code(small_event):
    event = event_of_many_scripts(small_event, school=f"Ōta {TOKYO} School")
    sheet = next(s for s in paper_of(event) if s.name == "check-in")
    text = " ".join(text_of(sheet.made(event, Wishes(names=True))).split())

    assert "ta [signs missing] School" in text
    assert "Иван and [signs missing]" in text
    assert TOKYO not in text


def test_a_font_of_ones_own_brings_its_signs(tmp_path):
    folder = font_with(tmp_path / "fonts", "東")

    with fonts_from(folder):
        assert unprintable(["東", "京"]) == {"京": "京"}
    assert unprintable(["東"]) == {"東": "東"}


def test_a_folder_without_fonts_is_refused(tmp_path):
    for folder in (tmp_path, tmp_path / "nowhere"):
        with pytest.raises(InputError, match="holds no font"), fonts_from(folder):
            pass


@pytest.mark.slow
def test_the_commands_say_which_names_do_not_print_and_what_to_do(folder, tmp_path, capsys):
    write_event(event_of_many_scripts(read_event(folder), school="東"), folder)

    main(["sheets", str(folder)])
    said = " ".join(capsys.readouterr().out.split())
    assert 'school "東": no font here has 東' in said
    assert "--fonts FOLDER" in said

    main(["sheets", str(folder), "--json"])
    assert json.loads(capsys.readouterr().out)["not_printed"] == [
        {"what": "school", "name": "東", "signs": "東"}
    ]
    fonts = font_with(tmp_path / "fonts", "東")
    main(["print", str(folder), "--fonts", str(fonts), "--json"])
    assert json.loads(capsys.readouterr().out)["not_printed"] == []
