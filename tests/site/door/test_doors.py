"""First run, signing in, joining by code, locking: what works and every refusal."""

import pytest
from django.test import Client

from nearmark.errors import InputError
from nearmark.site.door import actions as doors
from nearmark.site.door.access import Role
from nearmark.site.door.rate_limit import MAX_PER_ADDRESS, MAX_PER_SUBJECT
from nearmark.site.models import Account, Attempt, Device, JoinCode

FIRST = {"name": "Juniper", "password": "four quiet otters swim", "again": "four quiet otters swim"}


def test_the_first_run_makes_a_lead_and_opens_the_overview(nobody):
    client = Client()

    assert client.get("/").headers["Location"] == "/first-run/"
    answer = client.post("/first-run/", FIRST, follow=True)

    assert Account.objects.get().role == Role.LEAD
    assert "Begin an event" in answer.content.decode()


def test_no_account_has_a_password_before_the_first_run(nobody):
    assert not Account.objects.exists()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"password": "short", "again": "short"}, "at least 10 characters"),
        ({"password": "password123", "again": "password123"}, "too common"),
        ({"again": "four quiet otters swam"}, "passwords differ"),
        ({"name": " "}, "required"),
    ],
)
def test_a_weak_first_run_is_refused_with_the_mend(nobody, change, words):
    answer = Client().post("/first-run/", FIRST | change)

    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not Account.objects.exists()


def test_the_first_run_works_once(lead):
    answer = Client().post("/first-run/", FIRST | {"name": "Intruder"})

    assert answer.headers["Location"] == "/sign-in/"
    assert not Account.objects.filter(name="Intruder").exists()


@pytest.mark.parametrize("role", [role for role in Role if role is not Role.PUBLIC])
def test_the_door_writes_what_the_other_tests_come_in_by(sign_in, demo, role):
    beside = sign_in(role)
    name = Account.objects.filter(role=role).get().name
    client = Client()

    answer = client.post("/sign-in/", {"name": name, "password": "four quiet otters swim"})

    assert answer.headers["Location"] == "/"
    first, second = (dict(each.session.items()) for each in (beside, client))
    devices = [Device.objects.get(pk=each.pop("device")) for each in (first, second)]
    assert first == second
    assert devices[0].pk != devices[1].pk
    told = [(each.account.name, each.about, each.address) for each in devices]
    assert told == [(name, "browser on device", "127.0.0.1")] * 2


def test_a_wrong_password_and_a_wrong_name_are_told_the_same(demo):
    wrong = [
        Client().post("/sign-in/", {"name": name, "password": "not this one"})
        for name in ("Juniper", "Nobody")
    ]

    shown = [a.content.decode().partition('role="alert"')[2].partition("</div>")[0] for a in wrong]
    assert [a.status_code for a in wrong] == [422, 422]
    assert shown[0] == shown[1] != ""


def test_too_many_wrong_passwords_close_the_door_for_ten_minutes(demo, fake_clock):
    client = Client()
    right = {"name": "Juniper", "password": "four quiet otters swim"}
    for _ in range(8):
        client.post("/sign-in/", {"name": "Juniper", "password": "guess"})

    assert client.post("/sign-in/", right).status_code == 409
    fake_clock.forward(minutes=11)
    assert client.post("/sign-in/", right).status_code == 302


def test_guesses_from_one_address_do_not_shut_out_another(demo):
    for _ in range(9):
        Client(REMOTE_ADDR="10.0.0.66").post("/sign-in/", {"name": "Juniper", "password": "guess"})

    right = {"name": "Juniper", "password": "four quiet otters swim"}
    assert Client(REMOTE_ADDR="10.0.0.7").post("/sign-in/", right).status_code == 302


def test_signing_in_changes_the_session_so_that_a_planted_one_is_worthless(demo):
    client = Client()
    client.get("/sign-in/")
    session = client.session
    session["planted"] = "yes"
    session.save()
    planted = client.cookies["sessionid"] = session.session_key

    client.post("/sign-in/", {"name": "Juniper", "password": "four quiet otters swim"})

    assert client.session.session_key != planted


