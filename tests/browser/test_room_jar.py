"""A poured jar on a screen for the room: pupils guess, its layers come off one by one."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

pytestmark = pytest.mark.begins_with("invented_season")

PROJECTOR: dict[str, Any] = {"viewport": {"width": 1920, "height": 1080}}
NAMES = ("Juno", "Kai", "Milo", "Tove", "Wren", "Zed")
SLOW_MS = 90_000
"""A software renderer on a busy machine."""

PIECES = "303"
"""Beans of the second ready jar."""


def go_on(wall: Page) -> None:
    before = wall.locator("[name=seen]").input_value()
    wall.locator("body").press("PageDown")
    expect(wall.locator("[name=seen]")).not_to_have_value(before)


@pytest.fixture
def jar_drill(lead: Page) -> str:
    """The address of a drill on a screen for the room that asks a jar."""
    lead.goto("/jars/shelf/")
    lead.get_by_role("button", name="Put them on the shelf").click()
    lead.goto("/drills/")
    lead.get_by_role("link", name="Open a drill").click()
    lead.get_by_label("Kind").select_option("room")
    lead.get_by_label(re.compile("J02")).check()
    lead.get_by_role("button", name="Open it").click()
    return lead.url


@pytest.fixture
def wall(lead: Page, jar_drill: str, with_gl: Browser, server) -> Iterator[Page]:
    """The projector, with three dimensions."""
    context = with_gl.new_context(
        base_url=server.url,
        storage_state=lead.context.storage_state(),
        reduced_motion="reduce",
        **PROJECTOR,
    )
    page = context.new_page()
    page.set_default_timeout(SLOW_MS)
    page.goto(f"{jar_drill}room/")
    yield page
    context.close()


@pytest.fixture
def phone(lead: Page, jar_drill: str, chromium: Browser, server, views) -> Iterator[Page]:
    """The phone of one pupil, who has typed the code of the seat."""
    lead.goto(jar_drill)
    row = lead.get_by_role("row").filter(has=lead.get_by_role("rowheader", name="Milo"))
    code = row.locator(".seatcode").inner_text()
    context = chromium.new_context(base_url=server.url, has_touch=True, **views["phone"])
    page = context.new_page()
    page.goto("/drill/")
    page.get_by_label("Code").fill(code)
    page.get_by_role("button", name="Begin").click()
    yield page
    context.close()


@pytest.fixture
def small(lead: Page, chromium: Browser, server, views) -> Iterator[Page]:
    """The coach's own phone."""
    context = chromium.new_context(
        base_url=server.url, storage_state=lead.context.storage_state(), **views["phone"]
    )
    yield context.new_page()
    context.close()


def test_the_layers_of_a_jar_come_off_before_the_room(
    wall: Page, phone: Page, small: Page, violations
):
    expect(wall.get_by_text("1 has joined")).to_be_visible()

    go_on(wall)
    expect(wall.locator("#jar-stage")).to_have_attribute("data-mode", "turn", timeout=SLOW_MS)
    found = violations(wall)
    seen = wall.content() + phone.content()
    go_on(wall)
    expect(phone.locator("form.answering")).to_be_visible()
    assert phone.locator("canvas, img").count() == 0  # the jar is looked at on the one screen
    phone.get_by_label("How many pieces?").fill("250")
    phone.get_by_role("button", name="That is my guess").tap()
    expect(phone.get_by_text("It is saved.")).to_be_visible()
    expect(wall.get_by_text("1 of 1 have guessed")).to_be_visible()
    found += violations(wall)
    seen += wall.content() + phone.content()
    go_on(wall)
    expect(wall.get_by_text("One guess: 250 pieces.")).to_be_visible()
    seen += wall.content()
    assert not re.search(
        rf"\b{PIECES}\b", re.sub(r"<svg.*?</svg>|/jars/part/[^\"]+", "", seen, flags=re.DOTALL)
    )
    assert not [name for name in NAMES if name in wall.content()]

    go_on(wall)
    expect(
        wall.get_by_text(re.compile(r"Layer 1 of \d+: \d+ pieces\. So far \d+\."))
    ).to_be_visible()
    expect(wall.locator("#jar-stage")).to_have_attribute("data-mode", "turn", timeout=SLOW_MS)
    go_on(wall)
    go_on(wall)
    expect(wall.get_by_text(re.compile(r"Layer 3 of \d+"))).to_be_visible()
    found += violations(wall)
    small.goto(wall.url)
    small.get_by_role("button", name="Show all at once").click()
    expect(wall.get_by_text(f"The true value: {PIECES} pieces.")).to_be_visible()
    expect(small.get_by_text("One guess: 17 % low, 83 points.")).to_be_visible()
    # 83 points: 250 of 303.
    expect(phone.get_by_text("83 points")).to_be_visible()
    found += violations(wall) + violations(small)
    assert found == []
