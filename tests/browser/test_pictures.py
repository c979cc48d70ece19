"""The pictures of the documentation are made anew and compared with those that are kept.

``NEARMARK_RECORD=1 pytest tests/browser/test_pictures.py`` keeps the new ones; look at each before
it is committed.
"""

import io
import os
import re
import shutil
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
import typst
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Ready, Server, begin_by_hand
from tests.browser.test_new_lead_walk import add_late_pair
from tests.browser.test_tour import count_c1_again, weigh_again

PICTURES = Path(__file__).parents[2] / "docs" / "pictures"
KEEP = os.environ.get("NEARMARK_RECORD") == "1"
SLOW_MS = 90_000
"""A software renderer on a busy machine."""

MAX_BYTES = 1_500_000
"""Of all pictures together."""

COLOURS = 64

CELL_PX = 6
"""A cell is a little smaller than a letter; what is compared is its mean grey, from 0 to 255."""

MOST = 45
"""A cell may be off by this much where all letters are drawn otherwise."""

MOST_ALONE = 15
"""A cell may be off by this much where the others are as before."""

MANY = 0.002
"""Share of the cells; more than these are off by ``MOST_ALONE``: it is the drawing of letters.

Measured on all pictures with Chromium 150: two runs and other hints of the fonts differ by 10 at
most.  Letters at whole pixels, as other versions draw them: by 37 at most, and 0.4 to 5 % of the
cells by more than 15.  On the first page: a digit in the smallest text (10, 13) 18, in 0.005 % of
the cells, but (10, 12) only 9, which is not seen; a comma for a full stop 65; another word 176;
moved down by 1 px 181.
"""


class StillServer(Server):
    """A server whose clock stands still."""

    script = Path(__file__).parent / "still_server.py"


@dataclass(frozen=True)
class Picture:
    """A part of a page."""

    name: str
    address: str
    part: str = "main"
    height: int = 640  # at most, px
    width: int = 1000  # of the window, px
    window: int = 1000  # its height: what is fixed to its foot is then below the picture
    prepare: Callable[[Page], None] | None = None


def open_demo(lead: Page) -> None:
    lead.goto("/event/")
    lead.get_by_role("button", name="Open the invented event").click()
    lead.wait_for_url("**/event/")


def at_once(lead: Page) -> None:
    form = lead.locator("form[action$='/heats/plan/at-once/']")
    if not form.is_visible():
        lead.locator("details:has(form[action$='/heats/plan/at-once/']) > summary").click()
    form.locator("button").click()
    expect(lead.locator("#draft")).to_be_visible()


def check_two_schools_in(lead: Page) -> None:
    for school in ("Fernhollow", "Otterbrook Mill"):
        lead.goto("/heats/")
        lead.locator(f"button[name=school][value='{school}']").click()
        expect(lead.get_by_role("status").first).to_contain_text(school)
    lead.goto("/heats/")


def start_the_clock(lead: Page) -> None:
    lead.goto("/clock/control/")
    lead.get_by_role("button", name="Start the clock").click()
    expect(lead.get_by_role("status")).to_be_visible()
    # As the server draws it: a script would count on.
    lead.route("**/clock.js", lambda route: route.abort())
    lead.goto("/clock/")


def open_a_room(lead: Page) -> None:
    """A drill on a screen for the room that asks a jar, at its first reading of guesses."""
    lead.goto("/drills/")
    lead.get_by_role("link", name="Open a drill").click()
    lead.get_by_label("Kind").select_option("room")
    lead.get_by_label(re.compile("J02")).check()
    lead.get_by_role("button", name="Open it").click()
    lead.goto(f"{lead.url}room/")
    before = lead.locator("[name=seen]").input_value()
    lead.locator("body").press("PageDown")
    expect(lead.locator("[name=seen]")).not_to_have_value(before)
    wait_for_the_jar(lead)
    # The port is another one each time.
    write = "e => { e.textContent = 'http://192.168.1.20:8000/drill/' }"
    lead.locator(".late strong").first.evaluate(write)


def wait_for_the_jar(lead: Page) -> None:
    expect(lead.locator("#jar-stage")).to_have_attribute("data-mode", "turn", timeout=SLOW_MS)


