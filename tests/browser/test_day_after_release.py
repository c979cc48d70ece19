"""A mistake found after the release is put right, and everybody can see what changed."""

import pytest
from playwright.sync_api import Page, expect

pytestmark = pytest.mark.begins_with("invented_event")

RELEASE = "Release to everybody"


def place_of(page: Page, code: str) -> str:
    return (
        page.get_by_role("row").filter(has_text=code).first.get_by_role("cell").first.inner_text()
    )


def test_a_correction_after_release_is_seen_on_the_public_page(lead: Page, chromium, server):
    lead.goto("/standings/")
    lead.get_by_label("Reason").fill("the buses leave")
    lead.get_by_role("button", name=RELEASE).click()
    stranger = chromium.new_context(base_url=server.url).new_page()
    stranger.goto("/results/")
    first = stranger.get_by_role("row").nth(1).get_by_role("rowheader").inner_text()
    expect(stranger.get_by_role("heading", name="Corrections")).to_have_count(0)

    # The winner's largest container was typed with a digit too few.
    lead.goto("/corrections/")
    lead.get_by_label("Pair", exact=True).select_option(first)
    answer = lead.get_by_role("region", name="An answer was read wrongly")
    answer.get_by_label("Item").select_option("C3")
    answer.get_by_label("The paper shows").fill("1190")
    answer.get_by_label("Why it was wrong").fill("a digit was read twice")
    answer.get_by_role("button", name="See what it changes").click()
    expect(lead.get_by_role("heading", level=1)).to_have_text("Check before it counts")
    expect(lead.get_by_role("row").filter(has_text=first)).to_contain_text("1")
    stranger.reload()
    assert stranger.get_by_role("row").nth(1).get_by_role("rowheader").inner_text() == first
    lead.get_by_role("button", name="Correct it and release").click()
    expect(lead.get_by_role("status").first).to_contain_text("release 2")

    stranger.reload()
    put_right = stranger.get_by_role("region", name="Corrections")
    expect(put_right).to_contain_text(f"The answer of {first} on C3")
    expect(put_right).to_contain_text("1190 pieces now")
    expect(put_right).to_contain_text("A digit was read twice.")
    expect(put_right).to_contain_text(f"{first}: place 1 before")
    expect(put_right).not_to_contain_text("Juniper")
    assert place_of(stranger, first) != "1"

    stranger.get_by_role("link", name="Release 1").click()
    expect(stranger.get_by_text("do not count any more")).to_be_visible()
    assert place_of(stranger, first) == "1"
    stranger.context.close()


def test_the_big_screen_shows_the_podium_first_and_can_be_stopped(lead: Page, chromium, server):
    lead.goto("/standings/")
    lead.get_by_label("Reason").fill("the buses leave")
    lead.get_by_role("button", name=RELEASE).click()
    context = chromium.new_context(
        base_url=server.url, viewport={"width": 1280, "height": 720}, reduced_motion="reduce"
    )
    hall = context.new_page()
    hall.goto("/results/?screen=big")

    expect(hall.get_by_role("heading", name="The first three places")).to_be_visible()
    expect(hall.get_by_role("heading", name="All places")).to_be_hidden()
    hall.get_by_role("button", name="Next").click()
    expect(hall.get_by_role("heading", name="All places")).to_be_visible()
    expect(hall.get_by_text("Page 2 of")).to_be_visible()
    wider = hall.evaluate("document.documentElement.scrollHeight - innerHeight")
    assert wider <= 0, "a page of the hall's screen needs no scrolling"
    hall.get_by_role("button", name="Pause").click()
    expect(hall.get_by_role("button", name="Go on")).to_have_attribute("aria-pressed", "true")
    context.close()
