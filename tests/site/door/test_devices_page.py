"""Helpers join for one job; the page of the code says when; a device that is out comes back."""

import re

import pytest
from django.test import Client

from nearmark.site.door.access import JOB_PAGES, Job, Role, may_open
from nearmark.site.models import Account, Change, Device


def code_for(lead: Client, **given: str) -> tuple[str, str]:
    """A code, and where the page asks whether it was used."""
    page = lead.post("/devices/code/", {"role": "scorer", **given}).content.decode()
    code = re.search(r'class="bigcode">([^<]+)<', page)
    at = re.search(r'data-at="([^"]+)"', page)
    assert code
    assert at
    return code[1], at[1]


def join(code: str, name: str) -> Client:
    helper = Client()
    answer = helper.post("/join/", {"code": code, "name": name, "pin": "4711"})
    assert answer.status_code == 302
    return helper


@pytest.mark.slow
@pytest.mark.parametrize("job", Job)
def test_a_helper_of_one_job_sees_its_pages_only(lead, demo, job):
    code, _ = code_for(lead, job=job)
    helper = join(code, "Wren")

    page = helper.get("/", follow=True)

    assert page.request["PATH_INFO"] == page.redirect_chain[-1][0]
    bar = re.search(r'<nav class="bar".*?</nav>', page.content.decode(), re.DOTALL)
    assert bar
    assert len(re.findall(r"<a href", bar[0])) == len(JOB_PAGES[job])
    assert Account.objects.get(name="Wren").job == job


def test_every_page_of_a_job_is_open_to_a_scorer():
    for pages in JOB_PAGES.values():
        assert all(may_open(name, Role.SCORER, released=False) for name in pages)


def test_a_lead_s_code_carries_no_job(lead, demo):
    code, _ = code_for(lead, role="lead", job="weigh-in")
    join(code, "Wren")

    assert Account.objects.get(name="Wren").job == ""


def test_the_page_of_a_code_names_who_may_come_back(lead, demo, source_of):
    code, _ = code_for(lead, role="coach")
    join(code, "Wren")

    _, at = code_for(lead, again=str(Account.objects.get(name="Wren").pk))

    assert "A code for Wren" in source_of(lead.get(at))


def test_the_page_of_a_code_says_when_the_helper_is_in(lead, demo, source_of):
    code, at = code_for(lead, job="check-in")
    assert "not in yet" in source_of(lead.get(at))

    join(code, "Wren")

    page = source_of(lead.get(at))
    assert "<h1>Wren is in</h1>" in page
    assert "One more for check-in" in page
    assert code not in page


def test_a_code_that_has_run_out_says_so(lead, demo, fake_clock, source_of):
    _, at = code_for(lead)
    fake_clock.forward(minutes=11)

    page = source_of(lead.get(at))

    assert "This code has expired" in page
    assert "A new code" in page


def test_a_revoked_device_is_out_and_the_page_says_how_it_comes_back(lead, demo, source_of):
    code, _ = code_for(lead)
    helper = join(code, "Wren")
    device = Device.objects.get(account__name="Wren")
    assert "Yes, shut it out" in source_of(lead.get("/devices/"))

    page = source_of(lead.post(f"/devices/{device.pk}/revoke/", follow=True))

    assert "The device of Wren is out. A new code lets it in again." in page
    assert helper.get("/entry/").status_code == 302
    assert Change.objects.first().what == "revoked the device of Wren"
    assert lead.post("/devices/999999/revoke/").status_code == 422


def test_a_scorer_does_not_see_who_joins(scorer, lead, demo):
    _, at = code_for(lead)

    assert scorer.get(at).status_code == 403
