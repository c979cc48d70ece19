"""What every PDF keeps to: one font, embedded; nothing from outside; the same bytes twice."""

import io
import json
import re
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any

import pypdf
import pytest
import typst

from nearmark.charts.tokens import FONT
from nearmark.errors import InputError
from nearmark.printing import typesetting
from nearmark.printing.key_sheet import KeyLine, KeySheetView
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import wrappable

DAY = date(2027, 5, 8)
MM = 72 / 25.4

NASTY = [
    '#panic("x") *b* _i_ @a <l> $m$ `c` // y',
    "\\ \"q\" 's' #{ } [ ] ~ --- = H",
    '#image("secret.png")',
]


def sheet(name: str = "jar") -> KeySheetView:
    line = KeyLine("C1", name, "count", "241", "pieces", "0.68", "0.28 %", "fit", "")
    return KeySheetView(
        "Larkspur Valley", "8 May 2027", "percent accuracy, version 1", "1 %", (line,)
    )


def reader(name: str = "jar", paper: str = "a4") -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(typeset("key_sheet", sheet(name), day=DAY, paper=paper)))


def font_descriptors(document: pypdf.PdfReader) -> dict[str, dict]:
    """Base name -> descriptor of every font of every page."""
    fonts = {}
    for page in document.pages:
        of_page: Any = page["/Resources"]
        for font in of_page["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            name = str(inner["/BaseFont"]).partition("+")[2]
            fonts[name] = inner["/FontDescriptor"].get_object()
    return fonts


@pytest.mark.parametrize(("paper", "size_mm"), [("a4", (210, 297)), ("us-letter", (215.9, 279.4))])
def test_the_paper_is_the_one_asked_for(paper, size_mm):
    # ISO 216: A4 is 210 mm x 297 mm; letter is 8.5 in x 11 in (common practice, no source).
    box = reader(paper=paper).pages[0].mediabox

    assert (box.width / MM, box.height / MM) == pytest.approx(size_mm, abs=0.1)


def test_an_unknown_paper_is_refused_with_the_choice():
    with pytest.raises(InputError, match="Choose a4 or us-letter"):
        typeset("key_sheet", sheet(), day=DAY, paper="foolscap")


def test_the_same_view_gives_the_same_bytes():
    assert typeset("key_sheet", sheet(), day=DAY, paper="a4") == typeset(
        "key_sheet", sheet(), day=DAY, paper="a4"
    )


def test_the_date_of_the_document_is_the_event_s():
    assert reader().metadata.creation_date == datetime(2027, 5, 8, tzinfo=UTC)


def test_our_own_text_uses_one_font_and_it_is_embedded():
    fonts = font_descriptors(reader())

    assert set(fonts) == {"AtkinsonHyperlegible-Regular", "AtkinsonHyperlegible-Bold"}
    assert all("/FontFile2" in descriptor for descriptor in fonts.values())


def test_a_name_in_another_script_is_embedded_too():
    # Cyrillic and Arabic come from the fonts inside the compiler, never from the machine.
    fonts = font_descriptors(reader("Дарья مها"))

    assert len(fonts) > 2
    assert all({"/FontFile2", "/FontFile3"} & set(descriptor) for descriptor in fonts.values())


def test_nothing_in_the_file_points_outside():
    document = reader()
    size: Any = document.trailer["/Size"]
    told = "".join(repr(document.get_object(n)) for n in range(1, size))

    assert "/FontFile2" in told  # the walk does see every object
    assert not re.search(r"/URI|/JavaScript|/JS\b|/Launch|/GoToR|/EmbeddedFile|/SubmitForm", told)
    assert not any("/Annots" in page for page in document.pages)


@pytest.mark.parametrize("name", NASTY)
def test_a_name_is_text_and_never_markup(name):
    assert re.sub(r"\s", "", name) in re.sub(r"\s", "", reader(name).pages[0].extract_text())


@pytest.mark.parametrize(
    "name",
    ["x" * 5000, "山田 太郎", "مها بنت أحمد", "a\x00b\x1bc", "\ud800", "", "\u202e", "🦆" * 40],
)
def test_no_name_breaks_the_page(name):
    document = reader(wrappable(name))

    assert len(document.pages) == 1
    assert "Sealed by" in document.pages[0].extract_text()


def test_a_forced_direction_is_taken_out():
    assert "live" in reader("\u202elive").pages[0].extract_text()


def test_tabular_digits_are_equally_wide():
    """The digits of the font differ in width; its tabular figures, which we ask for, do not."""
    source = f"""#set text(font: "{FONT}")
        #let widths(kind) = "0123456789".clusters().map(d =>
          measure(text(number-width: kind, d)).width.pt())
        #context [#metadata((widths("tabular"), widths("proportional"))) <widths>]"""
    told: Any = typst.query(  # type: ignore[misc]  # its overloads leave no choice to infer
        source.encode(),
        "<widths>",
        field="value",
        one=True,
        font_paths=[str(typesetting.HERE / "fonts")],
        ignore_system_fonts=True,
    )
    tabular, proportional = json.loads(told)

    assert len(set(tabular)) == 1
    assert len(set(proportional)) > 1
    assert 'number-width: "tabular"' in (typesetting.HERE / "templates" / "page.typ").read_text()


def test_no_template_asks_for_a_package():
    for template in (typesetting.HERE / "templates").glob("*.typ"):
        assert "@" not in template.read_text(encoding="utf-8")


@dataclass(frozen=True)
class Unprintable:
    event: str = "x"
    lines: tuple = field(default=(float("nan"),))


def test_a_number_that_is_none_never_reaches_a_page():
    with pytest.raises(ValueError, match="not JSON compliant"):
        typeset("key_sheet", Unprintable(), day=DAY, paper="a4")


def test_the_licence_lies_beside_the_fonts():
    fonts = typesetting.HERE / "fonts"

    assert {f.name for f in fonts.glob("*.ttf")} == {
        "AtkinsonHyperlegible-Regular.ttf",
        "AtkinsonHyperlegible-Bold.ttf",
        "NearmarkPlainZero-Regular.ttf",
        "NearmarkPlainZero-Bold.ttf",
    }
    assert "SIL OPEN FONT LICENSE Version 1.1" in (fonts / "OFL.txt").read_text(encoding="utf-8")
