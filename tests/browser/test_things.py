"""A coach puts a true value right, and hands out a drill, on a phone."""

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.begins_with("invented_season")


def test_a_wrong_true_value_is_corrected_and_its_history_shown(
    lead: Page, chromium, server, views, violations
):
    club, found = lead.url, []
    state = lead.context.storage_state()
    phone = chromium.new_context(base_url=server.url, storage_state=state, **views["phone"])
    page = phone.new_page()
    page.goto(f"{club}things/")
    page.get_by_role("link", name="tea box").first.click()
    thing = page.url
    page.get_by_label("Height, cm").fill("1")
    page.get_by_label("Reason").fill("measured on the wrong side")
    page.get_by_role("button", name="Correct it").click()
    expect(page.get_by_text("is not what the sides give", exact=False)).to_be_visible()
    found += violations(page)
    page.get_by_label("True value").fill("")
    page.get_by_role("button", name="Correct it").click()
    expect(page.get_by_text("Corrected before")).to_be_visible()
    expect(page.get_by_text("measured on the wrong side")).to_be_visible()
    for address in (thing, f"{club}things/"):
        page.goto(address)
        found += violations(page)
    phone.close()

    assert found == []


def test_a_drill_is_shown_to_the_room_without_names(lead: Page, violations):
    lead.get_by_role("link", name="Open a drill").first.click()
    lead.locator("input[name=things]").first.check()
    lead.get_by_role("button", name="Open").first.click()
    expect(lead.get_by_role("link", name="Slips with the codes")).to_be_visible()
    found = violations(lead)
    lead.get_by_role("link", name="For the projector").click()
    expect(lead.get_by_text("scan the code", exact=False)).to_be_visible()
    expect(lead.get_by_text("Juno")).to_have_count(0)
    found += violations(lead)

    assert found == []
