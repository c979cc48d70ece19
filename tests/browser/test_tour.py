"""A new lead takes the tour of the invented event and does what each step says."""

from playwright.sync_api import Page, expect


def step(lead: Page, number: int, heading: str) -> None:
    """Where the tour is, and that a reload keeps it."""
    expect(bar(lead)).to_contain_text(f"Step {number} of 6")
    lead.reload()
    expect(bar(lead)).to_contain_text(f"Step {number} of 6")
    expect(lead.get_by_role("main").get_by_role("heading", level=1)).to_contain_text(heading)


def bar(lead: Page):
    return lead.get_by_role("region", name="Tour of the invented event")


def go_on(lead: Page) -> None:
    """By keyboard: the bar comes first after each step."""
    bar(lead).get_by_role("button", name="Next").focus()
    with lead.expect_navigation():
        lead.keyboard.press("Enter")
    expect(bar(lead)).to_be_focused()


def count_c1_again(lead: Page) -> None:
    """Strike the slip out on the page of C1, and type the counts of two people."""
    lead.get_by_role("button", name="typed wrong").first.click()
    expect(lead.get_by_role("status").first).to_be_visible()
    for counter in ("Wren", "Sol"):
        form = lead.locator("form[action$='/add/hand-count/']").last
        if not form.is_visible():
            lead.locator("details:has(form[action$='/add/hand-count/']) > summary").last.click()
        form.locator("[name=counter]").fill(counter)
        form.locator("[name=pieces]").fill("421")
        lead.keyboard.press("Enter")
        expect(lead.get_by_role("status")).to_contain_text(f"counted by {counter}")


def put_c1_right(lead: Page) -> None:
    lead.get_by_role("link", name="C1", exact=True).click()
    expect(bar(lead)).to_contain_text("go to Items and keys")
    count_c1_again(lead)
    expect(lead.locator("p > .verdict")).to_have_text("fit")


def check_a_school_in(lead: Page) -> None:
    lead.locator("button[name=school][value=Quillbank]").click()
    expect(lead.locator("button[name=school][value=Quillbank]")).to_have_count(0)


def weigh_again(lead: Page) -> None:
    lead.get_by_text("Undo a hand-in", exact=True).click()
    lead.locator("#undo-pair").select_option("P49")
    lead.get_by_label("What was wrong").fill("to try it")
    lead.get_by_role("button", name="Strike it out").click()
    # Only the next page says this; the page that was left can still renew its count.
    expect(lead.get_by_role("status").first).to_contain_text("P49")
    expect(lead.get_by_text("47 of 48 cups are in")).to_be_visible()
    expect(lead.locator("#keypad-switch")).to_be_visible()  # the script of the page is there
    lead.get_by_role("textbox", name="Pair").fill("P49")
    lead.get_by_label("Cup number").fill("48")
    lead.get_by_label("Scale shows, g").fill("1036")
    lead.get_by_role("button", name="Save this cup").click()
    expect(lead.locator("#told")).to_contain_text("103.6 g?")


def settle_the_difference(lead: Page) -> None:
    lead.get_by_label("2710").check()
    lead.get_by_role("button", name="Decide").click()
    expect(lead.get_by_role("status")).to_contain_text("P09, C2 is decided")


def release(lead: Page) -> None:
    expect(lead.locator("#sure")).to_contain_text("of 100 draws")
    lead.get_by_label("Reason").fill("a tour")
    lead.get_by_role("button", name="Release to everybody").click()
    expect(lead.get_by_role("heading", name="Take the results back")).to_be_visible()


def test_six_steps_are_walked_with_real_data(lead: Page, violations, in_every_view):
    lead.get_by_role("button", name="Open the invented event").click()
    found = violations(lead)
    lead.get_by_role("button", name="Start the tour").click()
    walk = (
        ("Kit", put_c1_right),
        ("heats", check_a_school_in),
        ("Weigh-in", weigh_again),
        ("read in two ways", settle_the_difference),
        ("Standings", release),
        ("Larkspur Valley", None),
    )
    for number, (heading, task) in enumerate(walk, 1):
        step(lead, number, heading)
        found += in_every_view(lead) if number == 1 else violations(lead)
        if task:
            task(lead)
            go_on(lead)
    assert found == []

    expect(bar(lead)).to_contain_text("The results are out")
    expect(lead.get_by_role("main")).to_contain_text("P31")
    bar(lead).get_by_role("button", name="Back").click()
    step(lead, 5, "Standings")
    bar(lead).get_by_role("button", name="End the tour").click()
    expect(bar(lead)).to_have_count(0)
    # Once more, with everything done: no step speaks of what is no longer to be done.
    lead.get_by_role("button", name="Start the tour").click()
    step(lead, 1, "Kit")
    expect(bar(lead)).to_contain_text("nothing can be changed here until you take them back")