def open_the_first_pupil(lead: Page) -> None:
    lead.goto("/season/")
    lead.get_by_role("link", name="Open the club").click()
    lead.get_by_role("link", name="Juno").first.click()


def put_c1_right(lead: Page) -> None:
    lead.goto("/kit/")
    lead.get_by_role("link", name="C1", exact=True).click()
    count_c1_again(lead)
    lead.goto("/standings/")
    expect(lead.locator("#sure")).to_contain_text("of 100 draws")


def release(lead: Page) -> None:
    lead.goto("/standings/")
    lead.get_by_label("Reason").fill("looked at")
    lead.get_by_role("button", name="Release to everybody").click()
    expect(lead.get_by_role("heading", name="Take the results back")).to_be_visible()
    lead.goto("/results/")


def come_late_and_be_read(lead: Page) -> None:
    add_late_pair(lead)
    expect(lead.get_by_role("main")).to_contain_text("P50")
    lead.goto("/entry/")
    lead.get_by_label("Code on the sheet").fill("P50")
    lead.get_by_role("button", name="Open").click()
    expect(lead.locator("#sheet-code")).to_contain_text("P50")
    lead.locator(".line input[type=text]").first.fill("415")
    lead.keyboard.press("Enter")
    expect(lead.locator(".line .state").first).to_have_text("saved")


def open_c2(lead: Page) -> None:
    lead.goto("/kit/")
    lead.get_by_role("link", name="C2", exact=True).click()


PICTURES_IN_ORDER = (
    Picture("first-page", "/", part="body", height=720),
    Picture("first-event", "", part="body", height=700, prepare=begin_by_hand),
    Picture("overview", "", part="body", height=660, prepare=open_demo),
    Picture("kit-room", "/kit/", height=960, width=1100),
    Picture("weighing", "", height=860, width=1100, prepare=open_c2),
    Picture("key", "", part="#certificate", width=700, prepare=open_c2),
    Picture("heats-plan", "/heats/plan/", part="#draft", prepare=at_once),
    Picture("check-in", "", prepare=check_two_schools_in),
    Picture("hall-clock", "", part="body", window=640, prepare=start_the_clock),
    Picture("weigh-in", "/weigh-in/", height=830, prepare=weigh_again),
    Picture("differences", "/differences/", height=540, width=800),
    Picture("pupil", "", height=600, prepare=open_the_first_pupil),
    Picture("jar", "/jars/4/", height=650, window=700, prepare=wait_for_the_jar),
    Picture("room", "", part="body", window=640, prepare=open_a_room),
    Picture("entry", "", height=800, prepare=come_late_and_be_read),
    Picture("how-sure", "", part="#sure", prepare=put_c1_right),
    Picture("standings", "", part="#places", height=600, width=1100),
    Picture("public", "", part="body", height=700, prepare=release),
)
"""One comes after another as on the day: what a picture needs, an earlier one has done."""


def part_of(page: Page, picture: Picture) -> Image.Image:
    """What a picture shows of its page."""
    page.evaluate("document.activeElement.blur(); scrollTo(0, 0)")
    # On a busy machine the first layout can come after the page is loaded, and only a layout asks
    # for the fonts; the size of a part that is measured before them is another one.
    page.evaluate("document.body.offsetHeight; document.fonts.ready.then(() => {})")
    box = page.locator(picture.part).first.bounding_box()
    assert box is not None, picture.name
    box["height"] = min(box["height"], picture.height)
    png = page.screenshot(full_page=True, clip=box, animations="disabled", caret="hide")
    return Image.open(io.BytesIO(png)).convert("RGB")


def paper_of(page: Page) -> Image.Image:
    """The feedback page of the first pair as it is printed."""
    page.goto("/standings/")
    link = page.get_by_role("link", name="P31").first.get_attribute("href")
    pdf = page.request.get(str(link) + "page.pdf").body()
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "page.pdf").write_bytes(pdf)
        source = Path(folder) / "page.typ"
        source.write_text('#set page(margin: 0pt, height: auto, width: auto)\n#image("page.pdf")\n')
        png = typst.compile(str(source), root=folder, format="png", ppi=80)
    return Image.open(io.BytesIO(png)).convert("RGB")


