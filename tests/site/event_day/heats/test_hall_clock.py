"""The clock of the hall: server time, one heat at a time, and a clock that is set back."""

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from nearmark.site.common import clock
from nearmark.site.common.clock import SteadyClock
from nearmark.site.door.access import Role
from nearmark.site.models import Change, Device, HeatRun

NOON = timezone.now().replace(microsecond=0)


class Hands:
    """A wall clock and a counter of seconds, each moved by itself."""

    def __init__(self) -> None:
        self.wall, self.ticks = NOON, 50.0

    def pass_(self, **span: float) -> None:
        passed = timedelta(**span)
        self.wall += passed
        self.ticks += passed.total_seconds()


class HandsOfAHall(Hands):
    """Time passes and every device is in use, so that none locks itself."""

    def pass_(self, **span: float) -> None:
        super().pass_(**span)
        Device.objects.update(seen_at=self.wall)


@pytest.fixture
def hands(monkeypatch) -> Hands:
    moved = HandsOfAHall()
    monkeypatch.setattr(clock, "now", lambda: moved.wall)
    steady = SteadyClock(lambda: moved.wall, lambda: moved.ticks)
    monkeypatch.setattr(clock, "steady_now", steady)
    return moved


def start(client, heat="heat 1", minutes=30):
    return client.post("/clock/start/", {"heat": heat, "minutes": str(minutes)})


def test_a_set_back_clock_does_not_give_time_back():
    hands = Hands()
    steady = SteadyClock(lambda: hands.wall, lambda: hands.ticks)
    hands.pass_(minutes=10)
    assert steady() == NOON + timedelta(minutes=10)

    hands.wall -= timedelta(hours=1)
    hands.pass_(minutes=1)

    assert steady() == NOON + timedelta(minutes=11)


def test_a_sleep_counts_although_the_ticks_stand_still():
    hands = Hands()
    steady = SteadyClock(lambda: hands.wall, lambda: hands.ticks)

    hands.wall += timedelta(minutes=7)

    assert steady() == NOON + timedelta(minutes=7)


def test_before_the_first_start_the_next_heat_and_its_codes_are_told(client, demo):
    told = client.get("/clock/now.json").json()

    assert (told["state"], told["heat"], told["next_heat"]) == ("not started", "", "heat 1")
    codes = {p.code for p in demo.pairs.filter(heat="heat 1", status="entered")}
    assert set(told["next_codes"]) >= codes > set()


def test_the_time_left_is_computed_from_the_start_on_the_server(scorer, client, hands):
    assert start(scorer).status_code == 302
    hands.pass_(minutes=4, seconds=30)

    told = client.get("/clock/now.json").json()
    page = client.get("/clock/").content.decode()

    assert (told["state"], told["elapsed_ms"]) == ("running", 270_000)
    assert ">25:30<" in page


def test_the_last_five_minutes_and_the_end_are_states_of_their_own(scorer, client, hands):
    start(scorer)
    states = []
    for seconds in (24 * 60 + 59, 1, 299, 1):
        hands.pass_(seconds=seconds)
        states.append(client.get("/clock/now.json").json()["state"])

    assert states == ["running", "last minutes", "last minutes", "over"]


def test_a_computer_set_back_before_the_start_says_so_and_shows_the_full_time(
    scorer, client, hands, monkeypatch
):
    start(scorer)
    hands.wall -= timedelta(hours=2)
    Device.objects.update(seen_at=hands.wall)  # it has locked itself and was opened again
    # A restart of the server has forgotten how far.
    steady = SteadyClock(lambda: hands.wall, lambda: hands.ticks)
    monkeypatch.setattr(clock, "steady_now", steady)

    told = client.get("/clock/now.json").json()

    assert told["is_set_back"] is True
    assert b'data-state="set back"' in client.get("/clock/").content
    assert b"was set back" in scorer.get("/clock/control/").content


def test_a_second_heat_does_not_start_while_one_runs(scorer, lead, hands):
    start(scorer)

    answer = start(lead, "heat 2")

    assert answer.status_code == 409
    assert b"heat 1 is still running" in answer.content
    assert HeatRun.objects.count() == 1


