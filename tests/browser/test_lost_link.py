"""Lost Wi-Fi in a real browser: torn at each step, every entry is on the server exactly once."""

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Error, Page, Route, expect

from nearmark.contest.event import Cup, Event, Item, Pair
from nearmark.event_folder import write_event
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station

SAVE = "**/entry/save/"
WEIGH = "**/weigh-in/"
PIN = "4711"
KEY = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
"""Of an entry; drawn anew, it may spell any digits."""

DAY = Event(
    "Larkspur Valley Estimation Day",
    date(2027, 5, 8),
    instruments=(Instrument("bench scale", "g", 0.1),),
    items=(
        Item("M1", Station.MASS, "a cup of 100 g"),
        Item("C1", Station.COUNT, "jar of beans"),
        Item("C2", Station.COUNT, "jar of peas"),
    ),
    cups=tuple(Cup(str(n), Decimal("8.5"), "bench scale") for n in (1, 2)),
    pairs=tuple(Pair(f"P0{n}", "Quillbank", ("Ada", "Bo")) for n in (1, 2, 3)),
)


@pytest.fixture(scope="module")
def day(ready, shared, chromium: Browser, tmp_path_factory: pytest.TempPathFactory):
    """The event is read and a scorer has joined: by hand, once."""
    folder = tmp_path_factory.mktemp("day")
    running = shared(ready)
    lead, ash = (chromium.new_context(base_url=running.url) for _ in range(2))
    lead.add_cookies(ready.cookies["Juniper"])
    read_day(lead.new_page(), folder / "event")
    join(ash.new_page(), code(lead.pages[0]), "Ash")
    kept = {"Juniper": lead.cookies(), "Ash": ash.cookies()}
    lead.close()
    ash.close()
    return ready._replace(folder=running.copy_to(folder / "data"), cookies=kept)


@pytest.fixture
def begun(day):
    return day


def read_day(lead: Page, folder: Path) -> None:
    write_event(DAY, folder)
    lead.goto("/event/")
    lead.locator("input[type=file]").set_input_files([str(file) for file in folder.iterdir()])
    lead.get_by_role("button", name="Read them").click()
    expect(lead.get_by_text("What next")).to_be_visible()


def code(lead: Page) -> str:
    lead.goto("/devices/")
    lead.get_by_text("Another role, or any job").click()
    lead.get_by_label("The device is for a").select_option("scorer")
    lead.get_by_role("button", name="Make a code").click()
    return lead.locator(".bigcode").inner_text()


def join(page: Page, letters: str, name: str) -> None:
    page.goto("/join/")
    page.get_by_label("Code").fill(letters)
    page.get_by_label("Your name").fill(name)
    page.get_by_label("A PIN of your own").fill(PIN)
    page.get_by_role("button", name="Join").click()
    expect(page.get_by_text(name).first).to_be_visible()


@pytest.fixture
def ash(chromium: Browser, server, views, day) -> Iterator[Page]:
    """A scorer's own device at an event without answers."""
    context = chromium.new_context(base_url=server.url, **views["phone"])
    context.set_default_timeout(20_000)
    context.add_cookies(day.cookies["Ash"])
    page = context.new_page()
    page.goto("/entry/")
    yield page
    context.close()


def open_sheet(page: Page, code: str) -> None:
    page.get_by_label("Code on the sheet").fill(code)
    page.get_by_label("Code on the sheet").press("Enter")
    expect(page.locator("#sheet-code")).to_contain_text(f"{code}-")


def type_in(page: Page, cell: str, value: str) -> None:
    code, item = cell.split(", ")
    open_sheet(page, code)
    page.get_by_label(item).fill(value)
    page.get_by_label(item).press("Enter")


def state_of(page: Page, item: str):
    """Of an answer on the open sheet."""
    return page.locator(".line").filter(has_text=item).locator(".state")


