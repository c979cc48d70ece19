"""The desks of the day on devices whose browser speaks Spanish: helpers, children, the public."""

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import code_for_helper
from tests.browser.test_two_desks import day, on_server

__all__ = ["day"]

SIZE: dict[str, Any] = {"viewport": {"width": 390, "height": 844}}


@pytest.fixture
def begun(day):
    return day


@pytest.fixture
def helper(chromium: Browser, server, lead: Page) -> Iterator[Callable[[str], Page]]:
    """A phone that joins by a code which the lead's page shows, all in Spanish."""
    opened: list[BrowserContext] = []

    def join(name: str) -> Page:
        code = code_for_helper(lead)
        context = chromium.new_context(base_url=server.url, locale="es-MX", **SIZE)
        context.set_default_timeout(20_000)
        opened.append(context)
        page = context.new_page()
        page.goto("/join/")
        page.get_by_label("Código").fill(code)
        page.get_by_label("Tu nombre").fill(name)
        page.get_by_label("Un PIN propio").fill("4711")
        page.locator("main form button").click()
        return page

    yield join
    for context in opened:
        context.close()


def fits(page: Page) -> bool:
    """Whether nothing runs off the side."""
    return bool(page.evaluate("document.documentElement.scrollWidth <= innerWidth"))


def test_a_helper_works_through_the_day_in_spanish(server, helper, violations):
    ana, luis = helper("Ana"), helper("Luis")

    ana.goto("/heats/")
    ana.get_by_label("Código, escuela o nombre de pila").fill("P01")
    ana.get_by_role("button", name="Aquí", exact=True).click()
    expect(ana.locator("[data-told]")).to_contain_text("P01 (Quillbank) está aquí.")
    assert violations(ana) == []

    for reader in (ana, luis):
        reader.goto("/weigh-in/?scale=bench scale")
        reader.get_by_label("Pareja", exact=True).fill("P01")
        expect(reader.locator("#who")).to_contain_text("turno 1")
        reader.get_by_label("Número del vaso").fill("3")
        reader.get_by_label("La balanza muestra, g").fill("108,5")
        reader.get_by_role("button", name="Guardar este vaso").click()
        expect(reader.locator("#told")).to_contain_text("108,5 g en el vaso 3, guardado.")
        assert fits(reader)
    assert violations(ana) == []

    for reader, second in ((ana, "419"), (luis, "491")):
        reader.goto("/entry/?pair=P01")
        expect(reader.locator("#sheet-left")).to_contain_text("Falta escribir:")
        reader.get_by_label("J1").fill("15000")
        reader.get_by_label("J1").press("Enter")
        expect(reader.locator("#told")).to_contain_text("15000, guardado")
        reader.get_by_label("J3").fill(second)
        reader.get_by_label("J3").press("Enter")
        expect(reader.locator("#told")).to_contain_text(f"{second}, guardado")
        assert fits(reader)
    assert violations(luis) == []
    assert on_server(server)[:2] == [("P01", "M1", "108.5")] * 2

    ana.goto("/differences/")
    expect(ana.get_by_role("heading", level=1)).to_have_text("1 respuesta leída de dos formas")
    expect(ana.get_by_text("Tú hiciste una de las dos lecturas")).to_be_visible()
    assert violations(ana) == []

    ana.goto("/clock/control/")
    ana.get_by_role("button", name="Poner en marcha el reloj").click()
    expect(ana.get_by_text("turno 1 ha empezado", exact=False)).to_be_visible()
    assert violations(ana) == []


def test_what_could_be_thousands_is_asked_before_it_is_saved(helper):
    ana = helper("Ana")
    ana.goto("/entry/?pair=P02")

    ana.get_by_label("J2").fill("1.234")
    ana.get_by_label("J2").press("Enter")

    expect(ana.locator("#told")).to_contain_text(re.compile("P02, J2: 1.234. Sin aceptar: .*1234"))
    expect(ana.get_by_role("button", name="Cambiarlo")).to_be_visible()


def test_the_public_reads_spanish_before_and_after(chromium: Browser, server, violations):
    context = chromium.new_context(base_url=server.url, locale="es-MX", **SIZE)
    page = context.new_page()
    for address in ("/results/", "/verify/", "/clock/", "/join/"):
        page.goto(address)
        expect(page.locator("html")).to_have_attribute("lang", "es")
        assert fits(page)
    page.goto("/verify/")
    assert violations(page) == []
    context.close()
