"""A pupil on a phone answers a jar and a photo of a drill; the coach's pages show it."""

import io
import re

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.begins_with("invented_season")

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}
SLOW_MS = 90_000
"""A software renderer on a busy machine."""

PIECES = 303
"""Beans of the second ready jar."""

PHOTO = 421


def photo() -> bytes:
    out = io.BytesIO()
    Image.effect_noise((640, 480), 60).convert("RGB").save(out, "JPEG")
    return out.getvalue()


def fill_the_shelf(lead: Page) -> None:
    lead.goto("/jars/shelf/")
    lead.get_by_role("button", name="Put them on the shelf").click()
    own = lead.locator("#photo").locator("xpath=..")
    own.get_by_label("Photo", exact=True).set_input_files(
        {"name": "own.jpg", "mimeType": "image/jpeg", "buffer": photo()}
    )
    own.get_by_label("What is in it").fill("chickpeas")
    own.get_by_label("Pieces, counted").fill(str(PHOTO))
    own.get_by_label("Who answers for the count").fill("Juniper")
    own.get_by_label("No child, no face").check()
    own.get_by_role("button", name="Put it on the shelf").click()


def open_drill(lead: Page, kind: str, *names: str) -> None:
    lead.goto("/drills/")
    lead.get_by_role("link", name="Open a drill").click()
    lead.get_by_label("Kind").select_option(kind)
    for name in names:
        lead.get_by_label(re.compile(name)).check()
    lead.get_by_role("button", name="Open it").click()


def sit(page: Page, lead: Page, name: str) -> None:
    row = lead.get_by_role("row").filter(has=lead.get_by_role("rowheader", name=name))
    page.goto("/drill/")
    page.get_by_label("Code").fill(row.locator(".seatcode").inner_text())
    page.get_by_role("button", name="Begin").click()


def test_a_pupil_answers_a_jar_and_a_photo_on_a_phone(
    lead: Page, with_gl, server, violations, in_every_view
):
    fill_the_shelf(lead)
    open_drill(lead, "drill", "J02 beans", "F10 chickpeas")
    found = violations(lead)
    context = with_gl.new_context(base_url=server.url, reduced_motion="reduce", **PHONE)
    context.set_default_timeout(60_000)
    phone = context.new_page()
    said: list[str] = []
    phone.on("console", lambda m: said.append(m.text) if m.type == "error" else None)
    sit(phone, lead, "Milo")

    stage = phone.locator("#jar-stage")
    expect(stage).to_have_attribute("data-mode", "turn", timeout=SLOW_MS)
    phone.get_by_role("button", name="Head down").tap()
    assert not re.search(rf"\b{PIECES}\b", phone.content())
    found += violations(phone)
    phone.get_by_text("How I put it together").tap()
    phone.get_by_label("Pieces in one layer").fill("30")
    phone.get_by_label(re.compile(r"^\s*Layers")).fill("9")
    phone.get_by_label("How many pieces?").fill("270")
    phone.get_by_role("button", name="That is my answer").tap()

    # |270 - 303| / 303 = 10.9 %
    expect(phone.get_by_text("89 of 100 points")).to_be_visible()
    expect(stage).to_have_attribute("data-mode", "turn", timeout=SLOW_MS)
    phone.get_by_role("button", name="One layer", exact=True).tap()
    expect(phone.locator("#jar-peeled")).to_contain_text("Layer 1 of", timeout=SLOW_MS)
    found += violations(phone)
    phone.get_by_role("link", name="Next").tap()
    expect(phone.get_by_role("img", name="Photo: Chickpeas")).to_be_visible()
    found += violations(phone)
    phone.get_by_label("How many pieces?").fill(str(PHOTO))
    phone.get_by_role("button", name="That is my answer").tap()
    expect(phone.get_by_text("100 of 100 points")).to_be_visible()
    phone.get_by_role("link", name="How did it go?").tap()
    expect(phone.get_by_role("heading", name="Done, Milo")).to_be_visible()
    found += in_every_view(phone)
    context.close()

    lead.goto("/season/")
    lead.get_by_role("link", name="Open the club").click()
    lead.get_by_role("link", name="Log: strike out").click()
    milo = lead.get_by_role("row").filter(has_text="Milo")
    expect(milo.filter(has_text="J02: beans").first).to_contain_text("270")
    expect(milo.filter(has_text="F10: chickpeas").first).to_contain_text(str(PHOTO))
    lead.go_back()
    lead.get_by_role("link", name="Milo", exact=True).click()
    expect(lead.get_by_text("What would bring most")).to_be_visible()
    assert (found, said) == ([], [])


def test_the_pages_of_a_mock_contest_have_no_violation(lead: Page, chromium, server, in_every_view):
    fill_the_shelf(lead)
    open_drill(lead, "mock", "tea box", "F10 chickpeas")
    mock = lead.url
    context = chromium.new_context(base_url=server.url, **PHONE)
    phone = context.new_page()
    sit(phone, lead, "Milo")
    expect(phone.get_by_text("Wait for the start.")).to_be_visible()
    found = in_every_view(phone) + in_every_view(lead)

    lead.get_by_role("button", name="Start the clock").click()
    found += in_every_view(lead)
    # The phone loads its page again by itself when the clock has started.
    expect(phone.get_by_role("link", name="Tea box")).to_be_visible()
    found += in_every_view(phone)
    for thing, number in (("Tea box", "600"), ("F10: chickpeas", "400")):
        phone.get_by_role("link", name=thing).tap()
        found += in_every_view(phone)
        phone.get_by_label(re.compile("volume|pieces\\?")).fill(number)
        phone.get_by_role("button", name="Write it down").tap()
    phone.get_by_role("button", name="Hand in").tap()
    expect(phone.get_by_text("Handed in.")).to_be_visible()
    found += in_every_view(phone)
    lead.goto(mock)
    lead.get_by_role("button", name="Close and score").click()
    expect(lead.get_by_text("Result, by the shipped rule set")).to_be_visible()
    found += in_every_view(lead)
    phone.goto("/drill/now/")
    expect(phone.get_by_text("1st of 1.")).to_be_visible()
    found += in_every_view(phone)
    context.close()

    assert found == []