def test_a_sign_in_never_sends_people_to_another_site(demo):
    answer = Client().post(
        "/sign-in/",
        {
            "name": "Juniper",
            "password": "four quiet otters swim",
            "next": "https://example.org/steal",
        },
    )

    assert answer.headers["Location"] == "/"


def joined(code: str, name: str = "Ash", pin: str = "4711", **client) -> tuple[Client, int]:
    visitor = Client(**client)
    answer = visitor.post("/join/", {"code": code, "name": name, "pin": pin})
    return visitor, answer.status_code


def test_a_code_lets_one_device_in_with_its_role(lead, demo):
    shown = lead.post("/devices/code/", {"role": "scorer"}).content.decode()
    code = shown.partition('class="bigcode">')[2].partition("<")[0]

    visitor, status = joined(code.lower())

    assert status == 302
    assert visitor.get("/entry/").status_code == 200
    assert visitor.get("/kit/").status_code == 403
    assert "<svg" in shown


def test_a_code_works_once(demo):
    code, _ = doors.make_code(Role.SCORER, "Juniper")

    assert joined(code)[1] == 302
    assert joined(code, name="Birch")[1] == 422


def test_a_code_runs_out(demo, fake_clock):
    code, _ = doors.make_code(Role.SCORER, "Juniper")
    fake_clock.forward(minutes=10, seconds=1)

    assert joined(code)[1] == 422


def test_looking_at_the_page_of_a_code_does_not_use_it_up(demo):
    code, _ = doors.make_code(Role.SCORER, "Juniper")
    Client().get(f"/join/?code={code}")

    assert joined(code)[1] == 302


def test_the_code_itself_is_not_kept(demo):
    code, record = doors.make_code(Role.SCORER, "Juniper")

    assert code not in record.code_hash
    assert all(code not in str(value) for value in JoinCode.objects.values_list()[0])


def test_guesses_at_codes_are_stopped(demo):
    code, _ = doors.make_code(Role.SCORER, "Juniper")
    for _ in range(8):
        assert joined("ABCDEFGH")[1] == 422

    assert joined(code)[1] == 409
    assert joined(code, REMOTE_ADDR="10.0.0.7")[1] == 302


@pytest.mark.parametrize(("pin", "words"), [("12", "4 to 8 digits"), ("abcd", "4 to 8 digits")])
def test_a_bad_pin_leaves_the_code_unused(demo, pin, words):
    code, _ = doors.make_code(Role.SCORER, "Juniper")

    answer = Client().post("/join/", {"code": code, "name": "Ash", "pin": pin})

    assert words in answer.content.decode()
    assert joined(code)[1] == 302


def test_two_people_cannot_have_one_name(demo):
    code, _ = doors.make_code(Role.SCORER, "Juniper")

    assert joined(code, name="juniper")[1] == 422
    assert joined(code, name="Ash")[1] == 302


def test_somebody_who_joined_cannot_sign_in_elsewhere_with_the_pin(demo):
    code, _ = doors.make_code(Role.SCORER, "Juniper")
    joined(code)

    answer = Client().post("/sign-in/", {"name": "Ash", "password": "4711"})

    assert answer.status_code == 422


def test_an_idle_device_locks_itself_and_opens_with_the_pin(demo, fake_clock):
    code, _ = doors.make_code(Role.SCORER, "Juniper")
    visitor, _ = joined(code)
    fake_clock.forward(minutes=21)

    assert visitor.get("/entry/").headers["Location"] == "/unlock/?next=%2Fentry%2F"
    assert visitor.post("/unlock/", {"secret": "0000"}).status_code == 422
    assert visitor.post("/unlock/", {"secret": "4711"}).status_code == 302
    assert visitor.get("/entry/").status_code == 200


