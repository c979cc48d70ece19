"""The menu: three rooms and the desk, the entries of one room at a time, under the thumb."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.begins_with("invented_event")

ROOMS = ["Kit", "Event day", "Season", "Desk"]
KIT = ["Items and keys", "Materials", "Pour planner", "Purchase list", "Cups"]
SMALL = {"phone": (390, 844), "tablet": (820, 1180)}


def seen(page: Page, address: str) -> list[str]:
    """The links of the menu that a person sees now."""
    page.goto(address)
    links = page.locator("nav.rooms a, nav.room a, nav.bar a")
    return [link.inner_text() for link in links.all() if link.is_visible()]


def test_a_wide_screen_shows_the_rooms_and_the_entries_of_one(lead: Page):

    shown = seen(lead, "/kit/")
    assert shown[:4] == ROOMS
    assert shown[4:9] == KIT
    assert len(shown) <= 14
    here = lead.locator('nav.room [aria-current="page"]')
    expect(here).to_have_text("Items and keys")
    expect(lead.locator("nav.rooms [aria-current]")).to_have_text("Kit")

    assert "Items and keys" not in seen(lead, "/pairs/import/")
    expect(lead.locator('nav.room [aria-current="true"]')).to_have_text("Pairs")


@pytest.mark.parametrize("size", SMALL)
def test_a_small_screen_has_the_menu_under_the_thumb(lead: Page, violations, size):
    width, height = SMALL[size]
    lead.set_viewport_size({"width": width, "height": height})

    assert seen(lead, "/pairs/") == []
    bar = lead.get_by_role("navigation", name="Menu")
    box = bar.bounding_box()
    assert box is not None
    assert box["y"] > height * 0.9
    assert box["y"] + box["height"] == height
    expect(bar.locator("summary")).to_have_count(4)
    expect(bar.locator("summary.here")).to_contain_text("Event day")
    expect(bar.locator("summary.here")).to_contain_text("now: Pairs")

    bar.get_by_text("Kit", exact=True).click()
    expect(bar.get_by_role("link", name="Cups")).to_be_in_viewport(ratio=1)
    assert violations(lead) == []
    bar.get_by_text("Event day").click()
    expect(bar.get_by_role("link", name="Cups")).to_be_hidden()
    expect(bar.locator('[aria-current="page"]')).to_have_text("Pairs")
    bar.get_by_role("link", name="Heats and check-in").click()
    expect(lead).to_have_url(re.compile("/heats/$"))


def test_the_end_of_a_page_is_not_under_the_menu(lead: Page):
    lead.set_viewport_size({"width": 390, "height": 844})
    lead.goto("/pairs/")
    lead.evaluate("scrollTo(0, document.body.scrollHeight)")

    last = lead.locator("main tr").last.bounding_box()
    bar = lead.get_by_role("navigation", name="Menu").bounding_box()
    assert last is not None
    assert bar is not None
    assert last["y"] + last["height"] <= bar["y"]


def test_a_helper_sees_the_helper_s_own_pages_only(scorer: Callable[[str], Page]):
    helper = scorer("Wren")
    expect(helper.get_by_text("Wren", exact=True)).to_be_visible()
    helper.set_viewport_size({"width": 390, "height": 844})

    shown = seen(helper, "/weigh-in/")
    assert shown == ["Check-in", "Clock", "Weigh-in", "Answers", "Differences"]
    expect(helper.locator('nav.bar [aria-current="page"]')).to_have_text("Weigh-in")


def test_a_helper_is_in_after_two_clicks_and_the_page_says_so(
    lead: Page, chromium, server, violations
):
    lead.get_by_role("link", name="Desk").click()
    lead.get_by_role("button", name="Check-in", exact=True).click()
    heading = lead.get_by_role("heading", level=1)
    expect(heading).to_have_text("A code for one scorer, check-in")
    code = lead.locator(".bigcode").inner_text()
    assert violations(lead) == []

    context = chromium.new_context(base_url=server.url, viewport={"width": 390, "height": 844})
    helper = context.new_page()
    helper.goto("/join/")
    helper.get_by_label("Code").fill(code)
    helper.get_by_label("Your name").fill("Wren")
    helper.get_by_label("A PIN of your own").fill("4711")
    helper.get_by_role("button", name="Join").click()

    expect(heading).to_have_text("Wren is in")
    expect(lead.locator(".bigcode")).to_be_hidden()
    expect(helper).to_have_url(re.compile("/heats/$"))
    shown = helper.locator("nav.bar a").all_inner_texts()
    assert shown == ["Check-in", "Clock"]
    assert violations(lead) + violations(helper) == []

    lead.get_by_role("button", name="One more for check-in").click()
    expect(heading).to_have_text("A code for one scorer, check-in")
    lead.goto("/devices/")
    lead.get_by_text("Revoke the device of Wren").click()
    lead.get_by_role("button", name="Yes, shut it out").click()
    expect(lead.get_by_role("status")).to_contain_text("The device of Wren is out.")
    expect(heading).to_have_text("1 device in")
    context.close()


def test_help_opens_by_keyboard_on_a_phone_and_what_was_typed_stays(lead: Page):
    lead.set_viewport_size({"width": 390, "height": 844})
    lead.goto("/kit/cups/")
    lead.get_by_label("Number").first.fill("77")
    link = lead.locator("a.help")
    expect(link).to_be_visible()
    box = link.bounding_box()
    assert box is not None
    assert box["height"] >= 44  # WCAG 2.5.5
    link.focus()

    with lead.context.expect_page() as opened:
        lead.keyboard.press("Enter")

    page = opened.value
    assert page.url.endswith("/help/kit-room/#cups")
    expect(page.locator(":target")).to_have_text("Cups")
    expect(page.locator(":target")).to_be_in_viewport()
    expect(lead.get_by_label("Number").first).to_have_value("77")
