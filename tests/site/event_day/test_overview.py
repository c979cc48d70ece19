"""The overview: what next, step by step, and what is missing now; times of this computer."""

from datetime import UTC, datetime, timedelta

import pytest
from django.test import override_settings

from nearmark.site.common.local_time import local_zone, offset_zone
from nearmark.site.door.access import Role
from nearmark.site.event_day.heats.plan_actions import MAX_PLACES
from nearmark.site.models import Change, EventRecord, HeatRun, Job, JobState, PairRecord


def next_step(page: str) -> str:
    return page.partition('class="to-do">')[2].partition("<")[0]


@pytest.fixture
def keys_are_fit(lead, demo):
    item = demo.items.get(code="B1").pk
    lead.post(f"/kit/{item}/decide/", {"why": "the box is soft"})
    return demo


def test_pairs_without_a_heat_make_planning_the_next_step(lead, keys_are_fit):
    keys_are_fit.pairs.update(heat="")

    page = lead.get("/event/").content.decode()
    assert next_step(page) == "Plan the heats"

    lead.post("/heats/fill/", {"places": str(MAX_PLACES)})
    assert next_step(lead.get("/event/").content.decode()) != "Plan the heats"


def test_heats_to_come_are_named(lead, sign_in, keys_are_fit, empty_event, fake_clock):
    Job.objects.create(
        event=empty_event, kind="paper-a4", state=JobState.DONE, asked_by="A", asked_at=fake_clock()
    )
    scorer = sign_in(Role.SCORER)
    page = lead.get("/event/").content.decode()
    assert "All paper of the day was made in one file." in page
    assert "1 helper is in." in page
    assert next_step(page) == "Run the heats"
    assert scorer.get("/event/").status_code == 403
    assert "Still to come: heat 1, heat 2, heat 3, heat 4, heat 5." in page

    for number in range(1, 5):
        HeatRun.objects.create(
            event=empty_event,
            heat=f"heat {number}",
            started_at=fake_clock(),
            minutes=30,
            stopped_at=fake_clock(),
        )
    assert "Still to come: heat 5." in lead.get("/event/").content.decode()


def test_before_the_release_some_sheets_are_read_again(lead, keys_are_fit):
    lead.post(
        "/differences/decide/", {"pair": "P09", "item": "C2", "value": "2710", "why": "a clear 7"}
    )

    assert next_step(lead.get("/event/").content.decode()) == "Read some sheets again"


def test_an_empty_event_says_nothing_that_is_not_so(lead, no_event):
    """Found on a day: "Every key is fit", "All read twice", "Settle the differences: done"."""
    lead.post(
        "/event/make/",
        {"name": "A day", "day": "2027-05-08", "venue": "", "rules": "percent accuracy"},
    )
    assert EventRecord.objects.count() == 1

    page = lead.get("/event/").content.decode()

    assert 'class="is-done"' not in page
    steps = page.partition("The day, step by step")[2].partition("</ol>")[0]
    for claim in ("is fit", "are fit", "ll read twice", "Every pair", "Every heat", "done"):
        assert claim not in steps
    assert "There is no item yet." in page
    assert "There is nothing to read yet." in page
    assert "No helper is in; two people read each sheet." in page


def test_paper_helpers_and_weigh_in_are_steps(lead, empty_event):
    page = lead.get("/event/").content.decode()

    steps = [part.partition("<")[0] for part in page.split("<strong>")[1:]]
    for title in ("Print the paper", "Bring the helpers in", "Weigh the cups in"):
        assert title in steps
    n = PairRecord.objects.filter(status__in=("entered", "guest")).count()
    assert f"0 of {n} cups are in." in page


def test_a_heat_that_never_ran_here_is_not_said_to_have_been_started(lead, demo):
    page = lead.get("/event/").content.decode()

    assert "Not started on this clock, but with answers: heat 1" in page
    assert "had its turn" not in page


def test_what_is_missing_comes_as_a_part_of_the_page(lead, demo):
    part = lead.get("/event/missing/").content.decode()

    assert part.strip().startswith('<div class="columns even" id="missing">')
    assert "C2, P09: read as 2170 and 2710" in part
    assert part.strip() in lead.get("/event/").content.decode()


def test_times_are_those_of_the_zone_in_force(lead, demo, source_of):
    Change.objects.create(event=demo, at=datetime(2027, 5, 8, 9, 30, tzinfo=UTC), who="A", what="b")

    with override_settings(TIME_ZONE="Europe/Helsinki"):
        page = source_of(lead.get("/history/"))

    # Helsinki is at UTC+3 in May (IANA time zone database).
    assert "08 May 12:30:00" in page
    assert "UTC" not in page


def test_the_zone_is_that_of_the_computer(tmp_path):
    linked = tmp_path / "zoneinfo" / "Asia" / "Kolkata"
    linked.parent.mkdir(parents=True)
    linked.touch()
    localtime = tmp_path / "localtime"
    localtime.symlink_to(linked)

    assert local_zone({"TZ": "America/Bogota"}, localtime) == "America/Bogota"
    assert local_zone({"TZ": "nowhere/at all"}, localtime) == "Asia/Kolkata"
    assert local_zone({}, localtime) == "Asia/Kolkata"


def test_without_a_name_whole_hours_will_do():
    # The sign in Etc names is the other way round (IANA time zone database, file etcetera).
    assert offset_zone(timedelta(hours=-5)) == "Etc/GMT+5"
    assert offset_zone(timedelta()) == "UTC"