def on_server(server, *, struck: bool = True) -> list[tuple[str, str, str]]:
    """Every reading that is on the disk, or those that count: pair, item, value."""
    with closing(sqlite3.connect(server.data / "nearmark.sqlite3")) as database:
        return sorted(
            database.execute(
                "select p.code, i.code, e.value from site_answerentry e"
                " join site_pairrecord p on p.id = e.pair_id"
                " join site_itemrecord i on i.id = e.item_id"
                " where ? or e.struck_at is null",
                [struck],
            )
        )


def lose_request(route: Route) -> None:
    route.abort()


def lose_answer(route: Route) -> None:
    route.fetch()
    # While the answer was on its way the test may have mended the link: then it is let go already.
    with suppress(Error):
        route.abort()


def answer_busy(route: Route) -> None:
    route.fulfill(status=503, json={"what": "Nothing was saved", "mend": "Try again"})


def answer_nonsense(route: Route) -> None:
    route.fulfill(status=200, body="<html>the Wi-Fi wants a password</html>")


def test_typing_goes_on_without_a_link_and_all_arrives_once(ash: Page, server):
    ash.context.set_offline(True)
    for pair, value in (("P01", "2870"), ("P02", "b"), ("P03", "3010")):
        type_in(ash, f"{pair}, C1", value)
    type_in(ash, "P01, C2", "455")

    expect(ash.locator("#outbox-told")).to_contain_text("4 waiting")
    assert on_server(server) == []
    ash.context.set_offline(False)

    expect(ash.locator("#outbox-told")).to_have_text("everything typed is saved")
    expect(state_of(ash, "C2")).to_have_text("saved")
    assert on_server(server) == [
        ("P01", "C1", "2870"),
        ("P01", "C2", "455"),
        ("P02", "C1", None),
        ("P03", "C1", "3010"),
    ]


@pytest.mark.parametrize("tear", [lose_request, lose_answer, answer_busy, answer_nonsense])
def test_torn_at_any_step_and_reloaded_an_entry_counts_once(ash: Page, server, tear):
    ash.context.route(SAVE, tear)
    type_in(ash, "P01, C1", "2870")
    type_in(ash, "P02, C1", "3010")
    expect(state_of(ash, "C1")).to_have_text("waiting to be sent")

    ash.reload()
    expect(ash.locator("#outbox li")).to_have_count(2)
    ash.context.unroute(SAVE)

    expect(ash.locator("#outbox")).to_be_hidden()
    assert on_server(server) == [("P01", "C1", "2870"), ("P02", "C1", "3010")]


def test_an_entry_outlives_its_tab(ash: Page, server):
    ash.context.set_offline(True)
    type_in(ash, "P01, C1", "2870")
    expect(ash.locator("#outbox-told")).to_contain_text("1 waiting")
    context = ash.context
    ash.close()
    context.set_offline(False)

    again = context.new_page()
    again.goto("/weigh-in/")

    expect(again.locator("#outbox")).to_be_hidden()
    again.goto("/entry/?pair=P01")
    expect(again.get_by_label("C1")).to_have_value("2870")
    assert on_server(server) == [("P01", "C1", "2870")]


def test_two_tabs_send_an_entry_once(ash: Page, server):
    other = ash.context.new_page()
    other.goto("/entry/")
    ash.context.set_offline(True)
    type_in(ash, "P01, C1", "2870")
    type_in(other, "P02, C1", "3010")
    open_sheet(other, "P01")
    expect(state_of(other, "C1")).to_have_text("waiting to be sent")
    ash.context.set_offline(False)

    for page in (ash, other):
        expect(page.locator("#outbox")).to_be_hidden()
        expect(state_of(page, "C1")).to_have_text("saved")
    assert on_server(server) == [("P01", "C1", "2870"), ("P02", "C1", "3010")]


def test_a_refused_entry_stays_with_the_words_of_the_server_until_it_is_mended(ash: Page, server):
    type_in(ash, "P01, C1", "many")
    expect(state_of(ash, "C1")).to_contain_text("Is not a number")
    expect(ash.locator("#told")).to_contain_text("P01, C1: many. Refused: Is not a number")

    ash.reload()
    expect(ash.get_by_label("C1")).to_have_value("many")
    expect(ash.locator("#outbox")).to_contain_text("Is not a number")
    ash.get_by_role("button", name="Change P01, C1").click()
    ash.keyboard.type("2870")
    ash.keyboard.press("Enter")

    expect(state_of(ash, "C1")).to_have_text("saved")
    expect(ash.locator("#outbox")).to_be_hidden()
    assert on_server(server) == [("P01", "C1", "2870")]


