"""Results are kept by revision: never computed twice, and never stale."""

import os
import subprocess
import sys
import uuid
from concurrent.futures import ThreadPoolExecutor
from decimal import Decimal

import pytest
from django.core.management import call_command
from django.db import connection, connections, transaction

from nearmark.contest.event import AnswerStatus
from nearmark.contest.results import results
from nearmark.site.common.revision import one_moment, revision_now
from nearmark.site.event.load import load_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.answers.actions import PaperAnswer, record_answer
from nearmark.site.models import AnswerEntry, Device, EventRecord, PairRecord
from nearmark.site.server.revision_triggers import watched_tables


def answer(value: int, *, pair: str = "P01", by: str = "Ash") -> None:
    record_answer(
        uuid.uuid4(), pair, "C2", PaperAnswer(AnswerStatus.ANSWERED, Decimal(value)), by=by
    )


def test_what_has_not_changed_is_computed_once(demo):
    assert current_results(demo) is current_results(demo)


def test_a_reading_makes_the_results_new_and_equal_to_those_computed_afresh(empty_event):
    before = current_results(empty_event)

    answer(2870)

    after = current_results(empty_event)
    assert after is not before
    assert after == results(load_event(empty_event))


def test_a_change_taken_back_leaves_nothing_behind(empty_event):
    before, revision = current_results(empty_event), revision_now()

    def slip() -> None:
        with transaction.atomic():
            answer(2870)
            assert current_results(empty_event) != before
            raise LookupError

    with pytest.raises(LookupError):
        slip()

    assert revision_now() == revision
    assert current_results(empty_event) is before
    answer(3870)
    assert current_results(empty_event) == results(load_event(empty_event))


def test_bulk_writes_updates_and_deletes_count_too(demo):
    seen = [revision_now()]
    for change in (
        lambda: PairRecord.objects.filter(code="P01").update(school="Quillbank"),
        lambda: PairRecord.objects.bulk_update(PairRecord.objects.all(), ["heat"]),
        lambda: AnswerEntry.objects.filter(pair__code="P01").delete(),
        lambda: EventRecord.objects.update(venue="barn"),
    ):
        change()
        seen.append(revision_now())

    assert len(set(seen)) == len(seen)


def test_a_device_that_is_seen_leaves_the_results_alone(lead, demo):
    before = revision_now()

    Device.objects.update(locked=True)

    assert revision_now() == before


def test_every_table_of_an_event_is_watched():
    watched = {model.__name__ for model in watched_tables()}

    assert watched >= {
        *("EventRecord", "InstrumentRecord", "MaterialRecord", "ItemRecord", "CupRecord"),
        *("PairRecord", "AnswerEntry", "AdjudicationEntry", "DecisionEntry", "SampleRow"),
        *("WeighingRow", "HandCountRow", "BoxRow", "HeatRun", "Account", "Device"),
    }
    assert "Change" not in watched


@pytest.mark.slow
def test_a_page_of_another_moment_is_never_kept_while_many_write(committed_event):
    pairs = list(committed_event.pairs.filter(status="entered").values_list("code", flat=True))[:12]

    def write(pair: str) -> None:
        try:
            for by in ("Ash", "Birch"):
                answer(2870, pair=pair, by=by)
        finally:
            connections.close_all()

    def look(_: int) -> None:
        try:
            with one_moment():
                seen = current_results(committed_event)
                assert seen == results(load_event(committed_event))
        finally:
            connections.close_all()

    with ThreadPoolExecutor(4) as pool:
        done = [pool.submit(write, pair) for pair in pairs]
        done += [pool.submit(look, n) for n in range(6)]
        for one in done:
            one.result()

    assert current_results(committed_event) == results(load_event(committed_event))


BY_FILE = """
import sqlite3, sys
database = sqlite3.connect(sys.argv[1])
database.execute("update site_pairrecord set status = 'absent' where code = 'P01'")
database.commit()
"""
BY_SERVER = """
import os, psycopg
with psycopg.connect(os.environ["OTHER"]) as database:
    database.execute("update site_pairrecord set status = 'absent' where code = 'P01'")
"""


def test_a_second_process_that_writes_is_seen(committed_event):
    before = current_results(committed_event)
    told = connection.settings_dict
    address = f"dbname={told['NAME']} user={told['USER']} password={told['PASSWORD']} "
    address += f"host={told['HOST']} port={told['PORT']}"
    other = BY_FILE if connection.vendor == "sqlite" else BY_SERVER

    subprocess.run(
        [sys.executable, "-c", other, str(told["NAME"])],
        check=True,
        env=os.environ | {"OTHER": address},
    )

    after = current_results(committed_event)
    assert after != before
    assert after == results(load_event(committed_event))


@pytest.mark.slow
def test_a_migration_backwards_and_forwards_leaves_a_database_that_works(committed_event):
    try:
        call_command("migrate", "site", "0003", verbosity=0)
        assert PairRecord.objects.filter(code="P01").update(school="Quillbank") == 1
    finally:
        call_command("migrate", verbosity=0)

    before = revision_now()
    PairRecord.objects.filter(code="P01").update(school="Fernhollow")
    assert before is not None
    assert revision_now() != before
