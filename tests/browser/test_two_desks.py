"""The sheets and the scale as people work there: by touch, by keyboard, with a scanner."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from nearmark.contest.event import Cup, Event, Item, Pair
from nearmark.event_folder import write_event
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station

SIZES: dict[str, dict[str, Any]] = {
    "phone": {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True},
    "tablet": {"viewport": {"width": 820, "height": 1180}, "has_touch": True, "is_mobile": True},
    "laptop": {"viewport": {"width": 1280, "height": 850}},
}
MAX_TAPS = 22
"""For a sheet of five answers, the tap that opens it included."""

NAMES = ("big jar of chickpeas", "square tub of elbow pasta", "small jar of peas")
SHEET = {"J1": "15000", "J2": "3480", "J3": "419", "B1": "980", "B2": "704"}
DAY = Event(
    "Larkspur Valley Estimation Day",
    date(2027, 5, 8),
    instruments=(Instrument("bench scale", "g", 0.1), Instrument("kitchen scale", "g", 1.0)),
    items=(
        Item("M1", Station.MASS, "a cup of 100 g"),
        *(Item(f"J{n}", Station.COUNT, name) for n, name in enumerate(NAMES, 1)),
        Item("B1", Station.VOLUME, "tea box"),
        Item("B2", Station.VOLUME, "shoe box"),
    ),
    cups=tuple(Cup(str(n), Decimal("8.5"), "bench scale") for n in range(1, 9)),
    pairs=tuple(
        Pair(f"P{n:02}", school, ("Ada", "Bo"), heat=f"heat {1 + n // 4}")
        for n, school in enumerate(
            ("Quillbank", "Fernhollow", "Copperwren", "Otterbrook Mill") * 2, 1
        )
    ),
)


@pytest.fixture(scope="module")
def day(ready, shared, chromium: Browser, tmp_path_factory: pytest.TempPathFactory):
    """The event is read; the lead works at the desks, which takes no second device."""
    folder = tmp_path_factory.mktemp("desks")
    running = shared(ready)
    context = chromium.new_context(base_url=running.url)
    context.add_cookies(ready.cookies["Juniper"])
    page = context.new_page()
    write_event(DAY, folder / "event")
    page.goto("/event/")
    page.locator("input[type=file]").set_input_files([str(f) for f in (folder / "event").iterdir()])
    page.get_by_role("button", name="Read them").click()
    expect(page.get_by_text("What next")).to_be_visible()
    kept = {"Juniper": context.cookies()}
    context.close()
    return ready._replace(folder=running.copy_to(folder / "data"), cookies=kept)


@pytest.fixture
def begun(day):
    return day


@pytest.fixture
def at(chromium: Browser, server, day) -> Iterator[Callable[[str], Page]]:
    """A page of the lead on a device of this kind."""
    opened: list[BrowserContext] = []

    def come(size: str) -> Page:
        context = chromium.new_context(base_url=server.url, **SIZES[size])
        context.set_default_timeout(20_000)
        context.add_cookies(day.cookies["Juniper"])
        opened.append(context)
        return context.new_page()

    yield come
    for context in opened:
        context.close()


def on_server(server) -> list[tuple[str, str, str]]:
    """Every reading that counts: pair, item, value."""
    with closing(sqlite3.connect(server.data / "nearmark.sqlite3")) as database:
        return list(
            database.execute(
                "select p.code, i.code, e.value from site_answerentry e"
                " join site_pairrecord p on p.id = e.pair_id"
                " join site_itemrecord i on i.id = e.item_id"
                " where e.struck_at is null order by e.id"
            )
        )


class Finger:
    """Taps, and counts them."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.n = 0

    def tap(self, target) -> None:
        self.n += 1
        target.tap()

    def keys(self, *names: str) -> None:
        keypad = self.page.get_by_role("group", name="Keypad")
        for name in names:
            label = {".": "decimal mark"}.get(name, name)
            self.tap(keypad.get_by_role("button", name=label, exact=True))

    def number(self, text: str) -> None:
        """By the fewest keys: 15000 is 1, 5, 000."""
        zeros = {0: (), 1: ("0",), 2: ("00",), 3: ("000",)}
        stem = text.rstrip("0")
        self.keys(*stem, *zeros[len(text) - len(stem)], "next")


def told(page: Page):
    return page.locator("#told")


@pytest.mark.parametrize("size", ["phone", "tablet"])
def test_a_sheet_by_touch_takes_22_taps_and_every_answer_is_in_its_place(at, server, size):
    page = at(size)
    page.goto("/entry/")
    finger = Finger(page)

    finger.tap(page.get_by_role("link", name="P02"))
    for item, number in SHEET.items():
        expect(page.get_by_label(item)).to_be_focused()
        finger.number(number)

    expect(told(page)).to_have_text("P02, B2: 704 saved")
    expect(page.get_by_label("Code on the sheet")).to_be_focused()
    assert finger.n <= MAX_TAPS
    assert on_server(server) == [("P02", item, number) for item, number in SHEET.items()]
    # The next sheet in any order, by its number: two taps.
    finger.keys("7", "next")
    expect(page.locator("#sheet-code")).to_contain_text("P07-")
    expect(page.get_by_role("link", name="P02")).to_be_hidden()


