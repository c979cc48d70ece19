"""The paper audit: dice draw the sheets, each is read once more, the result stands in words."""

import pytest

from nearmark.contest.paper_audit import plan_audit
from nearmark.contest.results import results
from nearmark.site.acts.audit import audit_words
from nearmark.site.event_store import load_event
from nearmark.site.models import AuditCheck, AuditDraw, Change

DICE = "4 1 6 2 2 5"


@pytest.fixture
def drawn(lead, demo) -> AuditDraw:
    lead.post("/audit/draw/", {"rolls": DICE})
    return AuditDraw.objects.get()


def verdict(draw: AuditDraw, pair: str, **more: str) -> dict[str, str]:
    return {"draw": str(draw.pk), "pair": pair, "verdict": "agrees"} | more


def test_the_dice_draw_the_sheets_that_the_core_draws(demo, drawn):
    plan = plan_audit(results(load_event(demo)), seed=416225)

    assert drawn.targeted == [sheet.code for sheet in plan.targeted]
    assert drawn.sample == list(plan.sample)
    assert Change.objects.first().new == "dice 416225"


@pytest.mark.parametrize(
    "rolls", ["", "1234", "123457", "12345a", "1" * 13, "\u0661\u0662\u0663\u0664\u0665\u0666"]
)
def test_what_no_die_shows_is_refused(lead, demo, rolls):
    assert lead.post("/audit/draw/", {"rolls": rolls}).status_code == 422
    assert not AuditDraw.objects.exists()


def test_a_second_draw_needs_a_reason_and_leaves_the_first_in_sight(lead, drawn):
    assert lead.post("/audit/draw/", {"rolls": "111111"}).status_code == 422

    lead.post("/audit/draw/", {"rolls": "111111", "why": "a sheet was missing"})

    page = lead.get("/audit/").content.decode()
    assert AuditDraw.objects.count() == 2
    assert "Drawn before: dice 416225" in page
    assert "a sheet was missing" in page


def test_the_list_is_in_the_order_of_the_sheets(lead, demo, drawn):
    page = lead.get("/audit/").content.decode()
    listed = page[page.index("The list, as the sheets lie") :]
    shown = [code for code in sorted({*drawn.targeted, *drawn.sample}) if f">{code}<" in listed]
    places = [listed.index(f">{code}<") for code in shown]

    assert len(shown) == len(drawn.targeted) + len(drawn.sample)
    assert places == sorted(places)  # the demo's heats follow its codes


def test_every_sheet_read_gives_the_result_in_words(lead, demo, drawn):
    codes = [*drawn.targeted, *drawn.sample]
    for code in codes:
        lead.post("/audit/check/", verdict(drawn, code))

    words = " ".join(audit_words(demo))
    assert f"{len(codes)} of {len(codes)} sheets are read against the paper: none differs." in words
    assert "95 % confidence" in words
    assert "Drawn with the dice 416225." in words


def test_two_sheets_that_differ_send_everybody_back_to_the_paper(lead, demo, drawn):
    for code in drawn.targeted[:2]:
        lead.post("/audit/check/", verdict(drawn, code, verdict="differs", item="C2", shows="69"))

    page = lead.get("/audit/").content.decode()
    assert "read all sheets again" in " ".join(audit_words(demo))
    assert "C2 shows 69" in page
    assert f"/corrections/?pair={drawn.targeted[0]}&amp;item=C2&amp;value=69" in page


def test_a_slip_is_taken_back_by_reading_once_more(lead, demo, drawn):
    code = drawn.sample[0]
    lead.post("/audit/check/", verdict(drawn, code, verdict="differs", item="C2", shows="69"))
    lead.post("/audit/check/", verdict(drawn, code))

    assert "1 of" in audit_words(demo)[1]
    assert "none differs" in audit_words(demo)[1]
    assert AuditCheck.objects.count() == 2


@pytest.mark.parametrize(
    "change",
    [
        {"draw": "999999"},
        {"draw": "x"},
        {"pair": "P99"},
        {"verdict": "differs"},
        {"verdict": "differs", "item": "C2"},
        {"verdict": "differs", "item": "Q1", "shows": "3"},
    ],
)
def test_what_cannot_be_is_refused(lead, drawn, change):
    answer = lead.post("/audit/check/", verdict(drawn, drawn.sample[0]) | change)

    assert answer.status_code in {409, 422}
    assert not AuditCheck.objects.exists()


def test_the_weighed_cup_is_shown_as_the_desk_wrote_it(lead, demo, drawn):
    first = min({*drawn.targeted, *drawn.sample})
    reading = next(r for r in load_event(demo).answers if (r.pair, r.item) == (first, "M1"))

    assert f"{reading.value:f} g, cup {reading.cup}" in lead.get("/audit/").content.decode()


def test_an_event_without_places_has_nothing_to_audit(lead, demo):
    demo.pairs.update(status="absent")

    assert b"nothing to audit" in lead.get("/audit/").content
    assert lead.post("/audit/draw/", {"rolls": DICE}).status_code == 422
