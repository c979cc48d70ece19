"""The practice page: 17,000 pieces turned by hand, scored, taken apart; without WebGL too."""

import io

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from nearmark.charts.ready_jars import ready_jars

MAX_BYTES = 250_000
"""Of the page with all it loads but three.js and the pieces of the jar."""

LARGE = 9
"""The last of the ready jars, and its number on a fresh shelf."""

FLAT = {5: "coins", 7: "lentils"}
"""Number on a fresh shelf -> what is in it."""

CANVAS = "document.querySelector('#jar-view canvas')"

SLOW_MS = 90_000
"""A software renderer on a busy machine."""

PAGES = ("/jars/", "/jars/shelf/", f"/jars/{LARGE}/")


@pytest.fixture
def shelf(lead: Page) -> Page:
    """The lead, with the ready jars on the shelf."""
    lead.goto("/jars/shelf/")
    lead.get_by_role("button", name="Put them on the shelf").click()
    return lead


def eye(page: Page) -> dict[str, float]:
    seen = page.evaluate("({...document.querySelector('#jar-view canvas').dataset})")
    return {name: float(seen[name]) for name in ("eyeCm", "turn", "head", "frames")}


def comes_to_rest(page: Page) -> bool:
    """Whether the drawing stops by itself; a software renderer may take its time."""
    for _ in range(20):
        drawn = eye(page)["frames"]
        page.wait_for_timeout(1500)
        if eye(page)["frames"] == drawn:
            return True
    return False


def test_a_large_jar_is_turned_answered_and_taken_apart(
    shelf: Page, with_gl, server, views, violations
):
    state = shelf.context.storage_state()
    context = with_gl.new_context(
        base_url=server.url, storage_state=state, **views["laptop"], reduced_motion="reduce"
    )
    context.set_default_timeout(60_000)
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda m: said.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda e: said.append(str(e)))
    page.goto(f"/jars/{LARGE}/")
    expect(page.locator("#jar-stage")).to_have_attribute("data-mode", "turn", timeout=SLOW_MS)
    expect(page.locator("#jar-view canvas")).to_have_attribute(
        "data-eye-cm", "35.20", timeout=SLOW_MS
    )

    page.locator("#jar-view").focus()
    before = eye(page)
    page.keyboard.press("ArrowLeft")
    for _ in range(12):
        page.keyboard.press("ArrowDown")
    expect(page.locator("#jar-view canvas")).to_have_attribute("data-head", "0.0", timeout=SLOW_MS)
    box = page.locator("#jar-view").bounding_box()
    page.mouse.move(box["x"] + 200, box["y"] + 400)
    page.mouse.down()
    page.mouse.move(box["x"] + 200, box["y"] + 20, steps=4)
    page.mouse.up()
    comes_to_rest(page)
    low = eye(page)
    # At the table: the eye is a little above it and goes no lower, whatever the hand does.
    assert low["eyeCm"] == pytest.approx(1.2)
    assert low["turn"] == pytest.approx(before["turn"] + 15)
    for _ in range(20):
        page.get_by_role("button", name="Head up").click()
    expect(page.locator("#jar-view canvas")).to_have_attribute("data-head", "72.0", timeout=SLOW_MS)

    assert comes_to_rest(page), "it is drawn on demand, not in a loop"

    count = ready_jars()[-1].told["count"]
    assert str(count) not in page.content().replace("\N{NO-BREAK SPACE}", "")
    page.get_by_label("How many pieces?").fill(str(round(0.9 * count)))
    page.get_by_role("button", name="That is my answer").click()
    expect(page.locator(".answer")).to_have_text("90")
    expect(page.locator("#jar-stage")).to_have_attribute("data-mode", "turn", timeout=SLOW_MS)
    page.get_by_role("button", name="One layer", exact=True).click()
    expect(page.locator("#jar-peeled")).to_contain_text("Layer 1 of", timeout=SLOW_MS)
    page.get_by_role("button", name="Put all back").click()
    expect(page.locator("#jar-peeled")).to_be_empty()
    found = violations(page)
    context.close()

    assert (said, found) == ([], [])


