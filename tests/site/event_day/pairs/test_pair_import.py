"""A list of pairs on the site: every bad row named, nothing kept until all are right."""

import html
import io
import re

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from nearmark.site.door.access import Role
from nearmark.site.models import Change

HEAD = "school,first child,second child"


def listed(n=46, *, bad=()) -> str:
    """Invented pairs, one a row below the headings; the bad rows have no school."""
    rows = [f"{'' if i in bad else 'Brookend'},Alder{i},Birch{i}" for i in range(2, n + 2)]
    return "\n".join([HEAD, *rows])


def book(text: str) -> SimpleUploadedFile:
    made = openpyxl.Workbook()
    for line in text.splitlines():
        made.active.append(line.split(","))
    stream = io.BytesIO()
    made.save(stream)
    return SimpleUploadedFile("pairs.xlsx", stream.getvalue())


def good_of(page: str) -> str:
    found = re.search(r'name="good" value="([^"]*)"', page)
    assert found, "no list to import on this page"
    return html.unescape(found[1])


def test_two_bad_rows_of_46_are_named_and_nothing_is_imported(lead, demo):
    before = demo.pairs.count()

    answer = lead.post("/pairs/import/", {"text": listed(bad={9, 31})})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "2 of 46 rows to change" in page
    assert re.findall(r">Row (\d+)<", page) == ["9", "31"]
    assert 'name="good"' not in page
    assert demo.pairs.count() == before


@pytest.mark.slow
@pytest.mark.parametrize("as_file", [False, True], ids=["pasted", "workbook"])
def test_a_mended_list_is_previewed_then_imported_whole(lead, demo, as_file):
    before = demo.pairs.count()
    given = {"file": book(listed())} if as_file else {"text": listed()}

    page = lead.post("/pairs/import/", given)
    assert page.status_code == 200
    assert demo.pairs.count() == before
    answer = lead.post("/pairs/import/all/", {"good": good_of(page.content.decode())})

    assert answer.status_code == 302
    assert demo.pairs.count() == before + 46
    assert demo.pairs.last().members == ["Alder47", "Birch47"]
    assert Change.objects.first().what == "imported 46 pairs"


def test_the_same_list_sent_twice_is_imported_once(lead, demo):
    page = lead.post("/pairs/import/", {"text": listed()}).content.decode()
    lead.post("/pairs/import/all/", {"good": good_of(page)})
    after = demo.pairs.count()

    again = lead.post("/pairs/import/all/", {"good": good_of(page)})

    assert again.status_code == 422
    assert demo.pairs.count() == after


def test_names_come_through_exactly(lead, demo):
    odd = 'school\tfirst child\tsecond child\nÅsby "Old" School\tO\'Néill, Jr\tŽofie\n'

    page = lead.post("/pairs/import/", {"text": odd}).content.decode()
    lead.post("/pairs/import/all/", {"good": good_of(page)})

    assert demo.pairs.last().school == 'Åsby "Old" School'
    assert demo.pairs.last().members == ["O'Néill, Jr", "Žofie"]


def test_script_in_a_name_is_text(lead, demo):
    text = f"{HEAD}\nBrookend,<script>alert(1)</script>,Bo\n"

    page = lead.post("/pairs/import/", {"text": text}).content.decode()

    assert "<script>alert" not in page


@pytest.mark.parametrize(
    "given",
    [
        {},
        {"text": "   "},
        {"text": HEAD},
        {"text": "nothing,known\n1,2\n"},
        {"text": '"never closed\n'},
        {"file": SimpleUploadedFile("pairs.xlsx", b"PK\x03\x04 but no workbook")},
        {"file": SimpleUploadedFile("pairs.csv", b"\x00\xff\xfe\x81" * 50)},
        {"file": SimpleUploadedFile("pairs.csv", b"a" * 6_000_000)},
        {"text": HEAD, "file": SimpleUploadedFile("pairs.csv", b"school\n")},
    ],
    ids=["none", "blank", "heading only", "unknown", "quote", "zip", "bytes", "large", "both"],
)
def test_what_is_no_list_is_refused_in_words(lead, demo, given):
    before = demo.pairs.count()

    answer = lead.post("/pairs/import/", given)

    assert answer.status_code == 422
    assert b'role="alert"' in answer.content
    assert demo.pairs.count() == before


@pytest.mark.parametrize("good", ["", "garbage", listed(bad={3})])
def test_a_forged_confirmation_imports_nothing(lead, demo, good):
    before = demo.pairs.count()

    assert lead.post("/pairs/import/all/", {"good": good}).status_code == 422
    assert demo.pairs.count() == before


def test_a_scorer_imports_nothing(sign_in, demo):
    scorer = sign_in(Role.SCORER)

    assert scorer.post("/pairs/import/all/", {"good": listed()}).status_code == 403


def test_nothing_is_imported_after_release(lead, demo):
    page = lead.post("/pairs/import/", {"text": listed()}).content.decode()
    lead.post("/standings/release/", {"why": "test"})

    answer = lead.post("/pairs/import/all/", {"good": good_of(page)})

    assert answer.status_code == 409
