"""What a helper with a job may open, and what their device remembers."""

import pytest
from django.urls import URLPattern, get_resolver
from django.utils import timezone

from nearmark.site.door.access import ACCESS, JOB_OPENS, JOB_PAGES, Job, Role, may_open
from nearmark.site.models import Account, HeatRun, RoomRecord

PASSWORD = "four quiet otters swim"

# Written here a second time, on purpose: a slip in the table must not slip through.
COMES_AND_GOES = {"home", "sign-in", "sign-out", "join", "lock", "unlock", "public-results"}
COMES_AND_GOES |= {"help", "help-page", "help-search", "help-picture"}
CLOCK = COMES_AND_GOES | {
    *("clock", "clock-now", "clock-control", "clock-start", "clock-extend", "clock-stop"),
    *("clock-pause", "clock-resume", "clock-pause-all", "clock-resume-all"),
    *("heats", "heat-check-in", "heat-roll-call"),
}
ANNOUNCER = COMES_AND_GOES | {"announcer", "clock", "clock-now", "public-earlier"}
AFTER_RELEASE = {"standings", "standings-pdf", "awards", "run-off-pdf"}


@pytest.fixture
def helper(sign_in):
    """A helper with a job."""

    def come(job: Job):
        Account.objects.make(f"{job} helper", Role.SCORER, PASSWORD, job=job)
        return sign_in(Role.SCORER, f"{job} helper")

    return come


@pytest.mark.parametrize("released", [False, True])
@pytest.mark.parametrize(
    ("job", "expected"), [(Job.CLOCK, CLOCK), (Job.ANNOUNCER, ANNOUNCER | AFTER_RELEASE)]
)
def test_a_clock_and_an_announcer_open_their_own_pages_only(job, expected, released):
    opened = {n for n in ACCESS if may_open(n, Role.SCORER, released=released, job=job)}

    assert opened == (expected if released else expected - AFTER_RELEASE)


@pytest.mark.parametrize("job", [Job.CHECK_IN, Job.WEIGH_IN, Job.ANSWERS])
def test_the_other_jobs_may_help_out_wherever_a_scorer_may(job):
    for name in ACCESS:
        assert may_open(name, Role.SCORER, released=False, job=job) is may_open(
            name, Role.SCORER, released=False
        )


def test_a_job_opens_nothing_that_the_role_does_not():
    for job, names in JOB_OPENS.items():
        assert names <= set(ACCESS)
        assert set(JOB_PAGES[job]) <= names
        assert not may_open("kit", Role.SCORER, released=True, job=job)


def test_a_job_left_on_an_account_of_a_lead_takes_nothing_away():
    assert may_open("kit", Role.LEAD, released=False, job=Job.ANNOUNCER)


@pytest.mark.slow
def test_an_announcer_changes_nothing(helper, demo):
    client = helper(Job.ANNOUNCER)
    run = HeatRun.objects.create(event=demo, heat="heat 1", started_at=timezone.now(), minutes=30)
    filled = {"<int:run_id>": run.pk, "<int:pair_id>": demo.pairs.first().pk}

    for pattern in get_resolver("nearmark.site.server.urls").url_patterns:
        assert isinstance(pattern, URLPattern)
        address = f"/{pattern.pattern}"
        if "<" in address:
            for part, value in filled.items():
                address = address.replace(part, str(value))
        if pattern.name in ANNOUNCER | AFTER_RELEASE | {"first-run"} or "<" in address:
            continue
        assert client.post(address).status_code == 403, pattern.name


def test_the_clock_starts_and_pauses_a_heat_and_reads_no_answer(helper, demo):
    client = helper(Job.CLOCK)

    client.post("/clock/start/", {"heat": "heat 1", "minutes": "30"})
    run = HeatRun.objects.get()
    client.post(f"/clock/{run.pk}/pause/", {"why": "fire alarm"})

    run.refresh_from_db()
    assert run.paused_at is not None
    assert client.get("/", follow=True).request["PATH_INFO"] == "/clock/control/"
    for address in ("/entry/", "/weigh-in/", "/differences/"):
        assert client.get(address).status_code == 403


def test_the_announcer_calls_the_next_heat_by_school_without_names(helper, demo, source_of):
    page = source_of(helper(Job.ANNOUNCER).get("/", follow=True))

    pairs = demo.pairs.filter(heat="heat 1", status="entered")
    assert "No heat runs, heat 1 comes next." in page
    assert all(pair.code in page and pair.school in page for pair in pairs)
    assert not [name for pair in pairs for name in pair.members if f">{name}<" in page]
    assert "place</strong>" not in page


def test_the_announcer_reads_the_podium_out_from_the_end_once_released(
    helper, demo, source_of, fake_clock
):
    demo.released_at = fake_clock()
    demo.save()

    client = helper(Job.ANNOUNCER)
    page = source_of(client.get("/announcer/"))

    assert page.index("Second place: ") < page.index("First place: ")
    assert client.get("/standings/").status_code == 200


def test_a_scorer_without_this_job_finds_no_announcer_in_the_menu(scorer, lead, demo):
    assert 'href="/announcer/"' not in scorer.get("/heats/").content.decode()
    assert 'href="/announcer/"' in lead.get("/heats/").content.decode()


@pytest.fixture
def rooms(demo):
    for name in ("Hall", "Gym"):
        RoomRecord.objects.create(event=demo, name=name, places=12)
    demo.pairs.filter(heat="heat 1").update(room="Hall")
    return demo


def test_a_device_remembers_its_room_and_shows_it_first(helper, rooms, source_of):
    client = helper(Job.CLOCK)
    assert "<h1>Hall</h1>" in source_of(client.get("/clock/control/"))

    client.get("/clock/control/", {"room": "Gym"})

    assert "<h1>Gym</h1>" in source_of(client.get("/clock/control/"))
    assert "Check in, Gym" in source_of(client.get("/heats/"))
    client.get("/heats/", {"room": ""})
    assert "Check in, " not in source_of(client.get("/heats/"))
    client.get("/heats/", {"room": "Kitchen"})
    assert client.session.get("room") == ""


def test_a_room_that_is_gone_is_not_remembered(helper, rooms, source_of):
    client = helper(Job.CHECK_IN)
    client.get("/heats/", {"room": "Gym"})

    rooms.rooms.get(name="Gym").delete()

    assert "Check in, " not in source_of(client.get("/heats/"))


def test_the_device_at_a_scale_is_asked_once_which_one_it_reads(helper, empty_event, source_of):
    client = helper(Job.WEIGH_IN)
    assert "This device reads" not in source_of(client.get("/weigh-in/"))
    empty_event.instruments.create(name="kitchen scale", unit="g", resolution=1.0)
    assert "Which scale is at this device?" in source_of(client.get("/weigh-in/"))

    client.get("/weigh-in/", {"scale": "kitchen scale"})
    page = source_of(client.get("/weigh-in/"))

    assert '<p class="to-do">kitchen scale</p>' in page
    assert '<option value="kitchen scale" selected>' in page
    assert "Change to bench scale" in page
    assert "Change to kitchen scale" not in page
