"""One list of open points: the same on every page, paper and command; closed with a reason."""

import json
import re
import zipfile
from html import unescape
from io import BytesIO
from pathlib import Path

import pytest
from click.testing import CliRunner

from nearmark.cli.check import command as check
from nearmark.cli.score import command as score
from nearmark.contest.open_points import PointKind
from nearmark.contest.results import results
from nearmark.site.event.load import load_event
from nearmark.site.event_day.results.point_links import point_lines
from nearmark.site.models import Change, ClosedPoint
from nearmark.words.open_points import point_sentence
from nearmark.words.results_json import results_as_json

PAGES = ("/event/", "/event/missing/", "/points/", "/kit/", "/standings/", "/audit/", "/exports/")


def ids_on(page: str) -> list[str]:
    return [unescape(found) for found in re.findall(r'data-point="([^"]*)"', page)]


def told(folder: Path, command) -> dict:
    ran = CliRunner().invoke(command, [str(folder), "--json"])
    assert ran.exit_code == 0, ran.output
    return json.loads(ran.output)


def exported(lead, folder: Path) -> Path:
    with zipfile.ZipFile(BytesIO(lead.get("/event/export.zip").content)) as packed:
        packed.extractall(folder)
    found = next(folder.rglob("event.toml"))
    return found.parent


@pytest.fixture
def troubled(lead, demo):
    """The demo event, and an audit difference."""
    lead.post("/audit/draw/", {"rolls": "416225", "most": "14"})
    draw = demo.audits.get()
    code = draw.targeted[0]
    given = {f"v-{item.code}": "77" for item in demo.items.exclude(station="mass")}
    lead.post("/audit/check/", given | {"draw": draw.pk, "pair": code})
    return demo


@pytest.mark.slow
def test_the_list_is_the_same_wherever_one_looks(lead, troubled, tmp_path):
    points = results(load_event(troubled)).open_points
    ids = [point.id for point in points]
    assert {"audit", "key check", "key not fit", "conflict"} <= {p.kind.value for p in points}

    for address in PAGES:
        assert ids_on(lead.get(address).content.decode()) == ids, address
    folder = exported(lead, tmp_path)
    for command in (check, score):
        said = told(folder, command)
        assert [r["id"] for r in said["open_point_records"] if r["closed"] is None] == ids
        assert said["open_points"] == [point_sentence(point) for point in points]


@pytest.mark.slow
def test_every_point_leads_to_a_page_that_opens(lead, troubled):
    for line in point_lines(troubled, results(load_event(troubled))):
        assert lead.get(line.address).status_code == 200, line


@pytest.mark.slow
def test_a_point_is_closed_with_a_reason_and_opened_again(lead, troubled, tmp_path):
    point = next(
        p for p in results(load_event(troubled)).open_points if p.kind is PointKind.KEY_CHECK
    )
    assert lead.post("/points/close/", {"point": point.id, "why": " "}).status_code == 422

    lead.post("/points/close/", {"point": point.id, "why": "counted by hand again"})

    assert Change.objects.first().why == "counted by hand again"
    outcome = results(load_event(troubled))
    assert point.id not in [p.id for p in outcome.open_points]
    assert point.id in [p.id for p in outcome.closed_points]
    page = lead.get("/points/").content.decode()
    assert "Counted by hand again." in page
    said = told(exported(lead, tmp_path), check)
    (record,) = [r for r in said["open_point_records"] if r["id"] == point.id]
    assert record["closed"] == {"by": "Juniper", "reason": "counted by hand again"}

    lead.post("/points/open-again/", {"point": point.id})
    assert point.id in [p.id for p in results(load_event(troubled)).open_points]
    assert ClosedPoint.objects.count() == 2


@pytest.mark.slow
def test_the_kit_does_not_call_a_doubted_key_settled(lead, demo):
    """Found on a day: "Every key is settled" beside a key that the answers speak against."""
    lead.post(f"/kit/{demo.items.get(code='B1').pk}/decide/", {"why": "the box is soft"})

    page = lead.get("/kit/").content.decode()
    assert "Every key is settled" not in page
    assert "Look again at C1." in page

    (point,) = [p for p in results(load_event(demo)).open_points if p.item == "C1"]
    lead.post("/points/close/", {"point": point.id, "why": "counted by hand again"})
    assert "Every key is settled" in lead.get("/kit/").content.decode()


