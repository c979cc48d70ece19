"""What was released is kept; a mistake found afterwards comes out anew, with its reason."""

import pytest
from django.test import Client

from nearmark.contest.event import AnswerStatus
from nearmark.contest.results import results
from nearmark.site.door.access import Role
from nearmark.site.event.load import load_event
from nearmark.site.models import (
    AdjudicationEntry,
    AnswerEntry,
    Change,
    CorrectionRecord,
    EventRecord,
    Release,
)


@pytest.fixture
def out(lead, demo) -> EventRecord:
    """The demo event after its release."""
    lead.post("/standings/release/", {"why": "the buses leave"})
    demo.refresh_from_db()
    return demo


def winner(record: EventRecord) -> str:
    return results(load_event(record)).pairs[0].pair.code


def wrong(pair: str, value: str = "1190", **more: str) -> dict[str, str]:
    given = {"kind": "answer", "pair": pair, "item": "C3", "value": value}
    return given | {"why": "a digit was read twice", "number": "1"} | more


def test_a_release_keeps_places_and_totals_and_no_name(lead, out):
    kept = Release.objects.get()
    now = results(load_event(out)).pairs

    assert [row["code"] for row in kept.standings] == [line.pair.code for line in now]
    assert [row["total"] for row in kept.standings] == [str(line.total) for line in now]
    assert not [n for line in now for n in line.pair.members if n in str(kept.standings)]


def test_the_preview_shows_places_and_keeps_nothing(lead, out):
    code = winner(out)
    n_before = Change.objects.count()

    page = lead.post("/corrections/", wrong(code)).content.decode()

    assert "Check before it counts" in page
    assert "1190 pieces" in page
    assert not AdjudicationEntry.objects.filter(reason="a digit was read twice").exists()
    assert Change.objects.count() == n_before
    assert winner(out) == code


@pytest.mark.slow
def test_a_confirmed_correction_comes_out_as_a_new_release(lead, out):
    code = winner(out)
    released_at = out.released_at

    lead.post("/corrections/confirm/", wrong(code))

    out.refresh_from_db()
    told = CorrectionRecord.objects.get()
    assert [release.number for release in out.releases.all()] == [2, 1]
    assert out.released_at > released_at
    assert (told.what, told.new, told.why) == (
        f"The answer of {code} on C3",
        "1190 pieces",
        "a digit was read twice",
    )
    assert any(line.startswith(f"{code}: place 1 before, ") for line in told.moved)
    line = Change.objects.first()
    assert (line.what, line.new) == (f"put right: The answer of {code} on C3", "1190 pieces")
    # Both readings stay: a correction is a new line.
    assert AnswerEntry.objects.filter(pair__code=code, item__code="C3", struck_at=None).count() == 2


@pytest.mark.slow
def test_everybody_sees_what_changed_and_nobody_sees_who(lead, out):
    code = winner(out)
    lead.post("/corrections/confirm/", wrong(code))

    page = Client().get("/results/").content.decode()
    earlier = Client().get("/results/release/1/").content.decode()

    assert "A digit was read twice." in page
    assert f"The answer of {code} on C3" in page
    assert "Juniper" not in page + earlier
    assert "do not count any more" in earlier
    assert earlier.index(f">{code}<") < earlier.index(
        f">{results(load_event(out)).pairs[0].pair.code}<"
    )


@pytest.mark.slow
def test_a_key_is_put_right_with_its_reason(lead, out):
    lead.post(
        "/corrections/confirm/",
        {
            "kind": "key",
            "item": "C3",
            "value": "13412",
            "why": "two digits exchanged",
            "number": "1",
        },
    )

    told = CorrectionRecord.objects.get()
    assert (told.what, told.new) == ("The key of C3", "13412 pieces")
    assert results(load_event(out)).keys["C3"].key == 13412


@pytest.mark.slow
def test_what_was_looked_at_must_still_be_what_is_out(lead, out):
    code = winner(out)
    lead.post("/corrections/confirm/", wrong(code))

    answer = lead.post("/corrections/confirm/", wrong(code, "1180"))

    assert answer.status_code == 409
    assert "were released again" in answer.content.decode()
    assert Release.objects.count() == 2


@pytest.mark.parametrize(
    ("change", "status"),
    [
        ({"why": ""}, 422),
        ({"value": "many"}, 422),
        ({"value": ""}, 422),
        ({"pair": "P99"}, 422),
        ({"item": "Q9"}, 422),
        ({"number": "x"}, 409),
    ],
)
def test_what_cannot_be_understood_is_refused_and_changes_nothing(lead, out, change, status):
    answer = lead.post("/corrections/confirm/", wrong(winner(out)) | change)

    assert answer.status_code == status
    assert not CorrectionRecord.objects.exists()


def test_what_counts_already_is_no_correction(lead, out):
    code = winner(out)
    counts = results(load_event(out)).answers[code, "C3"].estimate

    answer = lead.post("/corrections/", wrong(code, f"{counts:f}"))

    assert answer.status_code == 409
    assert "counts already" in answer.content.decode()


def test_a_weighed_answer_needs_the_cup(lead, out):
    given = wrong(winner(out)) | {"item": "M1", "value": "140"}

    assert lead.post("/corrections/", given).status_code == 422
    assert lead.post("/corrections/", given | {"cup": "3"}).status_code == 200


def test_before_the_release_a_correction_is_kept_and_nothing_comes_out(lead, demo):
    code = winner(demo)

    lead.post("/corrections/confirm/", wrong(code, "b") | {"number": "0"})

    decided = AdjudicationEntry.objects.filter(pair__code=code, item__code="C3").last()
    assert (decided.status, decided.reason) == (AnswerStatus.BLANK, "a digit was read twice")
    assert not Release.objects.exists()
    assert b"not out yet" in Client().get("/results/").content


@pytest.mark.slow
def test_results_taken_back_and_released_again_say_why(lead, out):
    lead.post("/standings/withhold/", {"why": "jar C3 was counted again"})
    assert Client().get("/results/release/1/").status_code == 409

    lead.post("/standings/release/", {"why": "the buses leave"})

    page = Client().get("/results/").content.decode()
    assert "Jar C3 was counted again." in page
    assert "no place changes" in page


@pytest.mark.slow
def test_a_correction_with_script_in_its_reason_is_shown_as_text(lead, out):
    lead.post("/corrections/confirm/", wrong(winner(out)) | {"why": "<script>alert(1)</script>"})

    assert "<script>alert(1)" not in Client().get("/results/").content.decode()


@pytest.mark.parametrize("role", [Role.SCORER, Role.COACH, Role.PUBLIC])
def test_only_the_lead_corrects(sign_in, out, role):
    answer = sign_in(role).post("/corrections/confirm/", wrong(winner(out)))

    assert answer.status_code == 403
    assert not CorrectionRecord.objects.exists()
