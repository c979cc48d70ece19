"""The handbook and the handout as PDF: pages, bookmarks, tags, and text that stays text."""

from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from nearmark.docs_folder import docs_folder
from nearmark.errors import InputError
from nearmark.printing.handbook import HANDOUT, handbook_pdf, handbook_view
from nearmark.printing.typesetting import PAPERS, typeset

DAY = date(2027, 5, 8)


def read(pages: bytes) -> PdfReader:
    return PdfReader(BytesIO(pages))


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_the_handbook_has_every_chapter_as_a_bookmark_and_its_page_in_the_contents(paper):
    reader = read(handbook_pdf(day=DAY, paper=paper))
    titles = [chapter.title for chapter in handbook_view(docs_folder() / "handbook").chapters]
    marks = [mark for mark in reader.outline if not isinstance(mark, list)]

    assert [mark.title.lstrip("0123456789 ") for mark in marks] == titles
    assert "/StructTreeRoot" in reader.root_object
    contents = "".join(page.extract_text() for page in reader.pages[:1])
    for mark in marks:
        number = reader.get_destination_page_number(mark) + 1
        assert f"page {number} of {len(reader.pages)}" in reader.pages[number - 1].extract_text()
        assert mark.title.lstrip("0123456789 ") in contents


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_the_handout_has_two_pages_and_both_are_used(paper):
    pages = read(handbook_pdf(HANDOUT, day=DAY, paper=paper)).pages

    assert len(pages) == 2
    assert "The scoop, and the heavy cup" in pages[0].extract_text()
    assert "Follow your local rules." in pages[1].extract_text()


def test_what_is_not_printed_is_refused():
    with pytest.raises(InputError, match="not printed"):
        handbook_pdf("../secret", day=DAY)


@pytest.mark.slow
def test_text_stays_text(tmp_path):
    (tmp_path / "README.md").write_text("# Book\n\nIntro.\n\n1. [One](one.md)\n", "utf-8")
    (tmp_path / "one.md").write_text(
        "# #let x = 1\n\n"
        'A $x^2$ `#read("a")` [link](other.md) [web](https://example.org) <b>raw</b>\n'
        "*em* **strong @one** \\_ ~ </p>\n\n"
        "<!-- hidden -->\n\n"
        "> said\n\n"
        "3. third\n   - inner\n\n"
        "| a | b |\n|---|--:|\n| #eval | 12 |\n\n"
        "```sh\nfirst #line\n  second\n```\n\n---\n\nlast\n",
        "utf-8",
    )
    pages = read(typeset("handbook", handbook_view(tmp_path), day=DAY, paper="a4")).pages
    text = "\n".join(page.extract_text() for page in pages)

    for part in ("#let x = 1", "$x^2$", '#read("a")', "@one", "#eval", "3.", "first #line\n"):
        assert part in text
    assert "hidden" not in text
    assert len(pages) == 3