def dark_share(picture: bytes) -> float:
    """Share of the pixels of pieces and gaps that are nearly black."""
    rgb = np.asarray(Image.open(io.BytesIO(picture)).convert("RGB")).astype(float)
    # Table, cup, glass and page are pale; a gap is darker than any lit piece.
    is_jar = rgb.min(axis=2) < 120
    is_gap = rgb.max(axis=2) < 60
    return float(is_gap.sum() / is_jar.sum())


def test_on_a_phone_flat_pieces_have_no_holes_and_the_jar_has_the_screen(
    shelf: Page, with_gl, server, views, violations
):
    context = with_gl.new_context(
        base_url=server.url, storage_state=shelf.context.storage_state(), **views["phone"]
    )
    context.set_default_timeout(60_000)
    page = context.new_page()
    for number, name in FLAT.items():
        page.goto(f"/jars/{number}/")
        expect(page.locator("#jar-stage")).to_have_attribute("data-mode", "turn", timeout=SLOW_MS)
        assert comes_to_rest(page)
        view = page.locator("#jar-view")
        assert view.bounding_box()["width"] >= 0.85 * 390
        # Before the dark inside was as deep as a piece is long it was a tenth and more.
        assert dark_share(view.screenshot()) < 0.03, name
    expect(page.get_by_role("button", name="A cup beside it")).to_have_attribute(
        "aria-pressed", "false"
    )
    for _ in range(8):
        page.get_by_role("button", name="Closer").click()
    comes_to_rest(page)
    assert 0.2 < brim(page) < 0.95, "closer keeps the brim in sight"
    page.get_by_role("button", name="Surface only").click()
    comes_to_rest(page)
    expect(page.get_by_role("button", name="Surface only")).to_have_attribute(
        "aria-pressed", "true"
    )
    page.get_by_role("button", name="Head down").click()
    expect(page.get_by_role("button", name="Surface only")).to_have_attribute(
        "aria-pressed", "false"
    )
    found = violations(page)
    context.close()

    assert found == []


def brim(page: Page) -> float:
    """Where the middle of the brim is in the picture; 1 is the upper edge."""
    return float(page.evaluate(CANVAS + ".dataset.brim"))


def test_without_webgl_there_are_still_pictures(shelf: Page, violations):
    # The browser of the other tests has no graphics: what an old tablet has.
    off = "HTMLCanvasElement.prototype.getContext = () => null"
    shelf.add_init_script(off)
    shelf.goto("/jars/2/", wait_until="domcontentloaded")
    expect(shelf.locator("#jar-stage")).to_have_attribute("data-mode", "still", timeout=SLOW_MS)
    pictures = shelf.locator("#jar-stills img")
    expect(pictures).to_have_count(2)
    for k in range(2):
        expect(pictures.nth(k)).to_have_js_property("naturalWidth", 1400, timeout=SLOW_MS)
    shelf.get_by_label("How many pieces?").fill("300")
    shelf.get_by_role("button", name="That is my answer").click()

    expect(shelf.locator(".answer")).to_have_text("99")
    assert violations(shelf) == []


def test_no_page_has_a_violation_and_all_are_light(shelf: Page, in_every_view):
    found, heavy = [], []
    shelf.add_init_script("HTMLCanvasElement.prototype.getContext = () => null")
    shelf.route("**/part/**", lambda route: route.abort())
    for address in PAGES:
        shelf.goto(address, wait_until="load")
        found += in_every_view(shelf)
        loaded = shelf.evaluate(
            "performance.getEntries().map(e => [e.name, e.decodedBodySize || 0])"
        )
        weight = sum(size for name, size in loaded if "three.module" not in name)
        if weight > MAX_BYTES:
            heavy.append((address, weight))

    assert (found, heavy) == ([], [])