@pytest.mark.slow
def test_what_is_not_open_or_cannot_be_closed_is_refused(lead, troubled):
    conflict = next(
        p for p in results(load_event(troubled)).open_points if p.kind is PointKind.CONFLICT
    )

    for point in (conflict.id, "no such point"):
        answer = lead.post("/points/close/", {"point": point, "why": "we go on"})
        assert answer.status_code == 409
    assert lead.post("/points/open-again/", {"point": "no such point"}).status_code == 409
    assert not ClosedPoint.objects.exists()


@pytest.mark.slow
def test_a_release_closes_what_can_be_closed_and_says_the_rest(lead, troubled):
    page = lead.get("/standings/").content.decode()
    assert re.search(r'<label for="id_why">\s*Reason\s*</label>', page)  # labelled as needed

    lead.post("/standings/release/", {"why": "the buses leave"})

    left = results(load_event(troubled)).open_points
    assert left
    assert not any(point.can_close for point in left)
    assert set(ClosedPoint.objects.values_list("reason", flat=True)) == {"the buses leave"}


@pytest.mark.slow
def test_a_release_without_open_points_asks_for_no_reason(lead, troubled):
    lead.post("/differences/decide/", {"pair": "P09", "item": "C2", "value": "2710", "why": "a 7"})
    for point in results(load_event(troubled)).open_points:
        lead.post("/points/close/", {"point": point.id, "why": "looked at again"})
    assert results(load_event(troubled)).open_points == ()

    page = lead.get("/standings/").content.decode()
    assert 'id="id_why"' not in page
    lead.post("/standings/release/", {})

    troubled.refresh_from_db()
    assert troubled.released_at is not None


@pytest.mark.slow
def test_the_folder_gives_the_same_result_after_corrections_and_closings(lead, troubled, tmp_path):
    """``nearmark score`` of the exported folder equals the site to the last digit."""
    for step, act in enumerate(
        (
            lambda: None,
            lambda: lead.post(
                "/corrections/confirm/",
                {"kind": "answer", "pair": "P05", "item": "C2", "value": "2345", "why": "audit"}
                | {"number": "0"},
            ),
            lambda: lead.post("/standings/release/", {"why": "the buses leave"}),
            lambda: lead.post(
                "/corrections/confirm/",
                {"kind": "key", "item": "C1", "value": "421", "why": "digits", "number": "1"},
            ),
        )
    ):
        act()
        outcome = results(load_event(troubled))
        expected = json.loads(json.dumps(results_as_json(outcome)))
        said = told(exported(lead, tmp_path / str(step)), score)
        for pair in said["pairs"]:
            pair.pop("place_probability")
        for field in ("pairs", "keys", "open_points", "open_point_records"):
            assert said[field] == expected[field], (step, field)


@pytest.mark.slow
def test_a_correction_is_closed_by_its_reason(lead, demo):
    """Found on a day: seven corrections made eight open points of one."""
    before = {point.id for point in results(load_event(demo)).open_points}
    for pair in ("P03", "P05", "P07"):
        lead.post(
            "/corrections/confirm/",
            {"kind": "answer", "pair": pair, "item": "C2", "value": "2345", "number": "0"}
            | {"why": "the paper says so"},
        )

    assert {point.id for point in results(load_event(demo)).open_points} == before


@pytest.mark.slow
def test_papers_say_which_release_is_out(lead, demo):
    pdf_text = pytest.importorskip("pypdf").PdfReader

    def text() -> str:
        pages = pdf_text(BytesIO(lead.get("/standings/standings.pdf").content)).pages
        return " ".join(page.extract_text() for page in pages)

    assert "Provisional" in text()
    lead.post("/standings/release/", {"why": "the buses leave"})
    assert "Release 1" in text()
    lead.post(
        "/corrections/confirm/",
        {"kind": "key", "item": "C1", "value": "421", "why": "digits", "number": "1"},
    )
    assert "Release 2" in text()
    assert "Provisional" not in text()
    assert "Standings, release 2" in lead.get("/standings/").content.decode()
