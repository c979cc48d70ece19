"""The kit room by keyboard alone."""

import re

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.begins_with("invented_event")


def begin(lead: Page) -> None:
    lead.goto("/kit/")
    lead.get_by_label("Code").fill("C9")
    lead.get_by_label("What it is").fill("jar of peas")
    lead.get_by_label("Station").select_option("count")
    lead.get_by_role("button", name="Add", exact=True).click()


def type_reading(lead: Page, text: str, saved: str) -> None:
    """Type where the page has put the cursor, and press Enter."""
    lead.keyboard.type(text)
    lead.keyboard.press("Enter")
    expect(lead.get_by_role("status")).to_contain_text(saved)


def type_sample(lead: Page, text: str) -> None:
    """A sample of 100: the number is typed each time, the mass after it."""
    lead.keyboard.type("100")
    lead.keyboard.press("Tab")
    type_reading(lead, text, text)


def gain(lead: Page) -> tuple[float, float]:
    """U now and after one more sample, in percent, as the headline says."""
    words = lead.locator("#what-next").inner_text()
    now, after = re.findall(r"([\d.]+).%", words)
    return float(now), float(after)


def test_a_container_is_weighed_to_a_fit_certificate_by_keyboard_alone(lead: Page):
    begin(lead)
    expect(lead.locator("#what-next")).to_have_text("Weigh the container empty")
    type_reading(lead, "212,4", "empty 212.4 g")
    for mass in ("92.3", "90.6", "93.1"):
        type_sample(lead, mass)
    expect(lead.locator("#what-next")).to_have_text("Fill it, then weigh it full")
    lead.keyboard.press("Enter")
    expect(lead.get_by_label("Full, g").first).to_be_focused()
    type_reading(lead, "3914.2", "full 3914.2 g")

    gains = []
    for mass in ("92.2", "91.9", "92.1", "92.0", "92.3", "91.8", "92.1", "92.0"):
        if lead.locator("p > .verdict").inner_text() == "fit":
            break
        gains.append(gain(lead))
        type_sample(lead, mass)

    expect(lead.locator("p > .verdict")).to_have_text("fit")
    expect(lead.locator("#what-next")).to_contain_text("This key is fit")
    assert len(gains) >= 2
    assert len(set(gains)) == len(gains), "the advice changes with every sample"
    assert all(after < now for now, after in gains)
    assert gains[-1][0] < gains[0][0]

    # The last reading is taken back by one press, and the page goes back to asking.
    lead.get_by_role("button", name="dish not tared").focus()
    lead.keyboard.press("Enter")
    expect(lead.get_by_role("status")).to_contain_text("Struck out")
    expect(lead.locator("#what-next")).to_contain_text("One more sample of 100")