def test_unlocking_leads_to_the_page_that_was_asked_for_and_to_no_other_site(lead):
    for asked, then in (("/season/", "/season/"), ("https://elsewhere.example/", "/")):
        lead.post("/lock/")
        page = lead.get("/unlock/", {"next": asked}).content.decode()
        answer = lead.post("/unlock/", {"secret": "four quiet otters swim", "next": asked})

        assert f'name="next" value="{asked}"' in page
        assert answer.headers["Location"] == then


def test_a_device_in_use_stays_open(demo, fake_clock):
    code, _ = doors.make_code(Role.SCORER, "Juniper")
    visitor, _ = joined(code)
    for _ in range(4):
        fake_clock.forward(minutes=15)
        assert visitor.get("/entry/").status_code == 200


def test_a_day_later_the_device_is_out(demo, fake_clock):
    code, _ = doors.make_code(Role.SCORER, "Juniper")
    visitor, _ = joined(code)
    fake_clock.forward(hours=17)

    assert visitor.get("/entry/").headers["Location"].startswith("/sign-in/")


def test_a_locked_device_shows_nothing_of_the_role(lead):
    lead.post("/lock/")

    assert lead.get("/kit/").headers["Location"] == "/unlock/?next=%2Fkit%2F"
    assert 'aria-label="Rooms"' not in lead.get("/unlock/").content.decode()


def test_signing_out_ends_the_device(lead):
    lead.post("/sign-out/")

    assert Device.objects.get().revoked_at is not None
    assert lead.get("/kit/").headers["Location"].startswith("/sign-in/")


@pytest.fixture
def looked_at(monkeypatch):
    """How many passwords were looked at: each costs a hash."""
    found = []
    real = Account.check_password
    monkeypatch.setattr(
        Account, "check_password", lambda account, raw: found.append(raw) or real(account, raw)
    )
    return found


@pytest.mark.slow
def test_ever_new_names_from_one_address_are_stopped_and_cost_no_more_hashes(demo, looked_at):
    client = Client(REMOTE_ADDR="10.0.0.66")
    answers = [
        client.post("/sign-in/", {"name": f"name {n}", "password": "guess"})
        for n in range(MAX_PER_ADDRESS + 10)
    ]

    assert len(looked_at) == MAX_PER_ADDRESS
    assert {answer.status_code for answer in answers[-10:]} == {409}
    assert "Wait ten minutes" in answers[-1].content.decode()


@pytest.mark.slow
def test_the_lead_sees_which_device_floods(sign_in, fake_clock):
    scorer = sign_in(Role.SCORER, "Ash")
    Device.objects.filter(account__name="Ash").update(address="10.0.0.66")
    client = Client(REMOTE_ADDR="10.0.0.66")
    for n in range(MAX_PER_ADDRESS + 10):
        client.post("/sign-in/", {"name": f"name {n}", "password": "guess"})

    page = sign_in(Role.LEAD).get("/devices/").content.decode()

    assert "40 wrong tries from 10.0.0.66" in page
    assert "every try from this address is refused" in page
    assert "Signed in from this address: Ash" in page
    assert scorer.get("/entry/").status_code == 200  # who is in stays in
    fake_clock.forward(minutes=11)
    assert "wrong tries" not in sign_in(Role.LEAD).get("/devices/").content.decode()


@pytest.mark.slow
def test_a_right_password_is_not_counted(demo):
    for _ in range(MAX_PER_ADDRESS + 1):
        answer = Client().post("/sign-in/", {"name": "Juniper", "password": FIRST["password"]})
        assert answer.status_code == 302

    assert not Attempt.objects.exists()


def test_a_taken_name_is_no_wrong_guess_at_the_code(lead):
    code, _ = doors.make_code(Role.SCORER, "Juniper")
    for _ in range(MAX_PER_SUBJECT + 1):
        with pytest.raises(InputError, match="taken"):
            doors.join(code, "Juniper", "4711", address="10.0.0.7")

    assert doors.join(code, "Sorrel", "4711", address="10.0.0.7").name == "Sorrel"
