"""A new lead, from an empty site to a second release, with the slips of a real day.

The lead works on a laptop with the keyboard, the helpers on tablets: one with a finger, the other
with a keyboard.  Planted: a mass of 1043 g, a cup handed in twice, a key decided wrongly, a sheet
typed differently from the paper, a tie, two sheets of one pair, a pair that comes late.  Each is
asked about or shown where it is made.
"""

import zipfile
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from nearmark.contest.results import results
from nearmark.event_folder import read_event
from nearmark.event_folder.verify import verify_folder

PAIRS = """school\tfirst child\tsecond child
Fernhollow\tAda\tBo
Fernhollow\tCleo\tDov
Quillbank\tEsi\tFinn
Quillbank\tGale\tHana"""
COUNTED = {"P01": "400", "P02": "400", "P03": "380", "P04": "300", "P05": "500"}
BOXED = {"P01": "3500", "P02": "3500", "P03": "3300", "P04": "3000", "P05": "4000"}
CUPS = {"P01": "1", "P02": "2", "P03": "3", "P04": "4", "P05": "5"}
GROSS = {"P01": "113.0", "P02": "113.1", "P03": "104.3", "P04": "120.0", "P05": "98.0"}
"""P01 and P02 are equal in everything, net of their cups: a tie."""

MISREAD = "330"
"""What both readers make of the 380 of P03."""

MAX_TAPS = 22


def tap(page: Page, signs: str) -> int:
    """Tap signs on the keypad; how many taps that took."""
    keypad = page.get_by_role("group", name="Keypad")
    for sign in signs:
        name = {".": "decimal mark", "\n": "next"}.get(sign, sign)
        keypad.get_by_role("button", name=name, exact=True).tap()
    return len(signs)


def strike(page: Page, signs: str) -> int:
    """Strike keys of a keyboard; how many."""
    for key in signs:
        page.keyboard.press({"\n": "Enter"}.get(key, key))
    return len(signs)


Hand = Callable[[Page, str], int]


def with_field(page: Page, label: str) -> Locator:
    """The form that has this field."""
    return page.locator("form").filter(has=page.get_by_label(label, exact=True)).first


def begin_event(lead: Page) -> None:
    lead.get_by_label("Name of the event").fill("Spring day")
    lead.get_by_label("Day", exact=True).fill("2027-05-08")
    lead.keyboard.press("Enter")
    expect(lead.get_by_text("The event is there.")).to_be_visible()


def add_item(lead: Page, code: str, name: str, station: str) -> None:
    lead.goto("/kit/")
    form = with_field(lead, "What it is")
    form.get_by_label("Code").fill(code)
    form.get_by_label("What it is").fill(name)
    form.get_by_label("Station").select_option(station)
    form.get_by_role("button", name="Add").click()


def count_by_two(lead: Page) -> None:
    """Two people count all pieces; the second count settles the key."""
    for pieces, counter in (("412", "Ash"), ("412", "Birch")):
        form = lead.locator("form[action$='/add/hand-count/']").last
        if not form.is_visible():
            lead.locator("details:has(form[action$='/add/hand-count/']) > summary").last.click()
        form.locator("[name=counter]").fill(counter)
        form.locator("[name=pieces]").fill(pieces)
        lead.keyboard.press("Enter")
        expect(lead.get_by_role("status")).to_contain_text(f"counted by {counter}")
    expect(lead.locator("p > .verdict")).to_have_text("fit")


def measure_box(lead: Page) -> None:
    """Inside, three readings an edge."""
    lead.locator("form[action$='/faces/'] [value=inside]").check()
    lead.locator("form[action$='/faces/'] button").last.click()
    for side, cm in (("length", "20.0"), ("width", "15.0"), ("height", "12.0")):
        for last in (0, 1, 0):
            form = lead.locator("form[action$='/add/edge/']").first
            form.locator("[name=side]").select_option(side)
            form.locator("[name=reading_cm]").fill(f"{Decimal(cm) + Decimal(last) / 10}")
            lead.keyboard.press("Enter")
            expect(lead.get_by_role("status")).to_contain_text(side)
    expect(lead.locator("p > .verdict")).to_have_text("fit")