def test_what_was_just_typed_is_undone_by_one_tap_before_and_after_a_reload(at, server):
    page = at("phone")
    page.goto("/entry/?pair=P02")
    finger = Finger(page)
    finger.number("15000")
    expect(told(page)).to_have_text("P02, J1: 15000 saved")
    before = finger.n
    finger.tap(page.locator("#told-acts").get_by_role("button", name="Undo"))
    expect(page.get_by_label("J1")).to_be_focused()
    assert finger.n == before + 1
    finger.number("1500")
    expect(told(page)).to_have_text("P02, J1: 1500 saved")
    assert on_server(server) == [("P02", "J1", "1500")]

    page.reload()
    before = finger.n
    finger.tap(page.get_by_role("button", name="Undo J1"))
    assert finger.n == before + 1
    finger.number("15000")

    expect(told(page)).to_have_text("P02, J1: 15000 saved")
    assert on_server(server) == [("P02", "J1", "15000")]


def is_seen_above_the_keypad(page: Page) -> bool:
    """Whether the words are on the screen, and the keypad begins below them."""
    return page.evaluate(
        "() => { const words = document.getElementById('told').getBoundingClientRect(),"
        " keys = document.getElementById('keypad').getBoundingClientRect();"
        " return words.height > 0 && words.top >= 0 && words.bottom <= keys.top"
        " && keys.bottom <= innerHeight + 1; }"
    )


def test_a_far_off_answer_is_asked_above_the_keypad_and_kept_by_one_tap(at, server):
    page = at("phone")
    page.goto("/entry/?pair=P02")
    finger = Finger(page)
    finger.number("17")
    # The hand goes on; the question waits.
    finger.number("3480")

    expect(told(page)).to_contain_text("This is far from what others wrote")
    assert is_seen_above_the_keypad(page)
    assert ("P02", "J1", "17") not in on_server(server)
    finger.tap(page.locator("#told-acts").get_by_role("button", name="Save it as it is"))

    expect(told(page)).to_have_text("P02, J1: 17 saved")
    assert sorted(on_server(server)) == [("P02", "J1", "17"), ("P02", "J2", "3480")]


def test_a_far_off_answer_is_typed_again_in_its_place(at, server):
    page = at("laptop")
    page.goto("/entry/?pair=P02")
    for number in ("17", "3480", "419", "980", "704"):
        page.keyboard.type(number)
        page.keyboard.press("Enter")
    expect(told(page)).to_contain_text("P02, J1: This is far")

    page.get_by_role("button", name="Change it").click()
    page.keyboard.type("17000")
    page.keyboard.press("Enter")

    expect(told(page)).to_have_text("P02, J1: 17000 saved")
    expect(page.locator("#outbox")).to_be_hidden()
    assert ("P02", "J1", "17000") in on_server(server)


def test_a_scanner_opens_the_next_sheet_wherever_the_cursor_is(at, server):
    page = at("laptop")
    page.goto("/entry/")
    expect(page.get_by_label("Code on the sheet")).to_be_focused()
    page.keyboard.type("P02-J")
    page.keyboard.press("Enter")
    page.keyboard.type("15000")
    page.keyboard.press("Enter")
    expect(page.get_by_label("J2")).to_be_focused()
    page.keyboard.type("P03-H")
    page.keyboard.press("Enter")

    expect(page.locator("#sheet-code")).to_have_text("P03-H")
    expect(page.locator("#sheet-pair")).to_have_text("Copperwren, heat 1")
    page.keyboard.type("14000")
    page.keyboard.press("Enter")
    expect(told(page)).to_have_text("P03, J1: 14000 saved")
    assert on_server(server) == [("P02", "J1", "15000"), ("P03", "J1", "14000")]


def test_a_second_sheet_of_a_pair_goes_to_the_lead(at):
    page = at("laptop")
    page.goto("/entry/")
    for typed in ("3", *SHEET.values()):
        page.keyboard.type(typed)
        page.keyboard.press("Enter")
    expect(told(page)).to_have_text("P03, B2: 704 saved")
    page.keyboard.type("P03-H")
    page.keyboard.press("Enter")

    expect(told(page)).to_contain_text("a second sheet with this code, do not type it")


def test_a_wrong_code_is_refused_where_it_was_typed(at):
    page = at("laptop")
    page.goto("/entry/")
    for typed, words in (("P02-K", "wrong check letter"), ("77", "no pair of this event")):
        page.keyboard.type(typed)
        page.keyboard.press("Enter")

        expect(page.locator("#code-told")).to_contain_text(words)
        expect(told(page)).to_contain_text(words)
        expect(page.get_by_label("Code on the sheet")).to_be_focused()


def test_a_pair_that_came_late_is_known_without_a_reload(at):
    page, lead = at("laptop"), at("laptop")
    page.goto("/entry/")
    lead.goto("/pairs/")
    lead.get_by_label("School").fill("Saltmeadow End")
    lead.get_by_label("First child").fill("Cy")
    lead.get_by_role("button", name="Add", exact=True).click()

    page.keyboard.type("9")
    page.keyboard.press("Enter")

    expect(page.locator("#sheet-pair")).to_contain_text("Saltmeadow End")


