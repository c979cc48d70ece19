"""The results as tables: what they hold, exactly, and nothing that runs."""

import csv
from dataclasses import replace
from fractions import Fraction

import pytest

from nearmark.contest.event import Pair
from nearmark.contest.results import results
from nearmark.errors import InputError
from nearmark.event_folder import export_results, read_event


def exported(outcome, folder) -> dict[str, list[dict[str, str]]]:
    export_results(outcome, folder)
    tables = {}
    for path in folder.glob("*.csv"):
        with path.open(encoding="utf-8", newline="") as file:
            tables[path.name] = list(csv.DictReader(file))
    return tables


@pytest.fixture
def outcome(small_event):
    return results(small_event)


def test_three_tables_are_written(tmp_path, outcome):
    assert set(exported(outcome, tmp_path)) == {"standings.csv", "item_scores.csv", "keys.csv"}


def test_the_standings_hold_place_pair_and_the_exact_total(tmp_path, outcome):
    rows = exported(outcome, tmp_path)["standings.csv"]

    assert [(r["place"], r["pair"], r["member_2"], r["status"]) for r in rows] == [
        (str(line.place or ""), line.pair.code, (*line.pair.members, "")[1], line.pair.status.value)
        for line in outcome.pairs
    ]
    assert [Fraction(int(r["total_numerator"]), int(r["total_denominator"])) for r in rows] == [
        line.total for line in outcome.pairs
    ]


def test_a_score_is_rounded_to_the_decimals_of_the_rules(tmp_path, outcome):
    # P1, M1: 106.3 g less the 8.6 g of cup 1 is 97.7 g; 100 (1 - 2.3 / 100) = 97.7.
    # P1, C1: by hand from the key in keys.csv, to two decimals (ties to even, none here).
    tables = exported(outcome, tmp_path)
    scores = {(r["pair"], r["item"]): r for r in tables["item_scores.csv"]}
    key = Fraction(next(r["key"] for r in tables["keys.csv"] if r["item"] == "C1"))

    assert scores["P1", "M1"]["score"] == "97.70"
    assert scores["P1", "M1"]["estimate"] == "97.7"
    assert scores["P1", "C1"]["score"] == f"{float(100 * (1 - abs(440 - key) / key)):.2f}"
    assert scores["P2", "B1"]["status"] == "blank"
    assert scores["P2", "B1"]["estimate"] == ""


def test_the_keys_hold_value_uncertainty_and_decision(tmp_path, outcome):
    rows = {r["item"]: r for r in exported(outcome, tmp_path)["keys.csv"]}

    assert (rows["M1"]["key"], rows["M1"]["unit"], rows["M1"]["measured_value"]) == ("100", "g", "")
    assert rows["C1"]["reason"] == "no fourth sample in time"
    assert float(rows["C1"]["expanded_uncertainty"]) > float(rows["C1"]["standard_uncertainty"]) > 0


def test_no_exported_name_is_a_formula(tmp_path, small_event):
    pairs = (Pair("P1", "=1+1", ("@Ada", "+Bo")), *small_event.pairs[1:])
    decision = replace(small_event.key_decisions[0], reason="=HYPERLINK()")
    event = replace(small_event, pairs=pairs, key_decisions=(decision,))

    tables = exported(results(event), tmp_path)

    cells = [c for rows in tables.values() for row in rows for c in row.values()]
    assert "'=1+1" in cells
    assert "'=HYPERLINK()" in cells
    assert not [c for c in cells if c.startswith(("=", "+", "-", "@"))]


def test_results_may_stand_in_the_event_folder(folder, outcome, small_event):
    export_results(outcome, folder)

    assert read_event(folder) == small_event


def test_a_folder_that_cannot_be_made_is_refused(tmp_path, outcome):
    (tmp_path / "x").write_text("", encoding="utf-8")

    with pytest.raises(InputError, match="cannot be written to"):
        export_results(outcome, tmp_path / "x" / "y")
