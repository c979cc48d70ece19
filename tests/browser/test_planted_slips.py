"""Each planted slip is asked about where it is typed, and the right value is not."""

import pytest
from playwright.sync_api import Page, ViewportSize, expect

pytestmark = pytest.mark.begins_with("invented_event")

SHOWN: tuple[ViewportSize, ...] = ({"width": 390, "height": 844}, {"width": 820, "height": 1180})


def add_item(lead: Page, code: str, station: str, material: str = "") -> None:
    lead.goto("/kit/")
    lead.get_by_label("Code").fill(code)
    lead.get_by_label("What it is").fill(f"thing {code}")
    lead.get_by_label("Station").select_option(station)
    if material:
        lead.get_by_label("Material").select_option(material)
    lead.get_by_role("button", name="Add", exact=True).click()


def asked(lead: Page, question: str) -> None:
    """The page asks and nothing is saved; it fits a phone and a tablet."""
    box = lead.locator(".doubt")
    expect(box).to_contain_text("Nothing is saved yet")
    expect(box.locator(".ask")).to_have_text(question)
    for size in SHOWN:
        lead.set_viewport_size(size)
        wider = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        assert lead.evaluate(wider) <= 0
    lead.set_viewport_size({"width": 1280, "height": 850})


def saved(lead: Page, words: str) -> None:
    expect(lead.get_by_role("status")).to_contain_text(words)
    expect(lead.locator(".doubt")).to_have_count(0)


def mass(lead: Page, label: str, grams: str) -> None:
    lead.get_by_label(label).first.fill(grams)
    lead.keyboard.press("Enter")


def sample(lead: Page, pieces: str, mass: str) -> None:
    lead.get_by_label("Pieces counted").first.fill(pieces)
    lead.get_by_label("Net mass, g").first.fill(mass)
    lead.keyboard.press("Enter")


def edge(lead: Page, reading: str) -> None:
    lead.get_by_label("Reading, cm").first.fill(reading)
    lead.keyboard.press("Enter")


def test_a_container(lead: Page):
    add_item(lead, "C8", "count", "rice")
    mass(lead, "Empty, g", "212.4")
    saved(lead, "empty 212.4 g")

    # Nobody's number of pieces is there before it was typed.
    expect(lead.get_by_label("Pieces counted").first).to_have_value("")
    sample(lead, "200", "42.9")
    asked(lead, "Is the decimal point in the wrong place: 4.29 g?")
    expect(lead.get_by_label("Net mass, g").first).to_have_value("42.9")
    sample(lead, "200", "4.29")
    saved(lead, "Now 1 sample of 200.")

    sample(lead, "150", "4.31")
    asked(lead, "Did you count 200 pieces?")
    # As many as last time by one press, which nobody has to take.
    lead.get_by_role("button", name="200 again").click()
    lead.keyboard.type("4.31")
    lead.keyboard.press("Enter")
    saved(lead, "Now 2 samples of 200.")

    sample(lead, "200", "216.6")
    asked(lead, "Was the empty container (212.4 g) left on the scale?")
    sample(lead, "200", "4.26")
    saved(lead, "Now 3 samples of 200.")

    # The form does not change under the hands: one goes on to the full container.
    expect(lead.get_by_label("Full, g")).to_be_hidden()
    lead.get_by_role("link", name="Next: weigh it full").press("Enter")
    mass(lead, "Full, g", "21.24")
    asked(lead, "Are full and empty exchanged, or is it another container?")
    mass(lead, "Full, g", "312.4")
    saved(lead, "full 312.4 g")


def test_75_for_100_is_kept_in_sight_until_it_is_struck_out(lead: Page):
    add_item(lead, "C9", "count", "chickpea")
    mass(lead, "Empty, g", "212.4")
    saved(lead, "empty 212.4 g")
    sample(lead, "75", "42.1")
    asked(lead, "Did you count 100 pieces?")
    lead.get_by_role("button", name="Save it as it is").click()
    expect(lead.get_by_role("status")).to_contain_text("Now 1 sample of 75.")

    odd = lead.locator(".undo.looks-odd")
    expect(odd).to_contain_text("Look again. 75 pieces, 42.1 g")
    sample(lead, "100", "42.3")
    expect(lead.get_by_role("status")).to_contain_text("Now 2 samples, 175 pieces.")
    # The odd reading is offered, not the last one.
    odd.get_by_role("button", name="miscounted").click()
    saved(lead, "Struck out")
    expect(lead.locator("tr.struck")).to_contain_text("sample of 75: 42.1 g")
    expect(lead.locator(".looks-odd")).to_have_count(0)


def test_a_box(lead: Page):
    add_item(lead, "B8", "volume")
    expect(lead.locator("#what-next")).to_have_text("Inside or outside?")
    lead.get_by_label("inside: the inner volume is asked for").check()
    lead.get_by_role("button", name="Save", exact=True).click()
    saved(lead, "read inside")

    for right in ("16.2", "16.3"):
        edge(lead, right)
        saved(lead, f"length {right} cm")
    edge(lead, "6.4")
    asked(lead, "Was it read in inches? That would be 16.3 cm.")
    edge(lead, "17.1")
    asked(lead, "Was this one read outside, with the walls?")
    edge(lead, "16.2")
    saved(lead, "length 16.2 cm")
    for right in ("12.1", "12.0", "12.1"):
        edge(lead, right)
        saved(lead, f"width {right} cm")
    edge(lead, "84")
    asked(lead, "Was it read in millimetres? That would be 8.4 cm.")
    edge(lead, "8.4")
    saved(lead, "height 8.4 cm")


def test_a_cup_and_a_decided_key(lead: Page):
    lead.goto("/kit/cups/")
    lead.get_by_label("Cups, one a line").fill("301 8.6\n302 86")
    lead.get_by_label("Batch").first.fill("thick")
    lead.get_by_role("button", name="Add all").click()
    asked(lead, "Is the decimal point in the wrong place: 8.6 g?")
    lead.get_by_label("Cups, one a line").fill("301 8.6\n302 8.6")
    lead.get_by_role("button", name="Add all").click()
    saved(lead, "2 cups were added")

    lead.goto("/kit/")
    lead.get_by_role("link", name="C3", exact=True).click()
    lead.get_by_text("Decide anyway").click()
    lead.get_by_label("Another value").fill("24312")
    lead.locator("#decide-why").fill("as written on the bag")
    lead.get_by_role("button", name="Decide").click()
    asked(lead, "Is one digit wrong: 14312?")
    lead.get_by_label("Another value").fill("14312")
    lead.get_by_role("button", name="Decide").click()
    saved(lead, "Decided")
