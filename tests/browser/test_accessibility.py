"""axe-core finds nothing on any page, by day, by night, on a phone; nothing runs off the side."""

import pytest
from playwright.sync_api import Page

PAGES = (
    "/event/",
    "/kit/",
    *(f"/kit/{name}/" for name in ("materials", "purchase", "cups", "scales", "cautions")),
    "/kit/pour/?item=C2&material=elbow-pasta&vessel=jar-1000&band=medium",
    "/kit/thing/scale/1/",
    "/pairs/",
    "/pairs/7/",
    "/event/change/",
    "/entry/",
    "/pairs/import/",
    "/heats/",
    "/heats/?pair=P07",
    "/day-plan/",
    "/paper/",
    "/audit/",
    "/points/",
    "/corrections/",
    "/exports/",
    "/clock/",
    "/clock/control/",
    "/weigh-in/",
    "/differences/",
    "/standings/",
    "/devices/",
    "/doctor/",
    "/history/",
    "/jobs/",
    "/results/",
    "/verify/",
    "/kit/seal/",
    "/help/",
    *(f"/help/{name}/" for name in ("event-day", "kit-room", "command-line", "site")),
    "/help/search/?q=weigh+cup",
    "/help/search/?q=zzzz",
    "/nowhere/",
)
MAX_BYTES = 250_000
"""Of a page with everything it loads."""


def test_every_page_is_clean_in_each_view_and_light_and_asks_no_other_host(
    lead: Page, server, violations, in_every_view
):
    found, heavy = violations(lead), []
    asked: list[str] = []
    lead.on("request", lambda request: asked.append(request.url))
    lead.get_by_role("button", name="Open the invented event").click()
    lead.goto("/kit/")
    item = str(lead.get_by_role("link", name="C3", exact=True).get_attribute("href"))
    for address in (*PAGES, item, f"{item}history/"):
        lead.goto(address)
        loaded = lead.evaluate("performance.getEntries().map(e => e.decodedBodySize || 0)")
        if sum(loaded) > MAX_BYTES:
            heavy.append((address, sum(loaded)))
        found += in_every_view(lead)

    assert found == []
    assert heavy == []
    assert [url for url in asked if not url.startswith(server.url)] == []


@pytest.mark.begins_with("invented_event")
def test_the_clock_has_no_violation_in_its_last_minutes(lead: Page, in_every_view):
    lead.goto("/clock/control/")
    lead.get_by_label("Minutes").fill("5")
    lead.get_by_role("button", name="Start the clock").click()
    found = []
    for address in ("/clock/", "/clock/control/"):
        lead.goto(address)
        found += in_every_view(lead)

    assert found == []


def test_the_doors_have_no_violation(lead: Page, chromium, server, violations):
    assert lead.get_by_role("heading", level=1).inner_text() == "Begin an event"
    context = chromium.new_context(base_url=server.url)
    stranger = context.new_page()
    found = []
    for address in ("/sign-in/", "/join/", "/results/"):
        stranger.goto(address)
        found += violations(stranger)
    context.close()

    assert found == []


def test_axe_would_say_so_if_there_were_a_violation(lead: Page, violations):
    lead.evaluate("document.querySelector('label[for=id_name]').remove()")

    assert [v for v in violations(lead) if " label: " in v]
