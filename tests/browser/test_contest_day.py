"""The day by hand in a real browser: from the first run to the public page, and a lost link."""

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from nearmark.contest.results import results
from nearmark.event_folder import read_event
from tests.browser.conftest import begin_by_hand


def begin(lead: Page) -> None:
    """An event with one jar and two pairs."""
    lead.get_by_label("Name of the event").fill("Spring day")
    lead.get_by_label("Day", exact=True).fill("2027-05-08")
    lead.get_by_role("button", name="Begin", exact=True).click()
    lead.goto("/kit/")
    item = lead.locator("form").filter(has=lead.get_by_label("What it is"))
    item.get_by_label("Code").fill("C1")
    item.get_by_label("What it is").fill("jar of beans")
    item.get_by_label("Station").select_option("count")
    item.get_by_role("button", name="Add").click()


def add_pairs(lead: Page) -> None:
    for school, first in (("Quillbank", "Ada"), ("Fernhollow", "Bo")):
        lead.goto("/pairs/")
        lead.get_by_label("School").fill(school)
        lead.get_by_label("First child").fill(first)
        lead.get_by_role("button", name="Add", exact=True).click()


def weigh_to_fit(lead: Page) -> None:
    """Readings one at a time, until the page says that the key is fit."""
    now = lead.locator("form.at-the-scale").first
    now.get_by_label("Empty, g").fill("412.3")
    now.get_by_role("button", name="Add").click()
    verdict = lead.locator("p > .verdict")
    for mass in ("61.2", "61.9", "61.5", "61.6", "61.4", "61.7"):
        expect(verdict).not_to_have_text("fit")
        if lead.get_by_role("link", name="Next: weigh it full").count():
            lead.get_by_role("link", name="Next: weigh it full").click()
            now.get_by_label("Full, g").fill("2890.4")
            now.get_by_role("button", name="Add").click()
            expect(lead.get_by_role("status")).to_contain_text("2890.4")
        now.get_by_label("Pieces counted").fill("150")
        now.get_by_label("Net mass, g").fill(mass)
        now.get_by_role("button", name="Add").click()
        expect(lead.get_by_role("status")).to_contain_text(mass)
        if verdict.inner_text() == "fit":
            return


def type_answer(page: Page, cell: str, value: str) -> None:
    code, item = cell.split(", ")
    page.goto(f"/entry/?pair={code}")
    page.get_by_label(item).fill(value)
    page.get_by_label(item).press("Enter")
    expect(page.get_by_text("saved", exact=True)).to_be_visible()


@pytest.mark.begins_with("unbegun")
def test_a_whole_day_from_the_first_run_to_the_recomputed_result(
    lead: Page, scorer: Callable[[str], Page], tmp_path: Path
):
    begin_by_hand(lead)
    begin(lead)
    weigh_to_fit(lead)
    expect(lead.locator("p > .verdict")).to_have_text("fit")
    add_pairs(lead)

    ash, birch = scorer("Ash"), scorer("Birch")
    type_answer(ash, "P01, C1", "5900")
    type_answer(birch, "P01, C1", "5900")
    type_answer(ash, "P02, C1", "5400")
    type_answer(birch, "P02, C1", "4500")

    # The two differ: neither may decide, the lead looks at the paper.
    ash.goto("/differences/")
    expect(ash.get_by_text("You made one of the two readings")).to_be_visible()
    lead.goto("/differences/")
    lead.get_by_label("5400").check()
    lead.get_by_role("button", name="Decide").click()

    birch.goto("/results/")
    expect(birch.get_by_text("not out yet")).to_be_visible()
    lead.goto("/standings/")
    lead.get_by_role("button", name="Release to everybody").click()
    birch.goto("/results/")
    expect(birch.get_by_role("row").nth(1)).to_contain_text("P01")

    with lead.expect_download() as download:
        lead.goto("/event/")
        lead.get_by_role("link", name="Event folder").click()
    zipfile.ZipFile(download.value.path()).extractall(tmp_path)
    computed = results(read_event(tmp_path / "event"))
    shown = birch.get_by_role("row").nth(1).get_by_role("cell").last.inner_text()
    assert shown == f"{float(computed.pairs[0].total):.2f}"
    assert computed.open_points == ()


def test_what_is_typed_without_a_link_is_sent_when_it_is_back(lead: Page, server, scorer):
    begin(lead)
    add_pairs(lead)
    ash = scorer("Ash")
    ash.goto("/entry/?pair=P01")

    server.stop()
    ash.get_by_label("C1").fill("5900")
    ash.get_by_label("C1").press("Enter")
    expect(ash.locator(".line .state")).to_have_text("waiting to be sent")
    expect(ash.get_by_text("1 waiting to be sent")).to_be_visible()
    server.start()

    expect(ash.get_by_text("saved", exact=True)).to_be_visible()
    ash.goto("/entry/?pair=P01")
    expect(ash.get_by_label("C1")).to_have_value("5900")


def test_sheets_are_filled_by_the_keyboard_alone(lead: Page, scorer):
    begin(lead)
    add_pairs(lead)
    ash = scorer("Ash")
    ash.goto("/entry/")

    # The code is asked for first, and again behind the last answer: nothing is clicked.
    for typed in ("p01", "5900", "2", "b"):
        ash.keyboard.type(typed)
        ash.keyboard.press("Enter")

    expect(ash.locator("#told")).to_have_text("P02, C1: b saved")
    expect(ash.get_by_label("Code on the sheet")).to_be_focused()
    expect(ash.get_by_text("You have read every sheet that is left for you.")).to_be_visible()


def test_the_forms_work_without_script(lead: Page, chromium, server):
    begin(lead)
    add_pairs(lead)
    context = chromium.new_context(
        base_url=server.url, java_script_enabled=False, storage_state=lead.context.storage_state()
    )
    plain = context.new_page()
    plain.goto("/entry/")
    plain.get_by_label("Code on the sheet").fill("1")
    plain.get_by_role("button", name="Open").click()
    plain.get_by_label("C1").fill("5900")
    plain.get_by_role("button", name="Save this sheet").click()

    expect(plain.get_by_role("status").first).to_contain_text("1 answer saved")
    context.close()
