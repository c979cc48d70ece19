"""Who may save an answer is decided at each post, and whoever may not saves nothing."""

import pytest
from django.db import OperationalError

from nearmark.site.door.access import Role
from nearmark.site.models import Account, AnswerEntry, Device, EventRecord

JSON = {"Accept": "application/json"}
SAVE = "/entry/save/"


@pytest.fixture
def tablet(scorer, empty_event, cell_post):
    """A scorer's browser that has saved one answer."""
    assert scorer.post(SAVE, cell_post("P01", "C2", "2870"), headers=JSON).status_code == 200
    return scorer


def device_of(tablet):
    return Device.objects.filter(pk=tablet.session["device"])


def account_of(tablet):
    return Account.objects.filter(pk=tablet.session["_auth_user_id"])


def revoke(tablet, clock):
    device_of(tablet).update(revoked_at=clock.time)


def lock(tablet, clock):
    device_of(tablet).update(locked=True)


def sign_out(tablet, clock):
    tablet.session.flush()


def make_a_coach_of_him(tablet, clock):
    account_of(tablet).update(role=Role.COACH.value)


def let_the_account_rest(tablet, clock):
    account_of(tablet).update(is_active=False)


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
def test_who_may_no_longer_save_is_refused_at_the_next_answer(
    fake_clock, tablet, cell_post, happens, status
):
    happens(tablet, fake_clock)

    answer = tablet.post(SAVE, cell_post("P02", "C2", "2871"), headers=JSON)

    assert answer.status_code == status, answer.content
    assert not AnswerEntry.objects.filter(pair__code="P02").exists()


@pytest.mark.parametrize(
    ("changes", "status"),
    [
        ({"HTTP_ORIGIN": "http://elsewhere.example"}, 401),
        ({"HTTP_HOST": "elsewhere.example"}, 400),
        ({"HTTP_COOKIE": ""}, 401),
    ],
)
def test_a_post_of_another_page_or_host_saves_nothing(tablet, cell_post, changes, status):
    tablet.handler.enforce_csrf_checks = True

    answer = tablet.post(SAVE, cell_post("P02", "C2", "2871"), headers=JSON, **changes)

    assert answer.status_code == status, answer.content
    assert not AnswerEntry.objects.filter(pair__code="P02").exists()


def test_the_answer_of_another_person_on_this_tablet_is_not_saved(tablet, cell_post):
    post = cell_post("P02", "C2", "2871") | {"reader": "999999"}

    assert tablet.post(SAVE, post, headers=JSON).status_code == 401
    assert not AnswerEntry.objects.filter(pair__code="P02").exists()


def test_a_refused_cell_leaves_the_other_saved_once(tablet, cell_post):
    both = cell_post("P02", "C2", "2871") | cell_post("P03", "C2", "many")

    answer = tablet.post(SAVE, both, headers=JSON)

    assert answer.status_code == 422
    assert [len(answer.json()[kind]) for kind in ("saved", "refused")] == [1, 1]
    assert AnswerEntry.objects.filter(pair__code__in=["P02", "P03"]).count() == 1


def test_nobody_reads_saved_when_the_database_fails(tablet, cell_post, monkeypatch):
    def fail(**_: object) -> None:
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(AnswerEntry.objects, "create", fail)

    answer = tablet.post(SAVE, cell_post("P02", "C2", "2871"), headers=JSON)

    assert (answer.status_code, "saved" in answer.json()) == (503, False)
