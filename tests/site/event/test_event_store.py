"""What goes into the database comes out equal, and computes to the same last digit."""

import io
import zipfile
from dataclasses import replace

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from nearmark.contest.answers import accepted_answers
from nearmark.contest.results import results
from nearmark.demo import larkspur_valley
from nearmark.event_folder import read_event, write_event
from nearmark.event_folder.writer import contents_of
from nearmark.site.event.load import current_event, event_of_pair, load_event, save_event
from nearmark.site.models import EventRecord


@pytest.mark.parametrize("which", ["demo", "small"])
def test_an_event_reads_back_equal_from_the_database(db, small_event, which):
    event = larkspur_valley() if which == "demo" else small_event

    record = save_event(event, by="Juniper", now=timezone.now())

    assert load_event(record) == event
    # Decimal("1.0") == Decimal("1.00"): the bytes of the files hold the digits as written too.
    assert contents_of(load_event(record)) == contents_of(event)


def test_results_from_the_database_are_those_of_the_event_to_the_last_digit(demo):
    event = larkspur_valley()

    assert results(load_event(demo)) == results(event)


def test_the_exported_folder_scores_to_the_identical_result(lead, demo, tmp_path):
    answer = lead.get("/event/export.zip")

    zipfile.ZipFile(io.BytesIO(answer.content)).extractall(tmp_path)
    assert results(read_event(tmp_path / "event")) == results(load_event(demo))


def test_an_event_folder_is_read_in_by_its_files(lead, no_event, tmp_path, small_event):
    write_event(small_event, tmp_path / "event")
    files = [
        SimpleUploadedFile(path.name, path.read_bytes()) for path in (tmp_path / "event").iterdir()
    ]

    answer = lead.post("/event/import/", {"files": files})

    assert answer.status_code == 302
    assert load_event(EventRecord.objects.get()) == small_event


def test_a_bad_row_is_named_and_nothing_is_read(lead, no_event, tmp_path, small_event):
    write_event(small_event, tmp_path / "event")
    file = tmp_path / "event" / "pairs.csv"
    file.write_text(file.read_text(encoding="utf-8").replace("P2,", "P1,"), encoding="utf-8")
    files = [
        SimpleUploadedFile(path.name, path.read_bytes()) for path in (tmp_path / "event").iterdir()
    ]

    answer = lead.post("/event/import/", {"files": files})

    assert answer.status_code == 422
    assert "pairs.csv" in answer.content.decode()
    assert not EventRecord.objects.exists()


@pytest.mark.slow
def test_a_second_event_is_open_and_the_first_one_stays_as_it_is(lead, demo):
    before = load_event(demo)

    assert lead.post("/event/demo/").status_code == 302

    assert load_event(demo) == before
    assert current_event() == EventRecord.objects.exclude(pk=demo.pk).get()


def test_the_answers_of_one_pair_are_those_of_the_whole_event(demo):
    whole = accepted_answers(load_event(demo))

    for code in ("P01", "P07", "P09"):
        of_pair = accepted_answers(event_of_pair(demo, code))
        assert of_pair == {at: answer for at, answer in whole.items() if at[0] == code}


def test_a_heat_has_the_places_of_the_rule_set_in_an_imported_event_too(db, small_event):
    event = replace(small_event, rules=replace(small_event.rules, heat_places=7))

    assert save_event(event, by="Juniper", now=timezone.now()).heat_places == 7
