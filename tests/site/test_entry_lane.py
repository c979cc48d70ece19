"""The short way of an entry says "saved" where the whole site would, and nothing else."""

import json
import uuid

import pytest
from django.core.signals import request_started
from django.core.wsgi import get_wsgi_application
from django.db import OperationalError, close_old_connections
from django.test import Client

from nearmark.site import entry_lane
from nearmark.site.entry_lane import EntryLane
from nearmark.site.models import Account, AnswerEntry, Device, EventRecord
from nearmark.site.roles import Role
from nearmark.site.visitor import DEVICE_IN_SESSION

TOKEN = "a" * 32


class CountedSite:
    """The whole site, and how often it was asked."""

    def __init__(self) -> None:
        self.site, self.n_asked = get_wsgi_application(), 0

    def __call__(self, environ, start):
        self.n_asked += 1
        # As Django's own test client: the test's transaction outlives a request.
        request_started.disconnect(close_old_connections)
        try:
            return self.site(environ, start)
        finally:
            request_started.connect(close_old_connections)


class Tablet:
    """A scorer's browser that talks to the lane as the server does."""

    def __init__(self, client: Client, environ_of) -> None:
        self.client, self.whole, self.environ_of = client, CountedSite(), environ_of
        self.lane = EntryLane(self.whole)
        session = client.session
        self.reader = session["_auth_user_id"]
        self.device = Device.objects.get(pk=session[DEVICE_IN_SESSION])

    def post(self, fields, *, token=TOKEN, reader=None, **environ):
        """One post -> (status, told, headers)."""
        sent = {**fields, "reader": reader or self.reader, "csrfmiddlewaretoken": token}
        answered = []
        environ = self.environ_of(self.client, sent, **environ)
        parts = self.lane(environ, lambda status, headers: answered.append((status, headers)))
        content = b"".join(parts)
        (status, headers) = answered[0]
        is_json = dict(headers).get("Content-Type") == "application/json"
        return int(status[:3]), json.loads(content) if is_json else {}, dict(headers)


@pytest.fixture
def tablet(scorer, empty_event, cell_post, entry_environ) -> Tablet:
    """Let in by one entry, so that the next goes the short way."""
    tablet = Tablet(scorer, entry_environ)
    assert tablet.post(cell_post("P01", "C2", "2870"))[0] == 200
    assert tablet.whole.n_asked == 1
    return tablet


def test_the_second_entry_goes_the_short_way_and_is_answered_alike(tablet, cell_post):
    post = cell_post("P02", "C2", "2871")
    status, told, headers = tablet.post(post)
    again = tablet.post(post)

    assert tablet.whole.n_asked == 1
    # The same entry through the whole site: what is told and every header are the same.
    tablet.lane = EntryLane(tablet.whole)
    whole_status, whole_told, whole_headers = tablet.post(post)
    assert (whole_status, whole_told) == (status, told) == again[:2]
    # The whole site says "Vary" where it looked into the session; nothing of this is kept anywhere.
    assert whole_headers.items() ^ headers.items() <= {("Vary", "Cookie")}
    assert tablet.whole.n_asked == 2
    assert (status, headers["Cache-Control"]) == (200, "no-store")
    assert AnswerEntry.objects.filter(pair__code="P02").count() == 1


def test_a_question_about_an_unlikely_value_is_asked_on_the_short_way(tablet, cell_post):
    status, told, _ = tablet.post(cell_post("P02", "C2", "3"))

    assert (status, len(told["questions"]), tablet.whole.n_asked) == (200, 1, 1)


def revoke(tablet, clock):
    Device.objects.filter(pk=tablet.device.pk).update(revoked_at=clock.time)


def lock(tablet, clock):
    Device.objects.filter(pk=tablet.device.pk).update(locked=True)


def sign_out(tablet, clock):
    tablet.client.session.flush()


def make_a_coach_of_him(tablet, clock):
    Account.objects.filter(pk=tablet.reader).update(role=Role.COACH.value)


def let_the_account_rest(tablet, clock):
    Account.objects.filter(pk=tablet.reader).update(is_active=False)


def leave_it_idle(tablet, clock):
    clock.forward(minutes=21)


def let_the_device_run_out(tablet, clock):
    clock.forward(days=400)


def release(tablet, clock):
    EventRecord.objects.update(released_at=clock.time)


