"""The paper of the day: every document by one touch, all of them in the background."""

import io
import zipfile

import pypdfium2
import pytest

from nearmark.printing.day_paper import paper_of
from nearmark.site.event.load import load_event
from nearmark.site.jobs import worker
from nearmark.site.jobs.kinds import KINDS
from nearmark.site.models import Job, JobState, PairRecord

A4_MM, LETTER_MM = (210.0, 297.0), (215.9, 279.4)
"""ISO 216, ANSI/ASME Y14.1 (from memory)."""
SHORT = ("labels", "cup-numbers", "station-rules", "check-in", "answer-sheet-spare", "key-sheet")


def text_of(content: bytes) -> str:
    pages = pypdfium2.PdfDocument(content)
    return "\n".join(page.get_textpage().get_text_range() for page in pages)


def size_mm(content: bytes) -> tuple[float, float]:
    width, height = sorted(pypdfium2.PdfDocument(content)[0].get_size())
    return (round(width / 72 * 25.4, 1), round(height / 72 * 25.4, 1))


def test_the_page_links_to_every_document(lead, demo):
    page = lead.get("/paper/").content.decode()

    for sheet in paper_of(load_event(demo)):
        assert f"/paper/{sheet.name}.pdf?paper=a4" in page
    assert "The day on paper, if every screen fails" in page


@pytest.mark.parametrize("name", SHORT)
def test_a_document_comes_in_both_sizes(lead, demo, name):
    a4 = lead.get(f"/paper/{name}.pdf").content
    letter = lead.get(f"/paper/{name}.pdf?paper=us-letter").content

    assert (size_mm(a4), size_mm(letter)) == (A4_MM, LETTER_MM)


@pytest.mark.slow
def test_labels_come_on_ready_cut_sheets_and_the_sealed_tables_on_their_own(lead, demo):
    assert lead.get("/paper/labels.pdf?labels=7x2").status_code == 200
    page = lead.get("/paper/").content.decode()
    assert "/paper/labels.pdf?paper=a4&amp;labels=7x2" in page
    assert "/paper/helper-badges.pdf?paper=a4&amp;labels=4x2" in page
    assert "Sealed until release" in text_of(lead.get("/paper/score-tables.pdf").content)


def test_large_print_is_a_choice(lead, demo):
    page = lead.get("/paper/?large=1").content.decode()

    assert 'value="paper-a4-large"' in page
    assert "/paper/check-in.pdf?paper=a4&amp;large=1" in page


def test_what_is_printed_after_the_contest_says_that_it_is_a_draft(lead, demo):
    for name in ("announcer-list", "award-certificates", "press-line"):
        assert "Draft" in text_of(lead.get(f"/paper/{name}.pdf").content), name
    assert lead.get("/paper/participation-certificates.pdf?names=1").status_code == 200


def test_a_name_that_does_not_print_is_said_on_the_page(lead, demo):
    assert b"do not print whole" not in lead.get("/paper/").content
    PairRecord.objects.filter(code="P01").update(school="\u6771\u4eac")

    page = lead.get("/paper/").content.decode()
    assert "no font here has \u6771, \u4eac" in page
    assert "fonts of this computer" in page


def test_names_are_printed_only_when_they_are_asked_for(lead, demo):
    PairRecord.objects.filter(code="P01").update(members=["Zephyrine"])

    assert "Zephyrine" not in text_of(lead.get("/paper/check-in.pdf").content)
    assert "Zephyrine" in text_of(lead.get("/paper/check-in.pdf?names=1").content)


@pytest.mark.slow
def test_all_of_it_is_made_in_the_background_with_the_key_sheet(lead, demo, monkeypatch):
    # The answer sheets of 49 pairs take seconds and have tests of their own.
    demo.pairs.exclude(code__in=("P01", "P02")).update(status="withdrawn")

    lead.post("/jobs/ask/", {"kind": "paper-us-letter", "size": "09:30"})
    assert worker.run_next()

    job = Job.objects.get()
    folder = zipfile.ZipFile(io.BytesIO(bytes(job.file.content)))
    names = [f"{n:02d}-{s.name}.pdf" for n, s in enumerate(paper_of(load_event(demo)), start=1)]
    sealed = ["sealed/1-key-sheet.pdf", "sealed/2-score-tables.pdf"]
    assert (job.state, job.n_done) == (JobState.DONE, job.n_all)
    assert folder.namelist() == [*names, *sealed, "all-in-one.pdf"]
    assert size_mm(folder.read("06-answer-sheets.pdf")) == LETTER_MM
    assert "09:30 to 10:00" in text_of(folder.read("02-run-sheet.pdf"))
    assert "Take those of" in lead.get("/paper/?paper=us-letter").content.decode()
    assert {"paper-a4", "paper-us-letter"} <= set(KINDS)


def test_what_is_not_printed_is_refused(lead, demo):
    assert lead.get("/paper/poems.pdf").status_code == 422
    assert lead.get("/paper/run-sheet.pdf?start=25:70").status_code == 422
    assert lead.get("/paper/labels.pdf?labels=9x9:1,1").status_code == 422
    assert lead.get("/paper/labels.pdf?paper=a9").status_code == 200


def test_without_pairs_the_page_says_what_comes_first(lead, demo):
    for row in demo.pairs.all():
        row.entries.all().delete()
        row.adjudications.all().delete()
        row.delete()

    assert b"Still missing: pairs" in lead.get("/paper/").content
    assert lead.get("/paper/answer-sheets.pdf").status_code == 422


@pytest.mark.parametrize(
    ("name", "spanish"),
    [
        ("answer-sheets", "Una cifra en cada casilla"),
        ("station-rules", "Tienes 30 minutos"),
        ("labels", "No probar."),
        ("letter-families", "Estimada familia:"),
        ("check-in", "entregó"),
        ("score-tables", "Tablas de puntos"),
    ],
)
@pytest.mark.slow
def test_what_children_and_families_read_is_printed_in_the_language_asked_for(lead, name, spanish):
    answer = lead.get(f"/paper/{name}.pdf?language=es")

    assert spanish in text_of(answer.content)
    assert "language" not in answer.cookies


def test_the_page_of_papers_offers_the_languages_there_are(lead):
    page = lead.get("/paper/?language=es").content.decode()

    assert "Paper for the day" in page  # the lead reads English
    assert 'name="kind" value="paper-a4-es"' in page
    assert "/paper/labels.pdf?paper=a4&amp;language=es" in page


def test_the_times_of_the_plan_are_on_the_paper(lead, demo):
    lead.post("/heats/plan/times/", {"first_start": "10:00", "minutes": "20"})

    assert "10:00 to 10:20" in text_of(lead.get("/paper/check-in.pdf").content)
    assert "09:30 to 09:50" in text_of(lead.get("/paper/check-in.pdf?start=09:30").content)
    assert 'value="10:00"' in lead.get("/paper/").content.decode()