def bring_pairs(lead: Page) -> None:
    lead.goto("/pairs/import/")
    lead.get_by_label("Paste the list").fill(PAIRS)
    lead.get_by_role("button", name="Check the rows").click()
    lead.get_by_role("button", name="Import all").click()
    lead.goto("/kit/cups/")
    lead.get_by_label("Cups, one a line").fill("\n".join(f"{n} 8.{n}" for n in range(1, 7)))
    with_field(lead, "Cups, one a line").locator("button").last.click()
    lead.goto("/heats/")
    lead.locator("form[action$='/heats/fill/'] button").last.click()


def add_late_pair(lead: Page) -> None:
    """The heat in which the school is already is proposed."""
    lead.goto("/heats/")
    form = lead.locator("form[action$='/heats/late/']")
    if not form.is_visible():
        lead.locator("details:has(form[action$='/heats/late/']) > summary").click()
    form.locator("[name=school]").fill("Quillbank")
    form.locator("[name=first]").fill("Ivo")
    form.locator("[name=second]").fill("Juno")
    form.locator("button").last.click()


def late_pair(lead: Page) -> None:
    add_late_pair(lead)
    expect(lead.locator("main")).to_contain_text("P05")


def check_in(lead: Page) -> None:
    """Each school by one press."""
    for school in ("Fernhollow", "Quillbank"):
        lead.goto("/heats/")
        lead.locator(f"button[name=school][value='{school}']").click()
        expect(lead.locator(f"button[name=school][value='{school}']")).to_have_count(0)


def type_sheet(page: Page, hand: Hand, code: str, answers: dict[str, str]) -> int:
    """One sheet: the code, then what is written, in the order printed; the taps or keys."""
    taps = 0
    for signs in (code[-1], *answers.values()):
        taps += hand(page, signs + "\n")
    for item, value in answers.items():
        line = page.locator(".line").filter(has_text=item)
        expect(line.locator("input[type=text]")).to_have_value(value)
        expect(line.locator(".state")).to_have_text("saved")
    expect(page.locator("#sheet-code")).to_contain_text(code)
    return taps


def enter_all(page: Page, hand: Hand, *, misread: str = "") -> None:
    """Every sheet; one of them as nobody wrote it."""
    page.goto("/entry/")
    for code, boxed in BOXED.items():
        counted = MISREAD if code == misread else COUNTED[code]
        taps = type_sheet(page, hand, code, {"J1": counted, "B1": boxed})
        assert taps <= MAX_TAPS, code


def weigh_cup(page: Page, hand: Hand, code: str, cup: str, gross: str) -> None:
    for signs in (code[-1], cup, gross):
        hand(page, signs + "\n")


def weigh_all(page: Page, hand: Hand, *, first: tuple[str, ...] = ()) -> None:
    """Every cup but those that are in already."""
    page.goto("/weigh-in/")
    for code, gross in GROSS.items():
        if code in first:
            continue
        weigh_cup(page, hand, code, CUPS[code], gross)
        expect(page.locator("#told")).to_contain_text(f"{gross} g in cup {CUPS[code]} saved")


def weigh_with_slips(page: Page) -> None:
    """1043 g for 104.3, and the cup of another pair: both asked about, nothing saved yet."""
    page.goto("/weigh-in/")
    said = page.locator("#told")
    weigh_cup(page, tap, "P03", "3", "1043")
    expect(said).to_contain_text("Is the decimal point in the wrong place: 104.3 g?")
    expect(page.get_by_text("0 of 5 cups are in")).to_be_visible()
    # What was typed comes back to be changed.
    page.get_by_label("Scale shows, g").fill("104.3")
    page.get_by_role("button", name="Save this cup").tap()
    expect(said).to_contain_text("104.3 g in cup 3 saved")
    expect(page.get_by_text("1 of 5 cups are in")).to_be_visible()

    weigh_cup(page, tap, "P04", "3", GROSS["P04"])
    expect(said).to_contain_text("P03")
    expect(said).not_to_contain_text("saved")
    expect(page.get_by_text("1 of 5 cups are in")).to_be_visible()
    page.get_by_label("Cup number").fill("4")
    page.get_by_role("button", name="Save this cup").tap()
    expect(said).to_contain_text("in cup 4 saved")
    # What one has just done is taken back in one act.
    page.get_by_role("button", name="Undo", exact=True).tap()
    expect(page.get_by_text("1 of 5 cups are in")).to_be_visible()