@pytest.mark.parametrize(
    ("happens", "status"),
    [
        (revoke, 401),
        (lock, 401),
        (sign_out, 401),
        (make_a_coach_of_him, 403),
        (let_the_account_rest, 401),
        (leave_it_idle, 401),
        (let_the_device_run_out, 401),
        (release, 422),
    ],
)
def test_who_is_no_longer_in_hears_it_from_the_whole_site(
    fake_clock, tablet, cell_post, happens, status
):
    happens(tablet, fake_clock)

    answered = tablet.post(cell_post("P02", "C2", "2871"))

    assert (answered[0], tablet.whole.n_asked) == (status, 2), answered
    assert not AnswerEntry.objects.filter(pair__code="P02").exists()


@pytest.mark.parametrize(
    ("changes", "status"),
    [
        ({"token": "b" * 32}, 401),
        ({"HTTP_ORIGIN": "http://elsewhere.example"}, 401),
        ({"HTTP_HOST": "elsewhere.example"}, 400),
        ({"HTTP_COOKIE": f"csrftoken={TOKEN}"}, 401),
        ({"reader": "999999"}, 401),
        ({"REQUEST_METHOD": "PUT"}, 401),
    ],
)
def test_a_post_that_was_not_let_in_before_is_judged_by_the_whole_site(
    tablet, cell_post, changes, status
):
    answered = tablet.post(cell_post("P02", "C2", "2871"), **changes)

    assert (answered[0], tablet.whole.n_asked) == (status, 2), answered
    assert not AnswerEntry.objects.filter(pair__code="P02").exists()


def test_a_token_that_stood_in_a_header_lets_in_no_post_without_it(tablet, cell_post):
    by_header = {"token": "", "HTTP_X_CSRFTOKEN": TOKEN}
    assert tablet.post(cell_post("P02", "C2", "2871"), **by_header)[0] == 200

    assert tablet.post(cell_post("P03", "C2", "2872"), token="")[0] == 401
    assert not AnswerEntry.objects.filter(pair__code="P03").exists()


def test_a_refused_cell_is_told_by_the_whole_site_and_the_other_is_saved_once(tablet, cell_post):
    both = cell_post("P02", "C2", "2871") | cell_post("P03", "C2", "many")

    status, told, _ = tablet.post(both)

    assert (status, len(told["saved"]), len(told["refused"])) == (422, 1, 1)
    assert AnswerEntry.objects.filter(pair__code__in=["P02", "P03"]).count() == 1


def test_a_reading_is_struck_out_by_the_whole_site(tablet, cell_post):
    name = next(iter(cell_post("P01", "C2", "1"))).removeprefix("v-")

    status, *_ = tablet.post({"strike": name, "why": "slip"})

    assert (status, tablet.whole.n_asked) == (302, 2)
    assert AnswerEntry.objects.get(pair__code="P01").struck_at is not None


def test_nobody_is_told_saved_when_the_database_fails(tablet, cell_post, monkeypatch):
    def fail(*_: object) -> None:
        raise OperationalError("database or disk is full")

    monkeypatch.setattr("nearmark.site.acts.answers.add_reading", fail)

    status, told, _ = tablet.post(cell_post("P02", "C2", "2871"))

    assert (status, "saved" in told, tablet.whole.n_asked) == (503, False, 2)


def test_what_was_saved_is_told_though_the_lane_cannot_learn(
    scorer, empty_event, cell_post, monkeypatch, entry_environ
):
    def fail(*_: object) -> None:
        raise OperationalError("disk I/O error")

    tablet = Tablet(scorer, entry_environ)
    monkeypatch.setattr(entry_lane, "sight_of", fail)

    assert tablet.post(cell_post("P01", "C2", "2870"))[0] == 200


def test_after_a_minute_the_sight_of_a_device_is_noted_and_the_lane_is_open_again(
    fake_clock, tablet, cell_post
):
    fake_clock.forward(seconds=61)
    assert tablet.post(cell_post("P02", "C2", "2871"))[0] == 200
    assert Device.objects.get(pk=tablet.device.pk).seen_at == fake_clock.time
    tablet.post(cell_post("P03", "C2", "2872"))

    assert tablet.whole.n_asked == 2


def test_that_one_device_was_seen_sends_no_other_the_long_way(
    fake_clock, tablet, sign_in, cell_post, entry_environ
):
    other = Tablet(sign_in(Role.SCORER, "Sorrel"), entry_environ)
    assert tablet.post(cell_post("P02", "C2", "2871"))[0] == 200
    fake_clock.forward(seconds=40)
    assert other.post(cell_post("P03", "C2", "2872", key=uuid.uuid4()))[0] == 200
    n_before = tablet.whole.n_asked
    # The other's sight is noted, this one's is not old enough yet.
    Device.objects.filter(pk=other.device.pk).update(seen_at=fake_clock.time)
    tablet.post(cell_post("P04", "C2", "2873"))

    assert tablet.whole.n_asked == n_before
