"""One list of open points on the day: an audit difference, put right, and a second release."""

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.begins_with("invented_event")

PAGES = ("/event/", "/points/", "/audit/", "/audit/read/", "/standings/", "/exports/", "/kit/")
WIDTHS = (390, 820, 1366)


def open_ids(page: Page, address: str) -> list[str]:
    page.goto(address)
    return page.locator("[data-point]").evaluate_all("all => all.map(one => one.dataset.point)")


def fill_sheet(page: Page, value: str) -> None:
    """Type the same number for everything that is written on the sheet."""
    for field in page.locator("input[name^=v-][required]").all():
        field.fill(value)


def test_an_audit_difference_is_an_open_point_until_it_is_put_right(lead: Page, violations):
    before = open_ids(lead, "/points/")
    lead.goto("/audit/")
    expect(lead.get_by_text("This will draw 14 of")).to_be_visible()
    lead.get_by_label("What the dice show").fill("416225")
    lead.get_by_role("button", name="Draw the sheets").click()
    lead.get_by_role("link", name="Read the next sheet").click()
    code = lead.locator("input[name=pair]").get_attribute("value")
    fill_sheet(lead, "1234")
    lead.get_by_role("button", name=f"Save {code}").click()
    expect(lead.get_by_role("status").first).to_contain_text("is not what was typed")
    new = [point for point in open_ids(lead, "/points/") if point not in before]
    assert {point.split(":")[0] for point in new} == {"audit"}

    found = []
    for address in PAGES:
        ids = open_ids(lead, address)
        assert ids == before + new or address == "/audit/read/", address
        for width in WIDTHS:
            lead.set_viewport_size({"width": width, "height": 844})
            assert lead.evaluate("document.documentElement.scrollWidth") <= width, address
        # Only the style sheet knows the width; test_accessibility looks at each view.
        found += violations(lead)
    assert found == []

    # Each leads to a correction that is filled in.
    for point in new:
        lead.goto("/points/")
        line = lead.locator(f'[data-point="{point}"]')
        line.get_by_role("link", name="Correct it").click()
        answer = lead.get_by_role("region", name="An answer was read wrongly")
        expect(answer.get_by_label("The paper shows")).to_have_value("1234")
        answer.get_by_label("Why it was wrong").fill("the audit found it")
        answer.get_by_role("button", name="See what it changes").click()
        lead.get_by_role("button", name="Correct it").click()
    assert [p for p in open_ids(lead, "/points/") if p.startswith("audit")] == []


def test_a_point_closed_with_a_reason_is_gone_and_release_two_is_not_provisional(
    lead: Page, violations
):
    n_before = len(open_ids(lead, "/points/"))
    lead.goto("/points/")
    first = lead.locator("[data-point]").first
    first.get_by_text("Close it with a reason").click()
    first.get_by_label("Reason").fill("looked at it again")
    first.get_by_role("button", name="Close this point").click()
    expect(lead.get_by_text("Looked at it again.")).to_be_visible()
    assert len(open_ids(lead, "/event/")) == n_before - 1
    lead.goto("/points/")
    found = violations(lead)

    lead.goto("/standings/")
    expect(lead.get_by_role("heading", level=1)).to_have_text("Standings, provisional")
    lead.get_by_label("Reason").fill("the buses leave")
    lead.get_by_role("button", name="Release to everybody").click()
    lead.goto("/corrections/")
    answer = lead.get_by_role("region", name="An answer was read wrongly")
    answer.get_by_label("Item").select_option("C2")
    answer.get_by_label("The paper shows").fill("2345")
    answer.get_by_label("Why it was wrong").fill("a digit was read twice")
    answer.get_by_role("button", name="See what it changes").click()
    lead.get_by_role("button", name="Correct it and release").click()
    lead.goto("/standings/")
    expect(lead.get_by_role("heading", level=1)).to_have_text("Standings, release 2")
    lead.goto("/exports/")
    expect(lead.get_by_text("Release 2,")).to_be_visible()

    assert found == []
