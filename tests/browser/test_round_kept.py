"""A round that is typed and not saved outlives a reload, a dead tablet and a lost answer."""

import pytest
from playwright.sync_api import Page, Route, expect

pytestmark = pytest.mark.begins_with("invented_season")

KEPT = "Object.keys(localStorage).filter(name => name.startsWith('nearmark-round:')).length"
UNTIL_KEPT = f"""async (n_kept) => {{
  for (let n = 0; n < 600 && {KEPT} !== n_kept; n++) await new Promise(requestAnimationFrame);
}}"""
"""At most ten seconds; a wait of the browser's driver would be refused by the site's policy."""


def open_round(page: Page) -> None:
    page.goto("/season/")
    page.get_by_role("link", name="Log a round with it").click()


def saved_and_lost(route: Route) -> None:
    route.fetch(max_redirects=0)
    route.abort()


def typed(page: Page) -> list[str]:
    return [field.input_value() for field in page.locator("[data-estimate]").all()]


def test_a_typed_round_comes_back_until_it_is_saved(lead: Page, server):
    open_round(lead)
    address = lead.url
    attempts = lead.url.split("round/")[0] + "log/"
    lead.get_by_label("Juno", exact=True).fill("200")
    kai = lead.locator(".rows li").filter(has_text="Kai")
    kai.locator("summary").click()
    for field in kai.locator("input[inputmode]").all():
        field.fill("12")

    # A reload.
    lead.reload()
    expect(lead.get_by_text("and not saved yet: it is back")).to_be_visible()
    assert typed(lead)[:2] == ["200", "12"]
    assert kai.locator(".parts input").first.input_value() == "12"
    expect(kai.locator("details")).to_have_attribute("open", "")

    # A tablet that died, and a server that was away meanwhile.
    context = lead.context
    lead.close()
    server.stop()
    server.start()
    page = context.new_page()
    page.goto(address.split("?")[0])
    page.locator("#rounds-kept").get_by_role("link").click()
    expect(page.get_by_text("and not saved yet: it is back")).to_be_visible()
    assert typed(page)[:2] == ["200", "12"]

    # The server has saved it, and the answer is lost on its way: it does not come back.
    page.route("**/round/save/", saved_and_lost)
    with page.expect_event("requestfailed", lambda request: request.method == "POST"):
        page.get_by_role("button", name="Save the round").click()
    page.unroute("**/round/save/")
    assert page.context.storage_state()["origins"], "it is kept until the server has spoken"
    page.goto(address)
    page.evaluate(UNTIL_KEPT, 0)
    assert page.evaluate(KEPT) == 0
    assert set(typed(page)) == {""}

    # And where the server says so at once, it goes at once.
    page.get_by_label("Wren", exact=True).fill("210")
    page.get_by_role("button", name="Save the round").click()
    expect(page.get_by_text("1 attempt is saved.")).to_be_visible()
    assert page.evaluate(KEPT) == 0
    page.goto(attempts)
    assert page.get_by_role("row").filter(has_text="12").filter(has_text="Kai").count() >= 1
    today = page.locator("tbody tr").first.locator("th, td").first.inner_text()
    assert page.get_by_role("row").filter(has_text=today).count() == 3


def test_a_typed_round_is_shown_to_nobody_else_and_goes_with_the_session(lead: Page):
    open_round(lead)
    page = lead
    page.get_by_label("Juno", exact=True).fill("7")
    page.evaluate(UNTIL_KEPT, 1)
    name = page.evaluate("Object.keys(localStorage).find(n => n.startsWith('nearmark-round:'))")
    reader, rest = name.removeprefix("nearmark-round:").split(":", 1)
    page.evaluate(
        "([a, b]) => { localStorage.setItem(b, localStorage.getItem(a)); "
        "localStorage.removeItem(a) }",
        [name, f"nearmark-round:{int(reader) + 1}:{rest}"],
    )
    page.reload()
    assert set(typed(page)) == {""}
    assert page.evaluate(KEPT) == 0
    page.get_by_label("Juno", exact=True).fill("8")
    page.evaluate(UNTIL_KEPT, 1)
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    assert page.evaluate(KEPT) == 0


def test_what_is_typed_before_the_script_runs_is_kept_too(lead: Page):
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    lead.route("**/round_kept.js", hold)
    open_round(lead)
    lead.get_by_label("Juno", exact=True).fill("7")
    assert lead.evaluate(KEPT) == 0
    held[0].continue_()
    lead.evaluate(UNTIL_KEPT, 1)
    assert lead.evaluate(KEPT) == 1
