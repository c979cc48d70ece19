"""The season room in a browser: a round by keyboard and by touch, the pages of pupil and pair."""

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.begins_with("invented_season")


@pytest.fixture
def season(lead: Page) -> Page:
    """The lead's page at the club of the invented season."""
    return lead


def test_a_round_is_logged_in_one_screen_by_keyboard(season: Page):
    season.get_by_role("link", name="Choose another thing").click()
    season.get_by_role("link", name="jar of buttons").click()
    expect(season.get_by_text("have seen its true value")).to_be_visible()
    thing = season.get_by_role("heading", level=1).inner_text()
    expect(season.get_by_label("Juno", exact=True)).to_be_focused()

    for estimate in ("200", "250", "", "270", "265", "900"):
        season.keyboard.type(estimate)
        season.keyboard.press("Enter")
    expect(season.get_by_role("button", name="Save the round")).to_be_focused()
    season.context.set_offline(True)
    season.keyboard.press("Enter")
    expect(season.get_by_text("No link: nothing is lost")).to_be_visible()
    season.context.set_offline(False)
    season.get_by_role("button", name="Save the round").press("Enter")

    expect(season.get_by_text("5 attempts are saved.")).to_be_visible()
    expect(season.get_by_role("heading", level=1)).to_have_text(thing)
    expect(season.locator(".answer")).to_contain_text("265")
    # Wren said 265 of 265.
    wren = season.locator(".outcomes li").filter(has_text="Wren")
    expect(wren).to_contain_text("100 points")
    expect(season.locator(".outcomes svg")).to_have_count(5)
    wren.get_by_text("Undo").click()
    wren.get_by_label("What was wrong").fill("typed in the wrong row")
    wren.get_by_role("button", name="Strike it out").click()
    expect(season.locator(".outcomes li")).to_have_count(4)


def test_a_round_is_logged_by_touch_and_every_page_is_clean(
    season: Page, chromium, server, views, violations, in_every_view
):
    state, club = season.context.storage_state(), season.url
    phone = chromium.new_context(
        base_url=server.url, storage_state=state, has_touch=True, **views["phone"]
    )
    page = phone.new_page()
    page.goto(club)
    page.get_by_role("link", name="Choose another thing").tap()
    page.get_by_role("link", name="tea box").tap()
    field = page.get_by_label("Kai", exact=True)
    assert field.get_attribute("inputmode") == "decimal"
    field.tap()
    field.fill("600")
    row = page.locator(".rows li").filter(has_text="Kai")
    row.locator("summary").tap()
    for part, cm in (("length", "12"), ("width", "8"), ("height", "6.25")):
        row.get_by_label(f"Kai, {part}, cm").fill(cm)
    page.get_by_role("button", name="Save the round").tap()
    expect(page.get_by_text("1 attempt is saved.")).to_be_visible()
    done = page.url
    page.get_by_role("link", name="Kai").first.tap()
    # What to do next, what it is worth and the button are in sight at once; the rest is folded.
    expect(page.get_by_text("What would bring most")).to_be_in_viewport()
    expect(page.get_by_text("Worth about", exact=False).first).to_be_in_viewport()
    expect(page.get_by_role("link", name="Log a round")).to_be_in_viewport(ratio=1)
    expect(page.locator("summary", has_text="Count, small")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollHeight") < 2.5 * 844
    pupil = page.url
    phone.close()

    season.locator("#pairs").get_by_role("link").first.click()
    expect(season.get_by_text("no other way is a point better").first).to_be_visible()
    pair, found = season.url, []
    rounds = f"{club}round/"
    for address in ("/season/", club, rounds, f"{club}things/", done, pupil, pair):
        season.goto(address)
        found += in_every_view(season)
    season.goto(rounds)
    season.locator(".things a").first.click()
    found += in_every_view(season)
    # The log is the same table row after row: once does.
    season.set_viewport_size(views["phone"]["viewport"])
    season.goto(f"{club}log/")
    found += violations(season)

    assert found == []


def test_progress_is_seen_and_a_ladder_is_climbed_by_typing(season: Page, in_every_view):
    club = season.url
    progress = season.locator("#progress")
    expect(progress.get_by_text("No clear change at mass, count and volume.")).to_be_visible()
    expect(progress.get_by_role("img", name="First four weeks and last four weeks")).to_be_visible()
    season.locator("#pupils").get_by_role("link", name="Juno").click()
    season.get_by_text("Progress", exact=True).first.click()
    progress.get_by_text("In numbers").click()
    expect(progress.get_by_text("points in the first four weeks")).to_have_count(3)
    pupil = season.url

    season.get_by_role("link", name="Scoop ladder").click()
    # The glass is what fools Juno.
    expect(season.locator(".to-do")).to_contain_text("into a glass: 50 g.")
    expect(season.get_by_text("now both weigh the same")).to_be_visible()
    expect(season.get_by_label("Try")).to_be_focused()
    season.keyboard.type("cup 2: 87 -> 100")
    season.keyboard.press("Enter")
    expect(season.get_by_text("the mass asked for must be 50, 100 or 150 g")).to_be_visible()
    field = season.get_by_label("Try")
    expect(field).to_have_value("cup 2: 87 -> 100")
    field.fill("cup 2: 100 -> 87")
    field.press("Enter")
    expect(season.get_by_text("87 g for 100 g: 13 g too little, 87 points.").first).to_be_visible()
    season.get_by_label("Try").fill("41")
    season.keyboard.press("Enter")
    expect(season.get_by_text("41 g for 50 g: 9 g too little, 82 points.").first).to_be_visible()
    ladder, found = season.url, []
    for address in (club, pupil, ladder):
        season.goto(address)
        for fold in season.locator("main details > summary").all():
            if fold.is_visible():
                fold.click()
        found += in_every_view(season)

    assert found == []
