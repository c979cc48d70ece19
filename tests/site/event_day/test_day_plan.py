"""The what-if page: the answer of the core for this event's numbers, and days played beside it."""

import threading
import time as clock_of_tests
from dataclasses import replace
from datetime import time

import pytest
from django.utils import timezone

from nearmark.contest.day_flow.changes import worth_of_changes
from nearmark.contest.day_flow.options import DayOptions
from nearmark.contest.day_flow.room import Break, Choice, Overrun
from nearmark.contest.day_flow.summary import day_bands
from nearmark.contest.day_flow.times import Minutes
from nearmark.contest.event import Room
from nearmark.contest.heat_records import TAKES_PART
from nearmark.site.event_day.day_plan import runs as day_runs
from nearmark.site.event_day.day_plan.forms import DayPlanForm
from nearmark.site.event_day.day_plan.runs import N_FIRST, DayRuns, _GivenUpError, _Run
from nearmark.site.event_day.heats.models import HeatDay
from nearmark.site.models import Change, RoomRecord
from nearmark.words.day_flow import flow_words

SMALL = DayOptions(pairs=6)


def options_of_demo(demo, **changes):
    usual = DayOptions(
        pairs=demo.pairs.filter(status__in=TAKES_PART).count(),
        places=demo.heat_places,
        containers=demo.items.filter(station="count").count(),
        boxes=demo.items.filter(station="volume").count(),
    )
    return replace(usual, **changes)


@pytest.mark.slow
def test_the_page_answers_for_the_event_as_it_is(lead, demo):
    page = lead.get("/day-plan/").content.decode()

    bands = day_bands(options_of_demo(demo).planned(), n_days=N_FIRST)
    for line in flow_words(bands, time(9)):
        assert line in page
    assert page.count("<svg") >= 2
    assert f"{N_FIRST} days played" in page


@pytest.mark.slow
def test_an_address_holds_the_whole_question(lead, demo):
    asked = "minutes=25&gap=5&scales=2&helpers=2&overrun=later&choice=habit&start=10:30"
    page = lead.get(f"/day-plan/?{asked}").content.decode()

    options = options_of_demo(
        demo,
        minutes=25.0,
        interval_min=30.0,
        scales=2,
        helpers=2,
        overrun=Overrun.LATER,
        choice=Choice.HABIT,
    )
    head, *_ = flow_words(day_bands(options.planned(), n_days=N_FIRST), time(10, 30))
    assert head in page
    assert 'name="gap" value="5"' in page


def test_asking_saves_nothing(lead, demo):
    before = Change.objects.count()
    lead.get("/day-plan/?places=20&minutes=45")

    assert Change.objects.count() == before
    assert type(demo).objects.get().heat_places == demo.heat_places


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("late_pairs=3&late_heat=99", "Heats are numbered 1 to"),
        ("minutes=20&gap=-20", "Must be -19 or more"),
        ("scoop=3-2-5", "Must rise from the shortest"),
        ("scoop=soon", "Write three numbers"),
        ("scales=0", "greater than or equal to 1"),
    ],
)
def test_a_number_that_makes_no_day_is_refused_beside_its_field(lead, asked, said):
    answer = lead.get(f"/day-plan/?{asked}")

    assert answer.status_code == 422
    page = answer.content.decode()
    assert said.casefold() in page.casefold()
    assert "days played" not in page
    assert "No day can be made of these numbers" in page


@pytest.mark.slow
def test_an_event_with_rooms_is_asked_for_neither_rooms_nor_places(lead, demo):
    RoomRecord.objects.create(event=demo, name="Hall", places=12)
    RoomRecord.objects.create(event=demo, name="Library", places=6)
    page = lead.get("/day-plan/").content.decode()

    assert "Hall, 12 places; Library, 6 places." in " ".join(page.split())
    assert 'name="rooms"' not in page
    assert 'name="places"' not in page
    assert "Room Library" in page


def test_an_event_without_rooms_hears_of_none(lead):
    assert "Rooms of the event" not in lead.get("/day-plan/").content.decode()


def test_only_the_lead_opens_it(scorer):
    assert scorer.get("/day-plan/").status_code == 403


def test_every_number_of_the_form_reaches_the_core():
    asked = {
        "pairs": "30",
        "rooms": "2",
        "places": "8",
        "minutes": "20",
        "gap": "-5",
        "scales": "2",
        "helpers": "3",
        "at_container": "4",
        "at_box": "5",
        "late_pairs": "2",
        "late_minutes": "7",
        "late_heat": "1",
        "break_minutes": "10",
        "break_start": "15",
        "containers": "1",
        "boxes": "4",
        "returned": "kept",
        "scoop": "1 - 2,5 - 4",
    }
    form = DayPlanForm(asked, {})
    assert form.is_valid(), form.errors

    found = form.options
    assert (found.pairs, found.rooms, found.places, found.scales, found.helpers) == (30, 2, 8, 2, 3)
    assert (found.minutes, found.interval_min) == (20, 15)
    assert (found.at_container, found.at_box, found.containers, found.boxes) == (4, 5, 1, 4)
    assert [(late.heat, late.pairs, late.minutes) for late in found.late] == [(1, 2, 7)]
    assert found.breaks == (Break(15, 25),)
    assert found.is_returned is False
    assert found.scoop == Minutes(1, 2.5, 4)
    assert found.weigh == DayOptions().weigh