def test_what_is_half_typed_outlives_a_reload_and_is_not_sent(ash: Page, server):
    open_sheet(ash, "P01")
    ash.get_by_label("C1").press_sequentially("28")
    ash.reload()

    expect(ash.get_by_label("C1")).to_have_value("28")
    expect(state_of(ash, "C1")).to_have_text("typed, not sent yet")
    assert on_server(server) == []


def test_what_is_typed_before_the_scripts_run_stays(ash: Page):
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    ash.route("**/entry.js", hold)
    ash.goto("/entry/?pair=P02", wait_until="commit")
    ash.get_by_label("C1").fill("28")
    held[0].continue_()

    expect(state_of(ash, "C1")).to_have_text("typed, not sent yet")
    expect(ash.get_by_label("C1")).to_have_value("28")


def test_an_entry_typed_on_a_locked_device_waits_for_its_pin(ash: Page, server):
    door = ash.context.new_page()
    door.goto("/entry/")
    door.get_by_role("button", name="Lock").click()
    type_in(ash, "P01, C1", "2870")
    expect(ash.locator("#outbox")).to_contain_text("This device is locked")

    door.get_by_label("PIN").fill(PIN)
    door.get_by_role("button", name="Open").click()
    expect(door.get_by_text("Open again")).to_be_visible()

    expect(state_of(ash, "C1")).to_have_text("saved")
    assert on_server(server) == [("P01", "C1", "2870")]


def test_a_reading_is_taken_back_without_a_link_before_it_was_sent(ash: Page, server):
    ash.context.set_offline(True)
    type_in(ash, "P01, C1", "2780")
    ash.get_by_role("button", name="Undo C1").click()
    expect(ash.get_by_label("C1")).to_be_focused()
    ash.keyboard.type("2870")
    ash.keyboard.press("Enter")
    expect(ash.locator("#outbox-told")).to_contain_text("3 waiting")
    ash.context.set_offline(False)

    expect(ash.locator("#outbox")).to_be_hidden()
    expect(state_of(ash, "C1")).to_have_text("saved")
    expect(ash.get_by_label("C1")).to_have_value("2870")
    assert [value for *_, value in on_server(server, struck=False)] == ["2870"]


@pytest.mark.parametrize("tear", [lose_request, lose_answer])
def test_a_reading_taken_back_on_a_torn_link_is_taken_back_once(ash: Page, server, tear):
    type_in(ash, "P01, C1", "2780")
    expect(state_of(ash, "C1")).to_have_text("saved")
    ash.context.route(SAVE, tear)
    ash.get_by_role("button", name="Undo C1").click()
    ash.keyboard.type("2870")
    ash.keyboard.press("Enter")
    expect(ash.locator("#outbox li")).to_have_count(2)
    ash.reload()
    ash.context.unroute(SAVE)

    expect(ash.locator("#outbox")).to_be_hidden()
    expect(ash.get_by_label("C1")).to_have_value("2870")
    assert [value for *_, value in on_server(server, struck=False)] == ["2870"]
    assert [value for *_, value in on_server(server)] == ["2780", "2870"]


