"""A meeting: planned, one child missing, run by taps and shown to the room, or typed in."""

import re
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

pytestmark = pytest.mark.begins_with("invented_season")

PROJECTOR: dict[str, Any] = {"viewport": {"width": 1920, "height": 1080}}

TRUTHS = re.compile(r"(?<!\d)(196|1[\s,]?840|16[\s,]?300|2[\s,]?871)(?!\d)")
"""True values of the invented things that nobody has seen."""


@pytest.fixture
def club(lead: Page) -> str:
    """The address of the club of the invented season; its six children know no fresh thing."""
    expect(lead.get_by_role("button", name="Plan the next 20 minutes")).to_be_visible()
    return lead.url


@pytest.fixture
def phone(lead: Page, club: str, chromium, server, views):
    """The coach's phone."""
    context = chromium.new_context(
        base_url=server.url,
        storage_state=lead.context.storage_state(),
        has_touch=True,
        **views["phone"],
    )
    context.set_default_timeout(20_000)
    page = context.new_page()
    page.goto(club)
    yield page
    context.close()


def plan_without(page: Page, name: str) -> str:
    """Plan by one press, take out who is missing, plan again; the address of the meeting."""
    page.get_by_role("button", name="Plan the next 20 minutes").click()
    expect(page.get_by_role("heading", name="Meeting, 20 minutes")).to_be_visible()
    page.get_by_text("Who is here, how long").click()
    page.get_by_role("checkbox", name=name).uncheck()
    page.get_by_role("button", name="Plan it again").click()
    expect(page.get_by_text("The plan is made again.")).to_be_visible()
    expect(page.locator(".timetable")).not_to_contain_text(name)
    return page.url


def numbers(page: Page) -> list[Locator]:
    """The open fields, in the order of the page."""
    return page.locator("#places input[inputmode]").all()


def test_a_meeting_is_run_by_taps_while_the_room_follows(
    lead: Page, phone: Page, chromium, server, violations
):
    meeting = plan_without(phone, "Kai")
    found = violations(phone)
    assert phone.locator(".places li").filter(has_text=re.compile(r"^\s*Juno")).count() == 4
    room = chromium.new_context(
        base_url=server.url, storage_state=lead.context.storage_state(), **PROJECTOR
    )
    wall = room.new_page()
    phone.get_by_role("button", name="Start the meeting").tap()
    expect(phone).to_have_url(re.compile("/run/$"))
    wall.goto(phone.url)
    found += violations(phone) + violations(wall)

    n_kept, parts = 0, 0
    while not phone.url.endswith("/done/"):
        heading = phone.get_by_role("heading", level=1).inner_text()
        expect(wall.get_by_role("heading", level=1)).to_have_text(heading)
        expect(wall.get_by_role("timer")).to_have_text(re.compile(r"^\d+:\d\d$"))
        assert not TRUTHS.search(phone.locator("main").inner_text())
        for field in numbers(phone):
            field.tap()
            assert field.get_attribute("inputmode") == "decimal"
            field.fill("150")
            field.press("Enter")
            own = phone.locator(f"#w-{str(field.get_attribute('id'))[2:]}")
            expect(own).to_have_text("saved")
            n_kept += 1
        if parts == 1:
            found += violations(phone) + violations(wall)
        with phone.expect_navigation():
            phone.locator("button.large").tap()
        parts += 1

    expect(wall).to_have_url(re.compile("/done/$"))
    expect(phone.get_by_role("heading", level=1)).to_have_text("How the meeting went")
    assert TRUTHS.search(phone.locator("main").inner_text())
    expect(phone.locator(".outcomes li")).to_have_count(n_kept)
    assert n_kept >= 12  # five children, four slots, who helps has no number
    expect(phone.locator("main")).not_to_contain_text("Kai")
    found += violations(phone) + violations(wall)
    room.close()

    phone.goto(meeting)
    expect(phone.get_by_text("This meeting is over.")).to_be_visible()
    assert found == []


@pytest.mark.usefixtures("club")
def test_a_meeting_on_paper_is_typed_in_row_by_row(lead: Page, violations):
    lead.get_by_role("button", name="Plan the next 20 minutes").click()
    found = violations(lead)
    lead.get_by_role("link", name="Type in the printed page").click()
    lead.wait_for_load_state()  # until its script runs, Enter sends the form
    fields = numbers(lead)
    fields[0].focus()
    for _ in fields[:-1]:
        lead.keyboard.type("210")
        lead.keyboard.press("Enter")
    lead.keyboard.type("many")
    lead.keyboard.press("Enter")
    expect(lead.get_by_role("button", name="Save all")).to_be_focused()
    lead.keyboard.press("Enter")

    expect(lead.get_by_role("alert")).to_contain_text("1 number to correct")
    found += violations(lead)
    refused = lead.locator("input[aria-invalid]")
    expect(refused).to_have_value("many")
    expect(numbers(lead)[0]).to_have_value("210")
    refused.fill("205")
    lead.get_by_role("button", name="Save all").click()

    expect(lead.locator(".outcomes li")).to_have_count(len(fields))
    expect(lead.locator(".truth").first).to_be_visible()
    expect(lead.get_by_text("without a number")).to_have_count(0)
    found += violations(lead)
    assert found == []