def test_the_next_heat_starts_once_the_last_is_over(scorer, client, hands):
    start(scorer)
    hands.pass_(minutes=31)
    assert client.get("/clock/now.json").json()["next_heat"] == "heat 2"

    start(scorer, "heat 2", 20)

    told = client.get("/clock/now.json").json()
    assert (told["heat"], told["state"], told["minutes"]) == ("heat 2", "running", 20)
    assert HeatRun.objects.get(heat="heat 1").stopped_at == hands.wall


def test_the_database_itself_holds_one_running_heat(demo):
    HeatRun.objects.create(event=demo, heat="heat 1", started_at=NOON, minutes=30)

    with pytest.raises(IntegrityError), transaction.atomic():
        HeatRun.objects.create(event=demo, heat="heat 2", started_at=NOON, minutes=30)


@pytest.mark.parametrize("minutes", ["0", "100", "-5", "1e3", "", "half an hour"])
def test_a_length_that_makes_no_sense_is_refused_on_the_form(scorer, demo, minutes):
    answer = start(scorer, minutes=minutes)

    assert answer.status_code == 422
    assert not HeatRun.objects.exists()


def test_a_heat_that_is_none_is_refused(scorer, demo):
    assert start(scorer, "heat 77").status_code == 422
    assert not HeatRun.objects.exists()


def test_stopping_needs_the_box_to_be_ticked(scorer, client, hands):
    start(scorer)
    run = HeatRun.objects.get().pk

    assert scorer.post(f"/clock/{run}/stop/", {"why": "slip"}).status_code == 422
    assert client.get("/clock/now.json").json()["state"] == "running"

    scorer.post(f"/clock/{run}/stop/", {"is_sure": "on", "why": "fire alarm"})
    told = client.get("/clock/now.json").json()
    assert (told["state"], told["is_stopped"]) == ("over", True)
    assert Change.objects.first().why == "fire alarm"


def test_a_stale_page_does_not_stop_the_next_heat(scorer, lead, hands):
    start(scorer)
    first = HeatRun.objects.get().pk
    hands.pass_(minutes=31)
    start(lead, "heat 2")

    answer = scorer.post(f"/clock/{first}/stop/", {"is_sure": "on"})

    assert answer.status_code == 409
    assert HeatRun.objects.get(heat="heat 2").stopped_at is None


def test_more_time_is_added_and_told_in_the_history(scorer, client, hands):
    start(scorer)
    run = HeatRun.objects.get().pk
    hands.pass_(minutes=27)

    scorer.post(f"/clock/{run}/extend/", {"more": "5", "why": "spilt rice"})

    told = client.get("/clock/now.json").json()
    assert (told["minutes"], told["state"]) == (35, "running")
    line = Change.objects.first()
    assert (line.old, line.new, line.why) == ("30 min", "35 min", "spilt rice")


def test_a_pause_holds_the_time_and_the_end_moves(scorer, client, hands):
    start(scorer)
    run = HeatRun.objects.get().pk
    hands.pass_(minutes=10)
    ends = client.get("/clock/now.json").json()["ends"]

    scorer.post(f"/clock/{run}/pause/", {"why": "fire alarm"})
    hands.pass_(minutes=15)
    told = client.get("/clock/now.json").json()
    assert (told["state"], told["is_paused"], told["ends"]) == ("paused", True, "")
    assert told["elapsed_ms"] == 10 * 60_000
    page = client.get("/clock/").content.decode()
    assert 'data-state="paused"' in page
    assert ">20:00<" in page

    scorer.post(f"/clock/{run}/go-on/")
    hands.pass_(minutes=2)
    told = client.get("/clock/now.json").json()
    assert (told["state"], told["elapsed_ms"]) == ("running", 12 * 60_000)
    later = timezone.localtime(NOON + timedelta(minutes=45))
    assert (ends, told["ends"]) == (
        f"{timezone.localtime(NOON + timedelta(minutes=30)):%H:%M}",
        f"{later:%H:%M}",
    )
    went_on, paused = Change.objects.all()[:2]
    assert (paused.what, paused.why) == ("paused heat 1", "fire alarm")
    assert (went_on.what, went_on.new) == ("let heat 1 go on", "after 15 min 0 s")


def test_two_pauses_add_up(scorer, client, hands):
    start(scorer)
    run = HeatRun.objects.get().pk
    for _ in range(2):
        hands.pass_(minutes=5)
        scorer.post(f"/clock/{run}/pause/")
        hands.pass_(minutes=7)
        scorer.post(f"/clock/{run}/go-on/")

    assert client.get("/clock/now.json").json()["elapsed_ms"] == 10 * 60_000