def test_the_rooms_of_an_event_reach_the_core():
    form = DayPlanForm({}, {}, [Room("Hall", 12), Room("Library", 6)])
    assert form.is_valid(), form.errors

    hall, library = form.options.planned()
    assert (hall.room.name, hall.room.places) == ("Hall", 12)
    assert (library.room.name, library.room.places) == ("Library", 6)


PLAN = {"minutes": "25", "gap": "5", "start": "08:45", "places": "10"}


def test_a_plan_is_kept_when_the_lead_saves_it(lead, demo):
    answer = lead.post("/day-plan/save/", PLAN, follow=True)

    words = "heats of 25 minutes, 5 between them, from 08:45"
    page = answer.content.decode()
    assert f"Saved: {words}." in page
    assert f"The saved plan: {words}." in page
    assert 'name="minutes" value="25"' in page
    day = HeatDay.objects.get(event=demo)
    assert (day.minutes, day.interval_minutes, day.first_start) == (25, 30, time(8, 45))
    assert type(demo).objects.get().heat_places == 10
    places = Change.objects.order_by("pk").last()
    assert (places.old, places.new) == (str(demo.heat_places), "10")


@pytest.mark.slow
@pytest.mark.parametrize(("gap", "interval"), [("-10", 15), ("0", None)])
def test_heats_may_overlap_or_follow_at_once(lead, demo, gap, interval):
    lead.post("/day-plan/save/", PLAN)
    lead.post("/day-plan/save/", PLAN | {"gap": gap})

    assert HeatDay.objects.get(event=demo).interval_minutes == interval
    assert f'name="gap" value="{gap}"' in lead.get("/day-plan/").content.decode()


def test_rooms_keep_their_own_places(lead, demo):
    RoomRecord.objects.create(event=demo, name="Hall", places=12)
    page = lead.get("/day-plan/").content.decode()
    form = page[page.index("/day-plan/save/") :].split("</form>", maxsplit=1)[0]
    assert 'name="places"' not in form

    lead.post("/day-plan/save/", {**PLAN, "places": ""})
    assert type(demo).objects.get().heat_places == demo.heat_places


@pytest.mark.parametrize(
    "changed", [{"minutes": "0"}, {"gap": "-25"}, {"places": "99"}, {"start": "soon"}]
)
def test_a_plan_that_cannot_be_is_not_saved(lead, demo, changed):
    assert lead.post("/day-plan/save/", PLAN | changed).status_code >= 400
    assert not HeatDay.objects.filter(event=demo).exists()
    assert type(demo).objects.get().heat_places == demo.heat_places


def test_nothing_is_saved_when_the_results_are_out(lead, demo):
    type(demo).objects.update(released_at=timezone.now())
    assert lead.post("/day-plan/save/", PLAN).status_code == 409
    assert "/day-plan/save/" not in lead.get("/day-plan/").content.decode()


@pytest.fixture
def played_out(monkeypatch):
    """Days played beside the page, as on a site; few of them."""

    def wait_for(runs, options):
        give_up_at = clock_of_tests.monotonic() + 60
        status = runs.ask(options)
        while status.is_pending and clock_of_tests.monotonic() < give_up_at:
            for thread in threading.enumerate():
                if thread.name == "day plan":
                    thread.join(1)
            status = runs.ask(options)
        return status

    return wait_for


@pytest.mark.slow
def test_days_played_beside_the_page_are_those_of_the_core(played_out):
    status = played_out(DayRuns(n_days=50), SMALL)

    assert not status.is_pending
    assert status.bands == day_bands(SMALL.planned(), n_days=50)
    assert status.changes == worth_of_changes(SMALL.planned())


@pytest.mark.slow
def test_a_plan_asked_while_another_is_played_comes_next(played_out):
    runs, other = DayRuns(n_days=41), replace(SMALL, scales=2, helpers=2)
    runs.ask(SMALL)
    status = played_out(runs, other)

    assert not status.is_pending
    assert status.bands == day_bands(other.planned(), n_days=41)


def test_a_plan_nobody_asks_for_is_given_up_only_when_another_one_waits():
    runs, run = DayRuns(), _Run(SMALL)
    run.asked_at -= 2 * day_runs.STALE_S
    runs._step(run, 0.5)
    assert run.share_done == 0.5

    runs._next = _Run(replace(SMALL, scales=2))
    with pytest.raises(_GivenUpError):
        runs._step(run, 0.6)


def test_a_plan_that_breaks_keeps_its_first_answer(monkeypatch, played_out, caplog):
    def broken(*_, **__):
        raise ZeroDivisionError

    options = replace(SMALL, pairs=7)
    first = day_runs.first_answer(options)
    monkeypatch.setattr(day_runs, "worth_of_changes", broken)
    monkeypatch.setattr(day_runs, "day_bands", broken)
    status = played_out(DayRuns(), options)

    assert not status.is_pending
    assert (status.bands, status.changes) == (first, None)
    assert "day plan" in caplog.text