@pytest.mark.parametrize("size", list(SIZES))
def test_the_desks_fit_every_size_and_axe_finds_nothing(at, size, violations):
    page = at(size)
    page.goto("/entry/?pair=P04")
    for number in ("17", "many", "419", "b"):
        page.keyboard.type(number)
        page.keyboard.press("Enter")
    expect(page.locator(".line .state[data-state=look]")).to_have_count(1)
    expect(page.locator(".line .state[data-state=refused]")).to_have_count(1)
    found = violations(page)
    page.goto("/weigh-in/")
    expect(page.get_by_role("textbox", name="Pair")).to_be_focused()
    page.get_by_label("Scale", exact=True).select_option("bench scale")
    for typed in ("P01", "1", "1043"):
        page.keyboard.type(typed)
        page.keyboard.press("Enter")
    expect(told(page)).to_contain_text("1043 g is unusual")
    found += violations(page)

    assert found == []


def weigh(finger: Finger, pair: str, cup: str, gross: str) -> None:
    for text in (pair, cup, gross):
        finger.keys(*text, "next")


@pytest.fixture
def scale(at) -> Page:
    """The scale desk on a phone, with its scale chosen once."""
    page = at("phone")
    page.goto("/weigh-in/")
    page.get_by_label("Scale", exact=True).select_option("bench scale")
    page.reload()
    expect(page.get_by_label("Scale", exact=True)).to_have_value("bench scale")
    return page


def test_at_the_scale_every_act_is_answered_above_the_keypad(scale: Page, server):
    finger = Finger(scale)
    finger.keys("2")
    expect(scale.locator("#who")).to_have_text("P02-J, Fernhollow, heat 1")
    finger.keys("next")
    finger.keys("2", "next")
    finger.keys(*"108.3", "next")

    expect(told(scale)).to_contain_text("P02-J, Fernhollow, heat 1: 108.3 g in cup 2 saved")
    assert is_seen_above_the_keypad(scale)
    # Counts and last ones move without a reload.
    expect(scale.locator("#how-far")).to_have_text("1 of 8 cups are in")
    expect(scale.locator("#so-far td").first).to_have_text("P02")

    finger.tap(scale.locator("#told-acts").get_by_role("button", name="Undo"))

    expect(told(scale)).to_contain_text("taken back")
    expect(scale.locator("#how-far")).to_have_text("0 of 8 cups are in")
    assert on_server(server) == []


def test_1043_g_is_asked_with_what_was_typed_still_there(scale: Page, server):
    finger = Finger(scale)
    weigh(finger, "1", "1", "1043")

    expect(told(scale)).to_contain_text("1043 g is unusual for a cup here")
    assert is_seen_above_the_keypad(scale)
    expect(scale.get_by_label("Scale shows, g")).to_have_value("1043")
    assert on_server(server) == []
    scale.get_by_label("Scale shows, g").fill("104.3")
    scale.get_by_label("Scale shows, g").press("Enter")

    expect(told(scale)).to_contain_text("104.3 g in cup 1 saved")
    expect(scale.locator("#outbox")).to_be_hidden()
    assert on_server(server) == [("P01", "M1", "104.3")]


def test_a_swapped_cup_is_put_right_at_the_scale(scale: Page, server):
    finger = Finger(scale)
    weigh(finger, "1", "2", "108.3")
    expect(told(scale)).to_contain_text("saved")
    weigh(finger, "2", "2", "111")

    expect(told(scale)).to_contain_text("cup 2 was handed in by P01 too")
    assert on_server(server) == [("P01", "M1", "108.3")]
    # The cup is right: the one before was typed wrong, and one's own.
    acts = scale.locator("#told-acts")
    finger.tap(acts.get_by_role("button", name="Take back P01, cup 2"))
    expect(scale.locator("#how-far")).to_have_text("0 of 8 cups are in")
    finger.tap(acts.get_by_role("button", name="Save it as it is"))
    expect(told(scale)).to_contain_text("111 g in cup 2 saved")
    weigh(finger, "1", "1", "108.3")
    expect(told(scale)).to_contain_text("108.3 g in cup 1 saved")

    assert on_server(server) == [("P02", "M1", "111"), ("P01", "M1", "108.3")]


def test_a_second_cup_of_a_pair_is_refused_and_the_first_taken_back_there(scale: Page, server):
    finger = Finger(scale)
    weigh(finger, "1", "2", "108.3")
    expect(told(scale)).to_contain_text("saved")
    weigh(finger, "1", "1", "108.3")

    expect(told(scale)).to_contain_text("P01 has handed in cup 2 already")
    acts = scale.locator("#told-acts")
    finger.tap(acts.get_by_role("button", name="Take back P01, cup 2"))
    expect(scale.locator("#how-far")).to_have_text("0 of 8 cups are in")
    finger.tap(acts.get_by_role("button", name="Send it again"))

    expect(told(scale)).to_contain_text("108.3 g in cup 1 saved")
    assert on_server(server) == [("P01", "M1", "108.3")]
