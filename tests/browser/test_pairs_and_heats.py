"""A list with bad rows is mended and imported, heats are filled, a pair is checked in."""

from playwright.sync_api import Page, expect

from nearmark.contest.heats import PLACES

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
    lead.get_by_role("button", name="Look at the rows").click()
    expect(lead.get_by_role("heading", level=1)).to_have_text("2 of 46 rows to mend")
    for row in BAD_ROWS:
        expect(lead.get_by_role("alert")).to_contain_text(f"Row {row}, School:")
    expect(lead.get_by_role("button", name="Import all")).to_have_count(0)

    lead.get_by_label("Paste the list").fill(listed(is_mended=True))
    lead.get_by_role("button", name="Look at the rows").click()
    lead.get_by_role("button", name="Import all").click()
    expect(lead.get_by_role("heading", level=1)).to_contain_text(f"{N_PAIRS} pairs from 12 schools")

    lead.goto("/heats/")
    lead.get_by_role("button", name="Fill school by school").click()
    n_heats = -(-N_PAIRS // PLACES)
    heading = lead.get_by_role("heading", level=1)
    expect(heading).to_have_text(f"{n_heats} heats, 0 of {N_PAIRS} pairs here")
    lead.get_by_role("button", name="Check in P01").click()
    expect(heading).to_have_text(f"{n_heats} heats, 1 of {N_PAIRS} pairs here")
