"""Taking the results away: the core's numbers, names by choice, no formula."""

import csv
import io
import zipfile
from decimal import Decimal

import pytest
from openpyxl import load_workbook

from nearmark.contest.results import results
from nearmark.contest.scoring import points_text
from nearmark.site.door.access import Role
from nearmark.site.event.load import load_event
from nearmark.site.models import PairRecord

NASTY = '=HYPERLINK("http://x","y")'


def workbook(client, address: str = "/exports/results.xlsx"):
    return load_workbook(io.BytesIO(client.get(address).content))


def rows_of(client, name: str, address: str = "/exports/results.zip") -> list[dict[str, str]]:
    packed = zipfile.ZipFile(io.BytesIO(client.get(address).content))
    return list(csv.DictReader(io.StringIO(packed.read(name).decode())))


@pytest.mark.slow
def test_both_files_hold_the_places_and_totals_of_the_core(lead, demo):
    outcome = results(load_event(demo))
    decimals = outcome.event.rules.decimals
    wanted = [(line.pair.code, points_text(line.total, decimals)) for line in outcome.pairs]

    sheet = workbook(lead)["standings"]
    head = [cell.value for cell in sheet[1]]
    told = [
        dict(zip(head, row, strict=True)) for row in sheet.iter_rows(min_row=2, values_only=True)
    ]

    assert [(row["pair"], row["total"]) for row in rows_of(lead, "standings.csv")] == wanted
    assert [(row["pair"], f"{Decimal(str(row['total'])):.{decimals}f}") for row in told] == wanted
    assert told[0]["place"] == 1


def test_names_go_out_only_when_they_are_asked_for(lead, demo):
    name = PairRecord.objects.get(code="P01").members[0]
    codes_only = rows_of(lead, "standings.csv")
    with_names = rows_of(lead, "standings.csv", "/exports/results.zip?names=1")

    assert "member_1" not in codes_only[0]
    assert name in {row["member_1"] for row in with_names}
    assert "member_1" not in [cell.value for cell in workbook(lead)["standings"][1]]


def test_nothing_typed_becomes_a_formula(lead, demo):
    PairRecord.objects.filter(code="P01").update(school=NASTY, members=["@SUM(1)", "+1"])

    book = workbook(lead, "/exports/results.xlsx?names=1")
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    schools = {row["school"] for row in rows_of(lead, "standings.csv")}

    assert not [cell.coordinate for cell in cells if cell.data_type == "f"]
    assert f"'{NASTY}" in {cell.value for cell in cells}
    assert NASTY not in schools
    assert f"'{NASTY}" in schools


@pytest.mark.slow
def test_the_last_sheet_says_what_these_numbers_are(lead, demo):
    lead.post("/standings/release/", {"why": "the buses leave"})
    code = results(load_event(demo)).pairs[0].pair.code
    lead.post(
        "/corrections/confirm/",
        {
            "kind": "answer",
            "pair": code,
            "item": "C3",
            "value": "1190",
            "why": "slip",
            "number": "1",
        },
    )

    told = rows_of(lead, "about.csv")
    words = {row["what"]: row["words"] for row in told}
    assert words["state"].startswith("release 2, ")
    assert words["paper audit"] == "No sheet was drawn for an audit against the paper."
    assert words["correction"].startswith(f"The answer of {code} on C3: ")


@pytest.mark.slow
@pytest.mark.parametrize("role", [Role.SCORER, Role.COACH])
def test_others_take_codes_after_release_and_names_only_where_these_are_public(
    sign_in, lead, demo, role
):
    client = sign_in(role)
    assert client.get("/exports/results.zip").status_code == 403

    lead.post("/standings/release/", {"why": "the buses leave"})
    asked = "/exports/results.zip?names=1"
    assert "member_1" not in rows_of(client, "standings.csv", asked)[0]
    assert "/event/export.zip" not in client.get("/exports/").content.decode()

    demo.refresh_from_db()
    demo.shows_names = True
    demo.save()
    assert "member_1" in rows_of(client, "standings.csv", asked)[0]