def test_entries_of_a_revoked_device_are_kept_and_never_sent_by_another(
    ash: Page, lead: Page, server
):
    lead.goto("/devices/")
    lead.get_by_text("Revoke the device of Ash").click()
    lead.get_by_role("button", name="Yes, shut it out").click()
    expect(lead.get_by_text("Revoke the device of Ash")).to_have_count(0)
    type_in(ash, "P01, C1", "2870")
    expect(ash.locator("#outbox")).to_contain_text("not let in any more")

    ash.goto("/join/")
    expect(ash.locator("#outbox-others")).to_contain_text("1 entry of Ash is kept")
    join(ash, code(lead), "Birch")
    ash.goto("/entry/")
    expect(ash.locator("#outbox-others")).to_contain_text("1 entry of Ash is kept")
    # Birch reads blindly: what Ash typed is nowhere on the page, and nothing was sent.
    assert "2870" not in KEY.sub("", ash.content())
    type_in(ash, "P01, C1", "2780")
    expect(state_of(ash, "C1")).to_have_text("saved")
    assert on_server(server) == [("P01", "C1", "2780")]

    ash.get_by_role("button", name="Sign out").click()
    ash.goto("/sign-in/?next=/entry/")
    ash.get_by_label("Name").fill("Juniper")
    ash.get_by_label("Password").fill("four quiet otters swim")
    ash.get_by_role("button", name="Sign in").click()
    ash.get_by_text("Read them off").click()
    expect(ash.locator("#outbox-others li")).to_contain_text("Ash: P01, C1 2870")
    ash.get_by_role("button", name="Discard P01, C1").click()
    expect(ash.locator("#outbox-others")).to_be_hidden()


def test_a_page_of_the_person_before_sends_nothing_in_the_name_of_the_next(
    ash: Page, lead: Page, server
):
    other = ash.context.new_page()
    other.goto("/entry/")
    other.get_by_role("button", name="Sign out").click()
    join(other, code(lead), "Birch")

    with ash.expect_response(SAVE):
        type_in(ash, "P01, C1", "2870")

    expect(ash.locator("#outbox li")).to_have_count(1)
    assert on_server(server) == []


def weigh(page: Page, pair: str, cup: str, gross: str) -> None:
    page.get_by_label("Pair").fill(pair)
    page.get_by_label("Cup number").fill(cup)
    page.get_by_label("Scale shows, g").fill(gross)
    page.get_by_role("button", name="Save this cup").click()


@pytest.mark.parametrize("tear", [lose_request, lose_answer, answer_busy])
def test_cups_are_weighed_without_a_link_and_arrive_once(ash: Page, server, tear):
    ash.goto("/weigh-in/")
    ash.context.route(WEIGH, lambda r: tear(r) if r.request.method == "POST" else r.continue_())
    weigh(ash, "P01", "1", "108.3")
    expect(ash.get_by_label("Pair")).to_be_focused()
    weigh(ash, "P02", "2", "111.0")
    expect(ash.locator("#outbox li")).to_have_count(2)
    ash.context.unroute_all()

    expect(ash.locator("#outbox")).to_be_hidden()
    expect(ash.locator("#told")).to_contain_text(
        "P02-J, Quillbank, no heat yet: 111.0 g in cup 2 saved."
    )
    assert on_server(server) == [("P01", "M1", "108.3"), ("P02", "M1", "111.0")]


def test_a_refused_cup_goes_back_into_the_form_to_be_mended(ash: Page, server):
    ash.goto("/weigh-in/")
    weigh(ash, "P77", "1", "108.3")
    expect(ash.locator("#outbox")).to_contain_text("Is no pair of this event")
    ash.reload()
    ash.get_by_role("button", name="Change P77, cup 1").click()
    expect(ash.get_by_label("Scale shows, g")).to_have_value("108.3")
    ash.get_by_label("Pair").fill("P01")
    ash.get_by_role("button", name="Save this cup").click()

    expect(ash.locator("#told")).to_contain_text(
        "P01-L, Quillbank, no heat yet: 108.3 g in cup 1 saved."
    )
    expect(ash.locator("#outbox")).to_be_hidden()
    assert on_server(server) == [("P01", "M1", "108.3")]


def test_the_weigh_in_works_without_script(ash: Page, chromium, server):
    context = chromium.new_context(
        base_url=server.url, java_script_enabled=False, storage_state=ash.context.storage_state()
    )
    plain = context.new_page()
    plain.goto("/weigh-in/")
    weigh(plain, "P01", "1", "108.3")

    expect(plain.get_by_role("status").first).to_contain_text(
        "P01-L, Quillbank, no heat yet: 108.3 g in cup 1 saved."
    )
    context.close()
