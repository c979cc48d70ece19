"""The paper audit: dice draw the sheets, each is read again blind, the result is in words."""

from typing import Any

import pytest

from nearmark.contest.paper_audit import plan_audit
from nearmark.contest.results import results
from nearmark.site.event.load import load_event
from nearmark.site.event_day.results.audit_actions import MAX_SHEETS, audit_words
from nearmark.site.models import AuditCheck, AuditDraw, AuditEntry, Change
from nearmark.words.paper_audit import reach_sentences

DICE = "4 1 6 2 2 5"


@pytest.fixture
def drawn(lead, demo) -> AuditDraw:
    lead.post("/audit/draw/", {"rolls": DICE, "most": "16"})
    return AuditDraw.objects.get()


@pytest.fixture
def sheet_of(demo, drawn):
    """What a sheet shows when it shows what was typed; ``more`` is another value."""
    event = load_event(demo)
    read_at_all: list[Any] = [*event.answers, *event.adjudications]
    typed = {(a.pair, a.item): a for a in read_at_all}
    signs = {"blank": "b", "illegible": "?"}

    def post(pair: str, **more: str) -> dict[str, str]:
        given = {"draw": str(drawn.pk), "pair": pair}
        for item in event.items:
            read = typed[pair, item.code]
            given[f"v-{item.code}"] = signs.get(read.status) or f"{read.value:f}"
            given[f"c-{item.code}"] = read.cup
        return given | {f"v-{item}": value for item, value in more.items()}

    return post


def test_how_many_sheets_is_said_before_the_dice_and_held(lead, demo):
    """Found on a day: "a few sheets" were 26 of 30."""
    page = lead.get("/audit/").content.decode()
    plan = plan_audit(results(load_event(demo)), seed=1, most=MAX_SHEETS)
    assert f"This will draw {MAX_SHEETS} of {plan.n_sheets} sheets: about 12 minutes" in page
    for line in reach_sentences(plan):
        assert line in page

    lead.post("/audit/draw/", {"rolls": DICE, "most": str(MAX_SHEETS)})

    drawn = AuditDraw.objects.get()
    assert len(drawn.targeted) + len(drawn.sample) == MAX_SHEETS


def test_what_is_not_settled_is_settled_where_it_still_can_be(lead, demo):
    demo.pairs.get(code="P01").entries.first().delete()
    by_correction = 'not settled yet. Settle them under <a href="/corrections/">'

    before = " ".join(lead.get("/audit/").content.decode().split())
    lead.post("/standings/release/", {"why": "to try it"})
    after = " ".join(lead.get("/audit/").content.decode().split())

    assert "not settled yet. Settle them first" in before
    assert by_correction in after


def test_another_number_of_sheets_says_something_else(lead, demo):
    few, many = (lead.get(f"/audit/?most={n}").content.decode() for n in (5, 40))

    assert "This will draw 5 of" in few
    assert "left out although a slip there could change the podium" in few
    assert "at 95 % confidence" in many
    assert lead.get("/audit/?most=nine").status_code == 200


def test_the_dice_draw_the_sheets_that_the_core_draws(demo, drawn):
    plan = plan_audit(results(load_event(demo)), seed=416225, most=16)

    assert drawn.targeted == [sheet.code for sheet in plan.targeted]
    assert drawn.sample == list(plan.sample)
    assert Change.objects.first().new == "dice 416225, 16 sheets"


@pytest.mark.parametrize(
    "rolls", ["", "1234", "123457", "12345a", "1" * 13, "\u0661\u0662\u0663\u0664\u0665\u0666"]
)
def test_what_no_die_shows_is_refused(lead, demo, rolls):
    assert lead.post("/audit/draw/", {"rolls": rolls, "most": "14"}).status_code == 422
    assert not AuditDraw.objects.exists()


@pytest.mark.slow
def test_a_second_draw_needs_a_reason_and_leaves_the_first_in_sight(lead, drawn, source_of):
    again = {"rolls": "111111", "most": "10"}
    assert lead.post("/audit/draw/", again).status_code == 422

    lead.post("/audit/draw/", again | {"why": "a sheet was missing"})

    page = source_of(lead.get("/audit/"))
    assert AuditDraw.objects.count() == 2
    assert "Drawn before: dice 416225" in page
    assert "a sheet was missing" in page


def test_the_list_is_in_the_order_of_the_sheets(lead, demo, drawn):
    page = lead.get("/audit/").content.decode()
    listed = page[page.index("The list, in the order of the sheets") :]
    shown = [code for code in sorted({*drawn.targeted, *drawn.sample}) if f">{code}<" in listed]
    places = [listed.index(f">{code}<") for code in shown]

    assert len(shown) == 16
    assert places == sorted(places)  # the demo's heats follow its codes


