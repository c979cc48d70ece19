"""The clock of the hall in a real browser: readable, true after a reload, a sleep, a lost link."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

pytestmark = pytest.mark.begins_with("invented_event")

PROJECTOR: ViewportSize = {"width": 1920, "height": 1080}
SLACK_S = 3
"""Between two readings of the page, on a busy machine."""

HEIGHT_OF_A_DIGIT = """() => {
  const left = document.querySelector('[data-part="left"]');
  const pen = document.createElement('canvas').getContext('2d');
  const style = getComputedStyle(left);
  pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
  return pen.measureText('8').actualBoundingBoxAscent / innerHeight;
}"""


@pytest.fixture
def hall(chromium: Browser, server) -> Iterator[Page]:
    """The projector, where nobody has signed in."""
    context = chromium.new_context(base_url=server.url, viewport=PROJECTOR)
    context.set_default_timeout(20_000)
    page = context.new_page()
    page.goto("/clock/")
    yield page
    context.close()


def start(lead: Page, minutes: int) -> None:
    lead.goto("/clock/control/")
    lead.get_by_label("Minutes").fill(str(minutes))
    lead.get_by_role("button", name="Start the clock").click()
    expect(lead.get_by_role("status")).to_contain_text("has started")


def seconds_left(page: Page) -> int:
    minutes, seconds = page.get_by_role("timer").inner_text().split(":")
    return int(minutes) * 60 + int(seconds)


def test_the_hall_sees_the_start_and_a_reload_keeps_the_time(lead: Page, hall: Page):
    expect(hall.get_by_text("Find your place.")).to_be_visible()

    start(lead, 30)
    expect(hall.get_by_role("heading", name="Heat 1")).to_be_visible()
    expect(hall.get_by_text("Estimate.", exact=True)).to_be_visible()
    expect(hall.get_by_role("timer")).to_have_text(re.compile(r"29:5[0-7]"))
    before = seconds_left(hall)
    hall.reload()

    assert before - SLACK_S <= seconds_left(hall) <= before
    assert abs(seconds_left(hall) - seconds_left(lead)) <= SLACK_S


def test_the_figures_are_over_two_fifths_of_the_screen_s_height(lead: Page, hall: Page):
    start(lead, 99)
    expect(hall.get_by_role("timer")).to_have_text(re.compile("98:"))

    assert hall.evaluate("document.fonts.check('700 20px \"Atkinson Hyperlegible\"')")
    assert hall.evaluate(HEIGHT_OF_A_DIGIT) > 0.4
    assert hall.evaluate("document.documentElement.scrollHeight <= innerHeight")
    assert hall.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_the_last_minutes_are_told_by_word_and_shape(lead: Page, hall: Page):
    start(lead, 5)

    expect(hall.get_by_text("Last 5 minutes.")).to_be_visible()
    frame = "getComputedStyle(document.querySelector('main')).borderTopStyle"
    assert hall.evaluate(frame) == "dashed"


def test_stopping_asks_first_and_the_hall_is_told(lead: Page, hall: Page):
    start(lead, 20)
    lead.get_by_text("Stop heat 1").click()
    lead.get_by_role("button", name="Stop it").click()
    expect(hall.get_by_role("timer")).not_to_have_text("0:00")

    lead.get_by_label("Yes, end it for everybody now").check()
    lead.get_by_role("button", name="Stop it").click()

    expect(hall.get_by_text("Time is up.")).to_be_visible()
    expect(hall.get_by_role("timer")).to_have_text("0:00")
    expect(hall.get_by_text("Next: heat 2")).to_be_visible()


def test_a_pause_is_seen_in_the_hall_and_goes_on(lead: Page, hall: Page, violations):
    start(lead, 20)
    expect(hall.get_by_text("Ends at")).to_be_visible()

    lead.get_by_label("Reason for a pause").fill("fire alarm")
    lead.get_by_role("button", name="Pause for everybody").click()

    expect(hall.get_by_text("Paused.")).to_be_visible()
    expect(hall.get_by_text("Ends at")).to_be_hidden()
    assert hall.evaluate("getComputedStyle(document.querySelector('main')).borderTopStyle") == (
        "dotted"
    )
    held = hall.get_by_role("timer").inner_text()
    lead.reload()
    expect(lead.get_by_role("timer")).to_have_text(held)
    assert violations(lead) + violations(hall) == []

    lead.get_by_role("button", name="Go on with heat 1").click()
    expect(hall.get_by_text("Estimate.", exact=True)).to_be_visible()
    expect(hall.get_by_role("timer")).not_to_have_text(held)


def test_without_a_link_the_clock_goes_on_and_says_so(lead: Page, hall: Page, server):
    start(lead, 20)
    expect(hall.get_by_text("Estimate.", exact=True)).to_be_visible()

    server.stop()
    expect(hall.get_by_text("No connection to the server.")).to_be_visible(timeout=30_000)
    cut = seconds_left(hall)
    expect(hall.get_by_role("timer")).not_to_have_text(f"{cut // 60}:{cut % 60:02}")
    server.start()

    expect(hall.get_by_text("No connection to the server.")).to_be_hidden()
    assert seconds_left(hall) > 18 * 60


def test_a_sleep_of_the_projector_is_made_up_for(lead: Page, hall: Page):
    hall.context.clock.install()
    hall.reload()
    start(lead, 20)
    expect(hall.get_by_text("Estimate.", exact=True)).to_be_visible()

    # The page's own clocks jump, the server's do not: the next answer puts it right.
    hall.context.clock.fast_forward("12:00")

    expect(hall.get_by_role("timer")).to_have_text(re.compile(r"19:\d\d"))


def test_sound_is_off_until_it_is_asked_for(hall: Page):
    button = hall.get_by_role("button", name="Sound: off")
    assert button.get_attribute("aria-pressed") == "false"

    button.click()

    expect(hall.get_by_role("button", name="Sound: on")).to_have_attribute("aria-pressed", "true")


def test_the_clock_works_without_script(lead: Page, chromium, server):
    start(lead, 30)
    context = chromium.new_context(base_url=server.url, java_script_enabled=False)
    page = context.new_page()
    page.goto("/clock/")

    assert 29 * 60 <= seconds_left(page) <= 30 * 60
    assert page.locator("noscript meta[http-equiv=refresh]").count() or "refresh" in page.content()
    context.close()
