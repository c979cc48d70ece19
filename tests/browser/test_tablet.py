"""A heat on a tablet by our own keypad: cups, answers, and the second person."""

from playwright.sync_api import Page, expect

THUMB_PX = 56
CODES = ("P01", "P02")


def press(page: Page, signs: str | list[str]) -> None:
    keypad = page.get_by_role("group", name="Keypad")
    for sign in signs:
        name = {".": "decimal mark"}.get(sign, sign)
        keypad.get_by_role("button", name=name, exact=True).tap()


def begin(lead: Page) -> None:
    """Two pairs, a jar, a cup on the scale."""
    lead.get_by_label("Name of the event").fill("Spring day")
    lead.get_by_label("Day", exact=True).fill("2027-05-08")
    lead.get_by_role("button", name="Begin", exact=True).click()
    for code, name, station in (("M1", "scoop of lentils", "mass"), ("C1", "jar", "count")):
        lead.goto("/kit/")
        form = lead.locator("form").filter(has=lead.get_by_label("What it is"))
        form.get_by_label("Code").fill(code)
        form.get_by_label("What it is").fill(name)
        form.get_by_label("Station").select_option(station)
        form.get_by_role("button", name="Add").click()
    lead.goto("/kit/cups/")
    lead.get_by_label("Cups, one a line").fill("7 24.1\n8 24.1")
    form = lead.locator("form").filter(has=lead.get_by_label("Cups, one a line"))
    form.locator("button").first.click()
    for school, first in (("Quillbank", "Ada"), ("Fernhollow", "Bo")):
        lead.goto("/pairs/")
        lead.get_by_label("School").fill(school)
        lead.get_by_label("First child").fill(first)
        lead.get_by_role("button", name="Add", exact=True).click()


def weigh(page: Page, cups: tuple[str, str]) -> None:
    page.goto("/weigh-in/")
    for code, cup in zip(CODES, cups, strict=True):
        for signs in (code, cup, "131.2"):
            press(page, signs)
            press(page, ["next"])
        expect(page.locator("#told")).to_contain_text(f"131.2 g in cup {cup} saved")


def enter(page: Page, answers: tuple[str, str]) -> None:
    page.goto("/entry/")
    for code, number in zip(CODES, answers, strict=True):
        press(page, code[-1])
        press(page, ["next"])
        press(page, number)
        press(page, ["next"])
        expect(page.locator("#told")).to_have_text(f"{code}, C1: {number} saved")


def test_a_heat_is_weighed_and_read_twice_by_the_keypad(lead: Page, tablet):
    begin(lead)
    ash, birch = tablet("Ash"), tablet("Birch")

    weigh(ash, ("7", "8"))
    # The system's keyboard stays away, and every key is a thumb wide.
    assert ash.get_by_label("Pair", exact=True).get_attribute("inputmode") == "none"
    sizes = ash.locator("#keypad button").evaluate_all(
        "keys => keys.map(k => Math.min(k.offsetWidth, k.offsetHeight))"
    )
    assert min(sizes) >= THUMB_PX
    weigh(birch, ("7", "8"))
    enter(ash, ("5900", "5400"))
    enter(birch, ("5900", "5400"))

    lead.goto("/event/")
    expect(lead.get_by_text("0 missing, 0 read once, 0 read differently")).to_be_visible()


def test_a_second_cup_of_a_pair_is_refused_in_words_and_the_lead_undoes(lead: Page, tablet):
    begin(lead)
    ash, birch = tablet("Ash"), tablet("Birch")
    weigh(ash, ("7", "8"))

    birch.goto("/weigh-in/")
    for signs in ("P01", "8", "130"):
        press(birch, signs)
        press(birch, ["next"])
    expect(birch.locator("#told")).to_contain_text("P01 has handed in cup 7 already")

    lead.goto("/weigh-in/")
    lead.get_by_text("Undo a hand-in").click()
    lead.get_by_label("What was wrong").fill("wrong cup")
    lead.get_by_role("button", name="Strike it out").click()
    expect(lead.get_by_text("1 of 2 cups are in")).to_be_visible()
