"""A pupil's drill on a phone, and the plain calculator by touch and by keyboard."""

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}


@pytest.fixture
def another(chromium: Browser, server) -> Iterator[Callable[..., Page]]:
    """A device that nobody has signed in on."""
    opened: list[BrowserContext] = []

    def make(**more: Any) -> Page:
        context = chromium.new_context(base_url=server.url, **more)
        context.set_default_timeout(20_000)
        opened.append(context)
        return context.new_page()

    yield make
    for context in opened:
        context.close()


def open_drill(lead: Page, kind: str, things: list[str]) -> None:
    lead.goto("/drills/")
    lead.get_by_role("link", name="Open a drill").click()
    lead.get_by_label("Kind").select_option(kind)
    for thing in things:
        lead.get_by_label(re.compile(thing)).check()
    lead.get_by_label("Ask for the parts").check()
    lead.get_by_role("button", name="Open it").click()


def code_of(lead: Page, name: str) -> str:
    row = lead.get_by_role("row").filter(has=lead.get_by_role("rowheader", name=name))
    return row.locator(".seatcode").inner_text()


def sit(page: Page, code: str) -> None:
    page.goto("/drill/")
    page.get_by_label("Code").fill(code.lower())
    page.get_by_role("button", name="Begin").click()


def test_from_the_code_to_a_sentence_of_advice_on_a_phone(
    lead: Page, another, violations, in_every_view
):
    lead.goto("/season/")
    lead.get_by_role("button", name="Open the invented season").click()
    open_drill(lead, "drill", ["tub of elbow pasta", "tea box"])
    expect(lead.get_by_text("0 of 12 answers")).to_be_visible()
    # Of two things every second seat begins at the tub.
    code, other = code_of(lead, "Milo"), code_of(lead, "Wren")
    found = violations(lead)
    phone = another(**PHONE)

    phone.goto("/drill/")
    found += violations(phone)
    sit(phone, code)
    expect(phone.get_by_role("heading", name="Tub of elbow pasta")).to_be_visible()
    found += violations(phone)
    phone.get_by_label("Pieces in one layer").fill("150")
    phone.get_by_label("Layers", exact=True).fill("14")
    for key in ("1", "5", "0", "times", "1", "4", "equals"):
        phone.get_by_role("button", name=key, exact=True).tap()
    expect(phone.get_by_label("Display")).to_have_text("2100")
    found += violations(phone)
    phone.get_by_label("How many pieces?").fill("2100")
    phone.get_by_role("button", name="That is my answer").tap()

    # |2100 - 2310| / 2310 = 9.1 %
    expect(phone.get_by_text("91 of 100 points")).to_be_visible()
    expect(phone.get_by_text(re.compile("There are 16 layers, not 14."))).to_be_visible()
    found += violations(phone)
    # The coach sees it without loading anything.
    expect(lead.get_by_text("1 of 12 answers")).to_be_visible()
    phone.get_by_role("link", name="Next").tap()
    expect(phone.get_by_role("heading", name="Tea box")).to_be_visible()

    without_script = another(java_script_enabled=False, **PHONE)
    sit(without_script, other)
    for label, text in (("Pieces in one layer", "160"), ("Layers", "15"), ("How many", "24000")):
        without_script.get_by_label(label, exact=label == "Layers").fill(text)
    without_script.get_by_role("button", name="That is my answer").click()
    expect(without_script.get_by_text("A factor of ten: 160 x 15 is 2,400.")).to_be_visible()

    for address in (lead.url, "/drills/", "/bags/?m=rice&m=nut-m6&grams=100&club=1"):
        lead.goto(address)
        found += in_every_view(lead)
    assert found == []


def test_a_pupil_works_through_a_drill_in_spanish(lead: Page, another, violations):
    lead.goto("/season/")
    lead.get_by_role("button", name="Open the invented season").click()
    open_drill(lead, "drill", ["tub of elbow pasta", "tea box"])
    phone = another(locale="es-MX", **PHONE)

    phone.goto("/drill/")
    phone.get_by_label("Código").fill(code_of(lead, "Milo").lower())
    phone.get_by_role("button", name="Empezar").tap()
    phone.get_by_label("Piezas en una capa").fill("150")
    phone.get_by_label("Capas", exact=True).fill("14")
    phone.get_by_label("¿Cuántas piezas?").fill("2100")
    phone.get_by_role("button", name="Esta es mi respuesta").tap()

    # |2100 - 2310| / 2310 = 9.1 %
    expect(phone.get_by_text("91 de 100 puntos")).to_be_visible()
    expect(phone.get_by_text(re.compile("Hay 16 capas, no 14."))).to_be_visible()
    assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert violations(phone) == []
    phone.get_by_role("link", name="Siguiente").tap()
    expect(phone.locator("html")).to_have_attribute("lang", "es")
    expect(phone.get_by_role("button", name="Esta es mi respuesta")).to_be_visible()


def test_the_calculator_works_by_touch_and_by_keyboard(another, in_every_view):
    page = another(**PHONE)
    page.goto("/calculator/?task=1")

    # By touch, every key with room for a thumb.
    sizes = page.eval_on_selector_all(
        "[data-key]",
        "keys => keys.map(k => k.getBoundingClientRect()).map(r => [r.width, r.height])",
    )
    assert min(min(size) for size in sizes) >= 44
    for key in ("7", "point", "5", "times", "4", "equals"):
        page.get_by_role("button", name=key, exact=True).tap()
    display = page.get_by_label("Display")
    expect(display).to_have_text("30")

    # By keyboard: from the display, and Enter on a key reached by Tab presses that key.
    display.focus()
    page.keyboard.type("12,5*8")
    page.keyboard.press("Enter")
    expect(display).to_have_text("100")
    page.keyboard.press("Escape")
    expect(display).to_have_text("0")
    page.get_by_role("button", name="9", exact=True).focus()
    page.keyboard.press("Enter")
    expect(display).to_have_text("9")

    # The written product is checked.
    heading = page.get_by_role("heading", level=1).inner_text()
    product = 1.0
    for factor in re.findall(r"\d+(?:\.\d+)?", heading):
        product *= float(factor)
    page.get_by_label("What you write down").fill(f"{10 * product:.3f}")
    page.get_by_role("button", name="Check").tap()
    expect(page.get_by_text("factor of ten")).to_be_visible()
    page.goto("/calculator/?task=2")
    assert in_every_view(page) == []