def test_a_clock_set_back_in_a_pause_gives_no_time(scorer, client, hands):
    start(scorer)
    run = HeatRun.objects.get().pk
    hands.pass_(minutes=10)
    scorer.post(f"/clock/{run}/pause/")
    HeatRun.objects.update(paused_at=clock.steady_now() + timedelta(minutes=5))

    scorer.post(f"/clock/{run}/go-on/")

    assert HeatRun.objects.get().paused_for == timedelta()


@pytest.mark.parametrize("act", ["pause", "go-on"])
def test_a_pause_that_makes_no_sense_is_refused(scorer, hands, act):
    start(scorer, minutes=5)
    run = HeatRun.objects.get().pk
    if act == "pause":
        scorer.post(f"/clock/{run}/pause/")

    answer = scorer.post(f"/clock/{run}/{act}/")

    assert answer.status_code == 409
    if act == "go-on":
        hands.pass_(minutes=6)
        assert scorer.post(f"/clock/{run}/pause/").status_code == 409


def test_no_other_heat_starts_during_a_pause(scorer, hands):
    start(scorer)
    run = HeatRun.objects.get().pk
    scorer.post(f"/clock/{run}/pause/")
    hands.pass_(hours=2)

    answer = start(scorer, "heat 2")

    assert answer.status_code == 409
    assert "heat 1 is paused" in answer.content.decode()


def test_a_paused_heat_can_be_stopped(scorer, client, hands):
    start(scorer)
    run = HeatRun.objects.get().pk
    scorer.post(f"/clock/{run}/pause/")

    scorer.post(f"/clock/{run}/stop/", {"is_sure": "on"})

    assert client.get("/clock/now.json").json()["state"] == "over"


def test_a_heat_of_one_minute_never_says_last_five_minutes(scorer, client, hands):
    start(scorer, minutes=1)

    assert client.get("/clock/now.json").json()["state"] == "running"
    assert "Last 5 minutes" not in client.get("/clock/").content.decode()


@pytest.mark.parametrize(("more", "status"), [("60", 302), ("61", 422), ("0", 422), ("x", 422)])
def test_more_time_has_a_limit(scorer, hands, more, status):
    start(scorer)

    answer = scorer.post(f"/clock/{HeatRun.objects.get().pk}/extend/", {"more": more})

    assert answer.status_code == status


def test_more_than_fits_the_screen_is_refused(scorer, hands):
    start(scorer, minutes=60)

    answer = scorer.post(f"/clock/{HeatRun.objects.get().pk}/extend/", {"more": "40"})

    assert answer.status_code == 422
    assert HeatRun.objects.get().minutes == 60


def test_an_event_without_heats_is_timed_all_at_once(scorer, client, demo, hands):
    demo.pairs.update(heat="")

    start(scorer, "everybody")

    assert client.get("/clock/now.json").json()["heat"] == "everybody"


def test_the_clock_without_an_event_waits(client, no_event):
    assert client.get("/clock/now.json").json()["state"] == "not started"
    assert client.get("/clock/").status_code == 200


def test_heats_are_not_started_after_release(lead, demo):
    demo.released_at = NOON
    demo.save()

    assert start(lead).status_code == 409


def test_a_clock_left_open_does_not_keep_a_device_unlocked(scorer, fake_clock):
    for _ in range(30):
        fake_clock.forward(minutes=1)
        scorer.get("/clock/now.json")

    assert scorer.get("/entry/").headers["Location"] == "/unlock/?next=%2Fentry%2F"
    assert Device.objects.get(account__name="scorer one").locked
    # Locked or not, the hall sees its clock.
    assert scorer.get("/clock/now.json").status_code == 200


def test_no_child_s_name_stands_on_the_screen_of_the_hall(client, demo):
    seen = client.get("/clock/").content.decode() + client.get("/clock/now.json").content.decode()

    names = {name for pair in demo.pairs.all() for name in pair.members}
    assert names
    assert not [name for name in names if name in seen]


def test_a_coach_cannot_start_a_heat(sign_in, demo):
    assert start(sign_in(Role.COACH)).status_code == 403
