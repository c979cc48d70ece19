"""Several events in one folder: one is open, the next comes from the last, one can go."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from nearmark.contest import results
from nearmark.demo import larkspur_valley
from nearmark.site.door.access import Role
from nearmark.site.event.load import current_event, load_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.event_actions import keep_event, make_event
from nearmark.site.event_day.events.actions import delete_event
from nearmark.site.models import AnswerEntry, Change, EventRecord, HeatRun

NEXT = {"name": "Larkspur Valley Estimation Day 2028", "day": "2028-05-06"}


@pytest.fixture
def lead(sign_in):
    return sign_in(Role.LEAD)


@pytest.fixture
def after(lead, demo):
    """The next event, prepared from the demo and open."""
    assert lead.post(f"/events/{demo.pk}/next/", NEXT).status_code == 302
    return EventRecord.objects.exclude(pk=demo.pk).get()


def test_the_next_event_has_the_kit_and_no_name_and_is_open(lead, demo, after):
    assert current_event() == after
    event = load_event(after)
    assert event.items == larkspur_valley().items
    assert (event.pairs, event.answers, event.samples) == ((), (), ())
    assert event.day == date(2028, 5, 6)
    page = lead.get("/pairs/").content.decode()
    assert "Larkspur Valley Estimation Day 2028" in page
    assert AnswerEntry.objects.filter(pair__event=demo).exists()


def test_the_earlier_event_is_opened_again_with_the_same_results(lead, demo, after):
    before = results(larkspur_valley()).pairs

    assert lead.post(f"/events/{demo.pk}/open/").status_code == 302

    assert current_event() == demo
    assert current_results(demo).pairs == before
    line = Change.objects.filter(event=demo).first()
    assert (line.what, line.old) == ("opened the event", after.name)


def test_nobody_leaves_an_event_while_its_clock_runs(lead, demo, after, source_of, fake_clock):
    HeatRun.objects.create(event=after, heat="heat 1", started_at=fake_clock(), minutes=30)

    answer = lead.post(f"/events/{demo.pk}/open/")

    assert answer.status_code == 409
    assert "Stop its clock first" in source_of(answer)
    assert current_event() == after


def test_nobody_leaves_an_event_while_the_clock_of_any_room_runs(
    lead, demo, after, source_of, fake_clock
):
    for room, minutes in (("Gym", 60), ("Library", 10)):
        HeatRun.objects.create(
            event=after, heat="heat 1", room=room, started_at=fake_clock(), minutes=minutes
        )
    fake_clock.forward(minutes=15)  # over in the library alone

    answer = lead.post(f"/events/{demo.pk}/open/")

    assert answer.status_code == 409
    assert "Gym" in source_of(answer)
    assert current_event() == after


def test_the_open_event_is_not_deleted(lead, demo):
    asked = {"typed_name": demo.name, "why": "over"}

    assert lead.post(f"/events/{demo.pk}/delete/", asked).status_code == 409
    assert EventRecord.objects.filter(pk=demo.pk).exists()


def test_an_event_goes_by_its_typed_name_only(lead, demo, after, source_of):
    wrong = lead.post(f"/events/{demo.pk}/delete/", {"typed_name": "Larkspur", "why": "over"})
    assert wrong.status_code == 422
    assert "is not the name of the event" in source_of(wrong).lower()

    right = {"typed_name": demo.name, "why": "names are deleted after a year"}
    assert lead.post(f"/events/{demo.pk}/delete/", right).status_code == 302

    assert list(EventRecord.objects.all()) == [after]
    assert not AnswerEntry.objects.exists()
    line = Change.objects.first()
    assert (line.event, line.what, line.why) == (None, "deleted an event", right["why"])


@pytest.mark.django_db(transaction=True)
def test_no_byte_of_a_name_stays_when_its_event_is_deleted(transactional_db, small_event):
    """Beside the file itself its write-ahead log: both are read byte by byte."""
    child = replace(small_event.pairs[0], members=("Zyxquillonovic",))
    named = replace(small_event, name="Named day", pairs=(child, *small_event.pairs[1:]))
    record = keep_event(named, by="Juniper", what="read an event folder")
    make_event("Next day", date(2028, 5, 6), "", "percent accuracy", by="Juniper")

    def found() -> int:
        file = Path(str(connection.settings_dict["NAME"]))
        whole = file.read_bytes() + Path(f"{file}-wal").read_bytes()
        return whole.count(b"Zyxquillonovic")

    assert found() > 0
    delete_event(record.pk, "Named day", by="Juniper", why="over its date")
    assert found() == 0


def test_figures_of_last_time_are_shown_beside_the_new_event(lead, demo, after, source_of):
    page = source_of(lead.get(f"/events/{demo.pk}/figures/"))

    figures = current_results(demo)
    n_here = sum(pair.place is not None for pair in figures.pairs)
    assert n_here > 0
    assert "took part" in page
    assert "median points" in page


def test_a_practice_event_says_so_on_every_page(lead, demo, source_of):
    lead.post(f"/events/{demo.pk}/next/", {**NEXT, "is_practice": "on"})

    assert "(practice)" in source_of(lead.get("/pairs/"))
    assert "practice" in source_of(lead.get("/events/"))


def test_other_events_are_spoken_of_where_there_is_one(lead, demo, source_of):
    assert "events that are there are kept" in source_of(lead.get("/events/begin/"))


def test_no_other_event_is_spoken_of_before_the_first(lead, no_event, source_of):
    assert "are kept" not in source_of(lead.get("/events/begin/"))


def test_the_pairs_of_all_events_are_counted_by_one_query(lead, demo, after, source_of):
    with CaptureQueriesContext(connection) as asked:
        page = source_of(lead.get("/events/"))

    assert "49 pairs" in page
    assert sum("COUNT" in query["sql"] and "pairrecord" in query["sql"] for query in asked) == 1