def audit(lead: Page, reader: Page) -> None:
    """All sheets again, blind: the one that both had misread is found, and put right."""
    lead.goto("/audit/?most=5")
    form = lead.locator("form[action$='/audit/draw/']")
    form.locator("[name=rolls]").fill("416253")
    form.locator("button").last.click()
    reader.goto("/audit/read/")
    for n_left in range(len(COUNTED), 0, -1):
        expect(reader.get_by_text(f"{n_left} of 5 sheets left")).to_be_visible()
        code = reader.locator(".of-pair h2").inner_text().split()[-1][:3]
        assert MISREAD not in reader.locator("main").inner_text()
        for field, value in (
            ("v-M1", GROSS[code]),
            ("c-M1", CUPS[code]),
            ("v-J1", COUNTED[code]),
            ("v-B1", BOXED[code]),
        ):
            reader.locator(f"[name={field}]").fill(value)
        reader.get_by_role("button", name=f"Save {code}").tap()
    expect(reader.get_by_text("Every drawn sheet is read.")).to_be_visible()
    # The same point wherever the lead looks.
    for address in ("/audit/", "/event/", "/standings/", "/exports/"):
        lead.goto(address)
        expect(lead.locator("main")).to_contain_text("P03")
        expect(lead.locator("[data-point]").first).to_contain_text("J1")


def put_right(lead: Page, thing: str, choose: dict[str, str], why: str, button: str) -> None:
    """A correction: look at what it changes, then confirm."""
    lead.goto("/corrections/")
    part = lead.get_by_role("region", name=thing)
    for label, value in choose.items():
        field = part.get_by_label(label, exact=True)
        if field.evaluate("field => field.tagName") == "SELECT":
            field.select_option(value)
        else:
            field.fill(value)
    part.get_by_label("Why it was wrong").fill(why)
    part.get_by_role("button", name="See what it changes").click()
    lead.get_by_role("button", name=button).click()


def test_a_day_from_the_empty_site_to_the_second_release(lead: Page, tablet, tmp_path: Path):
    begin_event(lead)
    add_item(lead, "M1", "scoop of lentils", "mass")
    add_item(lead, "J1", "jar of beans", "count")
    count_by_two(lead)
    add_item(lead, "B1", "tea box", "volume")
    measure_box(lead)
    lead.goto("/kit/seal/")
    lead.get_by_role("button", name="Seal the keys").click()
    bring_pairs(lead)
    late_pair(lead)
    check_in(lead)

    ash, birch = tablet("Ash"), tablet("Birch")
    weigh_with_slips(ash)
    weigh_all(ash, tap, first=("P03",))
    weigh_all(birch, strike)
    # Both read the same wrong number: only the paper can show it.
    enter_all(ash, tap, misread="P03")
    enter_all(birch, strike, misread="P03")
    # A second sheet with the code of P03: nobody types over the first.
    tap(ash, "3\n")
    expect(ash.locator("#told")).to_contain_text("P03: all of this sheet is read")

    audit(lead, birch)
    answer = {"Pair": "P03", "Item": "J1", "The paper shows": COUNTED["P03"]}
    put_right(lead, "An answer was read wrongly", answer, "misread twice", "Correct it")
    lead.goto("/standings/")
    expect(lead.get_by_role("main")).to_contain_text("First place is shared by P01 and P02")
    expect(lead.get_by_text("Open points 0")).to_be_visible()
    lead.get_by_role("button", name="Release to everybody").click()
    birch.goto("/results/")
    expect(birch.get_by_role("main")).to_contain_text("Release 1")

    # The key was wrong after all: it comes out again, with its reason, as release 2.
    key = {"Item": "J1", "The right key": "400"}
    put_right(lead, "A key was wrong", key, "counted again by two", "Correct it and release")
    birch.goto("/results/")
    expect(birch.get_by_role("main")).to_contain_text("Release 2")
    expect(birch.get_by_role("main")).not_to_contain_text("provisional")
    expect(birch.get_by_role("region", name="Corrections")).to_contain_text("Counted again by two")
    head = birch.locator(".hash").inner_text()
    shown = [row.inner_text() for row in birch.get_by_role("row").all()[1:]]

    lead.goto("/exports/")
    with lead.expect_download() as download:
        lead.get_by_role("link", name="Event folder").click()
    zipfile.ZipFile(download.value.path()).extractall(tmp_path)
    computed = results(read_event(tmp_path / "event"))
    for line, row in zip(computed.pairs, shown, strict=True):
        assert line.pair.code in row
        assert f"{float(line.total):.2f}" in row
    found = verify_folder(tmp_path / "event", printed_head=head)
    assert found.differences == ()
    assert any("decided by Juniper" in fact for fact in found.facts)