def test_a_helper_reads_blind(lead, scorer, demo, drawn, source_of):
    """Found on a day: the typed values were shown beside, 25 times "All agree"."""
    code = min({*drawn.targeted, *drawn.sample})
    typed = [a for a in load_event(demo).answers if a.pair == code and a.value is not None]
    numbers = {f"{a.value:f}" for a in typed if len(f"{a.value:f}") > 2}

    for client in (lead, scorer):
        page = source_of(client.get(f"/audit/read/?pair={code}"))
        assert f"Fetch {code}-" in page
        assert not [number for number in numbers if number in page]
    page = source_of(lead.get("/audit/"))
    assert not [number for number in numbers if f">{number}<" in page]


@pytest.mark.slow
def test_every_sheet_read_gives_the_result_in_words(scorer, demo, drawn, sheet_of):
    codes = [*drawn.targeted, *drawn.sample]
    for code in codes:
        scorer.post("/audit/check/", sheet_of(code))

    words = " ".join(audit_words(demo))
    assert f"{len(codes)} of {len(codes)} sheets are read against the paper: none differs." in words
    assert "Drawn with the dice 416225." in words
    assert not [p for p in results(load_event(demo)).points if p.kind == "audit"]


def test_a_mass_that_is_on_no_paper_is_said_to_be_unread(lead, demo, drawn, sheet_of):
    given = sheet_of(drawn.targeted[0])
    lead.post("/audit/check/", {k: v for k, v in given.items() if "M1" not in k})

    assert "On 1 of them no mass was read" in " ".join(audit_words(demo))


@pytest.mark.slow
def test_a_difference_is_an_open_point_until_it_is_put_right(lead, demo, drawn, sheet_of):
    code = drawn.targeted[0]
    lead.post("/audit/check/", sheet_of(code, C2="69"))

    (point,) = [p for p in results(load_event(demo)).open_points if p.kind == "audit"]
    assert (point.pair, point.item, point.shows) == (code, "C2", "69")
    for address in ("/event/", "/points/", "/standings/", "/audit/", "/exports/", "/kit/"):
        page = lead.get(address).content.decode()
        assert f'data-point="{point.id}"' in page
    assert f"/corrections/?pair={code}&amp;item=C2&amp;value=69" in page

    right = {"kind": "answer", "pair": code, "item": "C2", "value": "69", "why": "audit"}
    lead.post("/corrections/confirm/", right | {"number": "0"})

    assert not [p for p in results(load_event(demo)).open_points if p.kind == "audit"]
    assert "1 differs" in audit_words(demo)[1]  # what was found stays found


@pytest.mark.slow
def test_two_sheets_that_differ_send_everybody_back_to_the_paper(
    lead, demo, drawn, sheet_of, source_of
):
    for code in drawn.targeted[:2]:
        lead.post("/audit/check/", sheet_of(code, C2="69"))

    page = source_of(lead.get("/audit/"))
    assert "read all sheets again" in " ".join(audit_words(demo))
    assert "C2 shows 69" in page


def test_a_slip_is_taken_back_by_reading_once_more(lead, demo, drawn, sheet_of):
    code = drawn.targeted[0]
    lead.post("/audit/check/", sheet_of(code, C2="69"))
    lead.post("/audit/check/", sheet_of(code))

    assert "1 of" in audit_words(demo)[1]
    assert "none differs" in audit_words(demo)[1]
    assert AuditCheck.objects.count() == 2
    assert not [p for p in results(load_event(demo)).points if p.kind == "audit"]


@pytest.mark.parametrize(
    "change",
    [
        {"draw": "999999"},
        {"draw": "x"},
        {"pair": "P99"},
        {"v-C2": ""},
        {"v-C2": "many"},
        {"v-M1": "112.4", "c-M1": ""},
        {"v-M1": "112.4", "c-M1": "999"},
    ],
)
def test_what_cannot_be_is_refused_and_nothing_typed_is_lost(lead, drawn, sheet_of, change):
    given = sheet_of(drawn.targeted[0]) | {"v-C1": "4711"} | change
    answer = lead.post("/audit/check/", given)

    assert answer.status_code in {409, 422}
    if answer.status_code == 422 and change.keys() != {"draw"}:
        assert b'value="4711"' in answer.content
    assert not AuditCheck.objects.exists()
    assert not AuditEntry.objects.exists()


def test_an_event_without_places_has_nothing_to_audit(lead, demo):
    demo.pairs.update(status="absent")

    assert b"nothing to audit" in lead.get("/audit/").content