def all_pictures(page: Page) -> Iterator[tuple[str, Image.Image]]:
    """Every picture, made now."""
    for picture in PICTURES_IN_ORDER:
        page.set_viewport_size({"width": picture.width, "height": picture.window})
        if picture.address:
            page.goto(picture.address)
        if picture.prepare:
            picture.prepare(page)
        yield picture.name, part_of(page, picture)
    yield "paper", paper_of(page)


def kept(name: str) -> Image.Image:
    return Image.open(PICTURES / f"{name}.png").convert("RGB")


def keep(name: str, picture: Image.Image) -> None:
    few = picture.quantize(COLOURS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    few.save(PICTURES / f"{name}.png", optimize=True)


def is_other(one: Image.Image, another: Image.Image) -> bool:
    """Whether two pictures show other things, or the same in other places."""
    if one.size != another.size:
        return True
    cells = (one.width // CELL_PX, one.height // CELL_PX)
    grey = [
        np.asarray(each.convert("L").resize(cells, Image.Resampling.BOX)).astype(float)
        for each in (one, another)
    ]
    off = np.abs(grey[0] - grey[1])
    return bool(off.max() > MOST or 0 < (off > MOST_ALONE).mean() < MANY)


@pytest.fixture
def lead_of_a_still_site(with_gl: Browser, unbegun: Ready, tmp_path: Path) -> Iterator[Page]:
    """The lead of an empty site on the day of the invented event."""
    server = StillServer(Path(shutil.copytree(unbegun.folder, tmp_path / "data")))
    server.start()
    context = with_gl.new_context(base_url=server.url, reduced_motion="reduce", locale="en")
    context.set_default_timeout(20_000)
    yield context.new_page()
    context.close()
    server.stop()
    server.check_names()


@pytest.mark.slow
def test_each_picture_is_what_the_page_shows_now(lead_of_a_still_site: Page, tmp_path: Path):
    made, other = set(), []
    for name, picture in all_pictures(lead_of_a_still_site):
        made.add(name)
        if KEEP:
            keep(name, picture)
        elif is_other(picture, kept(name)):
            picture.save(tmp_path / f"{name}.png")
            shown = lead_of_a_still_site.locator("main").inner_text()
            other.append(f"{name}, {kept(name).size} before, {picture.size} now:\n{shown}")

    assert not other, "\n\n".join([f"{tmp_path}; NEARMARK_RECORD=1 keeps what is new", *other])
    assert made == {file.stem for file in PICTURES.glob("*.png")}


CHANGES = (
    ("#id_password_helptext", "10", "13"),
    ("h1", "leads", "starts"),
    ("h1", ".", ","),
    ("label[for=id_again]", "again", ""),
)


@pytest.mark.slow
@pytest.mark.begins_with("unbegun")
def test_a_change_of_a_page_would_be_seen(page: Page):
    first = PICTURES_IN_ORDER[0]
    page.emulate_media(reduced_motion="reduce")
    page.set_viewport_size({"width": first.width, "height": first.window})
    page.goto(first.address)
    before = part_of(page, first)
    page.reload()
    assert not is_other(part_of(page, first), before)
    for where, old, new in CHANGES:
        page.reload()
        rewrite = "(e, [old, other]) => { e.textContent = e.textContent.replace(old, other) }"
        page.locator(where).evaluate(rewrite, [old, new])
        assert is_other(part_of(page, first), before), new
    for style in ("marginTop = '2px'", "width = '80%'", "display = 'none'"):
        page.reload()
        page.locator("main form").evaluate(f"e => {{ e.style.{style} }}")
        assert is_other(part_of(page, first), before), style


def test_the_pictures_are_small_enough_to_be_kept():
    assert 0 < sum(file.stat().st_size for file in PICTURES.glob("*.png")) < MAX_BYTES


def test_each_picture_is_in_a_page_and_has_words_for_those_who_do_not_see_it():
    docs = PICTURES.parent
    texts = [file.read_text("utf-8") for file in (docs.parent / "README.md", *docs.rglob("*.md"))]
    shown = dict(re.findall(r"!\[([^\]]*)\]\(\S*pictures/([\w-]+)\.png\)", "\n".join(texts)))
    assert set(shown.values()) == {file.stem for file in PICTURES.glob("*.png")}
    assert all(len(words.split()) > 5 for words in shown)
