"""A list with bad rows is mended and imported, heats are filled, a pair is checked in."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from nearmark.contest.rules import PLACES

N_PAIRS = 46
BAD_ROWS = (12, 40)


def listed(*, is_mended: bool) -> str:
    """As copied from a spreadsheet; two rows lack their school."""
    rows = ["School\tChild 1\tChild 2"]
    for row in range(2, N_PAIRS + 2):
        school = "" if row in BAD_ROWS and not is_mended else f"School {row % 12 + 1}"
        rows.append(f"{school}\tAlder{row}\tBirch{row}")
    return "\n".join(rows)


def test_46_pairs_with_two_bad_rows_are_mended_imported_and_planned(lead: Page):
    lead.get_by_label("Name of the event").fill("Spring day")
    lead.get_by_label("Day", exact=True).fill("2027-05-08")
    lead.get_by_role("button", name="Begin", exact=True).click()
    lead.goto("/pairs/")
    lead.get_by_role("link", name="import a list").click()

    lead.get_by_label("Paste the list").fill(listed(is_mended=False))
    lead.get_by_role("button", name="Check the rows").click()
    expect(lead.get_by_role("heading", level=1)).to_have_text("2 of 46 rows to change")
    for row in BAD_ROWS:
        expect(lead.get_by_role("alert")).to_contain_text(f"Row {row}, School:")
    expect(lead.get_by_role("button", name="Import all")).to_have_count(0)

    lead.get_by_label("Paste the list").fill(listed(is_mended=True))
    lead.get_by_role("button", name="Check the rows").click()
    lead.get_by_role("button", name="Import all").click()
    expect(lead.get_by_role("heading", level=1)).to_contain_text(f"{N_PAIRS} pairs from 12 schools")

    lead.goto("/heats/")
    lead.get_by_role("button", name="Fill school by school").click()
    n_heats = -(-N_PAIRS // PLACES)
    heading = lead.get_by_role("heading", level=1)
    expect(heading).to_have_text(f"{n_heats} heats, 0 of {N_PAIRS} pairs here")
    lead.get_by_role("button", name="Check in P01").click()
    expect(heading).to_have_text(f"{n_heats} heats, 1 of {N_PAIRS} pairs here")


@pytest.mark.begins_with("invented_event")
def test_a_school_is_checked_in_by_one_touch_and_nothing_jumps(
    lead: Page, scorer: Callable[[str], Page], violations
):
    helper = scorer("Wren")
    expect(helper.get_by_text("Wren", exact=True)).to_be_visible()
    helper.goto("/heats/")
    lead.goto("/heats/")
    heading = helper.get_by_role("heading", level=1)
    expect(heading).to_contain_text("0 of 48 pairs here")

    school = helper.get_by_role("button", name="Saltmeadow End")
    school.scroll_into_view_if_needed()
    before = helper.evaluate("scrollY")
    school.click()
    expect(helper.get_by_role("status").first).to_contain_text("Saltmeadow End: ")
    expect(heading).to_contain_text("4 of 48 pairs here")
    expect(heading).to_be_in_viewport()
    assert helper.evaluate("scrollY") == before
    expect(school).to_have_count(0)
    # The other screen moves by itself.
    expect(lead.get_by_role("heading", level=1)).to_contain_text("4 of 48 pairs here")

    helper.get_by_role("button", name="Undo all 4").click()
    expect(heading).to_contain_text("0 of 48 pairs here")
    expect(school).to_be_visible()
    assert violations(helper) == []


@pytest.mark.begins_with("invented_event")
def test_a_pair_far_down_is_checked_in_where_one_is(lead: Page):
    lead.set_viewport_size({"width": 820, "height": 1180})
    lead.goto("/heats/")
    button = lead.get_by_role("button", name="Check in P40")
    button.scroll_into_view_if_needed()
    before = (lead.evaluate("scrollY"), button.bounding_box())

    button.click()

    undo = lead.get_by_role("button", name="undo P40", exact=True)
    expect(undo).to_be_focused()
    expect(lead.get_by_role("heading", level=1)).to_contain_text("1 of 48 pairs here")
    assert abs(lead.evaluate("scrollY") - before[0]) < 60
    box = undo.bounding_box()
    assert box is not None
    assert before[1] is not None
    assert abs(box["y"] - before[1]["y"]) < 60


@pytest.mark.begins_with("invented_event")
def test_codes_are_typed_one_after_the_other(lead: Page):
    lead.goto("/heats/")
    field = lead.get_by_label("Code, school or first name")
    field.click()

    for typed, said in (("P07-9", "P07 (Otterbrook Mill) is here."), ("8", "P08 (")):
        lead.keyboard.type(typed)
        lead.keyboard.press("Enter")
        expect(lead.get_by_role("status").first).to_contain_text(said)
        expect(field).to_be_focused()
        expect(field).to_have_value("")
    lead.keyboard.type("nobody")
    lead.keyboard.press("Enter")
    expect(lead.get_by_role("status").first).to_contain_text("is nobody of this event")
    expect(field).to_have_value("nobody")
