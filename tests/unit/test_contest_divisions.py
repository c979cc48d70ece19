"""An event with divisions: whose items are whose, and what is said of what does not fit."""

import csv
import json
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from nearmark.cli import main
from nearmark.contest.awards import awards
from nearmark.contest.division import items_of
from nearmark.contest.event import AnswerReading, AnswerStatus, Division, Pair, PairStatus
from nearmark.contest.example import two_divisions, two_pairs
from nearmark.contest.key_check import check_keys
from nearmark.contest.open_points import AnswersAsked, PointKind
from nearmark.contest.paper_audit import plan_audit
from nearmark.contest.proof.release import pair_leaf
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.results import PairResult, results
from nearmark.contest.rules import RuleSet, SchoolRule, SchoolTotal
from nearmark.contest.school_totals import school_totals, short_schools
from nearmark.demo import larkspur_valley
from nearmark.errors import InputError
from nearmark.event_folder import export_results, read_event, write_event
from nearmark.event_folder.releasing import proof_of
from nearmark.event_folder.verify import verify_folder
from nearmark.words.awards import certificates, run_off_needed, tie_rule
from nearmark.words.open_points import point_sentence
from nearmark.words.school_totals import few_pairs, school_rule

GRADES = ("grade 3", "grade 4", "grade 5")


@pytest.fixture(scope="module")
def shared():
    """The invented event with three divisions of the same items."""
    day = larkspur_valley()
    return replace(
        day,
        divisions=tuple(Division(name) for name in GRADES),
        pairs=tuple(replace(p, division=GRADES[n % 3]) for n, p in enumerate(day.pairs)),
        rules=replace(day.rules, school_total=SchoolTotal(SchoolRule.BEST, 3)),
    )


def answered(event, *rows):
    """The event with more answers, each read twice."""
    more = (
        AnswerReading(pair, item, n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(value))
        for pair, item, value in rows
        for n in (1, 2)
    )
    return replace(event, answers=(*event.answers, *more))


def kinds(event):
    return [point.kind for point in results(event).points]


def test_no_answer_is_missing_on_an_item_that_a_pair_does_not_estimate():
    day = two_divisions()
    outcome = results(replace(day, answers=()))
    missing = {
        (pair, point.item)
        for point in outcome.points
        if isinstance(point.fact, AnswersAsked)
        for pair in point.fact.pairs
    }

    assert missing == {(pair.code, item.code) for pair in day.pairs for item in items_of(pair, day)}
    assert len(missing) == 8


def test_an_answer_that_the_division_does_not_estimate_scores_nothing_and_is_named():
    day = answered(two_divisions(), ("P1", "C3", 500))
    plain, with_it = results(two_divisions()), results(day)

    assert [line.total for line in with_it.pairs] == [line.total for line in plain.pairs]
    (point,) = [p for p in with_it.points if p.kind is PointKind.NOT_ASKED]
    assert point_sentence(point).startswith("C3, P1: answered, but grade 3 does not estimate it")


def test_a_pair_without_a_division_is_named_and_has_no_place_in_one():
    day = two_divisions()
    day = replace(day, pairs=(*day.pairs, Pair("P5", "West", ("i", "j"))))
    outcome = results(day)
    (line,) = [line for line in outcome.pairs if line.pair.code == "P5"]

    assert not line.is_placed
    assert PointKind.NO_DIVISION in kinds(day)
    assert PointKind.NO_DIVISION not in kinds(two_divisions())


def test_a_guest_needs_no_division():
    guest = Pair("P5", "West", ("i", "j"), PairStatus.GUEST)
    day = two_divisions()

    assert PointKind.NO_DIVISION not in kinds(replace(day, pairs=(*day.pairs, guest)))


def test_with_the_same_items_there_are_places_over_all_and_in_the_division(shared):
    outcome = results(shared)
    first: dict[str, PairResult] = {}
    for line in outcome.pairs:
        if line.place:
            first.setdefault(line.pair.division, line)

    assert outcome.is_comparable
    assert [line.division_place for line in first.values()] == [1, 1, 1]
    assert min(line.place for line in first.values()) == 1


def test_an_answer_is_compared_with_those_of_its_own_items_only(shared):
    # 3040 on C3 is about what others wrote on C2: with C2 in another division it is no wrong row.
    def odd(event):
        found = [p for p in results(event).points if p.pair == "P43" and p.item == "C3"]
        return [point_sentence(point) for point in found]

    pair = next(p for p in shared.pairs if p.code == "P43")
    others = tuple(name for name in GRADES if name != pair.division)
    apart = replace(
        shared,
        items=tuple(
            replace(item, divisions=others) if item.code == "C2" else item for item in shared.items
        ),
    )

    assert "C2" in odd(shared)[0]
    assert odd(apart)
    assert "C2" not in odd(apart)[0]


@pytest.mark.slow
def test_the_key_of_an_item_is_checked_by_the_pairs_who_estimate_it(shared):
    theirs = {p.code for p in shared.pairs if p.division == GRADES[0]}
    apart = replace(
        shared,
        items=tuple(
            replace(i, divisions=GRADES[:1]) if i.code == "C2" else i for i in shared.items
        ),
    )
    n = {check.item: check.n for check in check_keys(results(apart))}

    assert n["C2"] == sum(
        (code, "C2") in results(shared).answers
        and results(shared).answers[code, "C2"].estimate is not None
        for code in theirs
    )
    assert n["C1"] > n["C2"]


def test_the_audit_reads_the_first_sheets_of_each_division(shared):
    plan = plan_audit(results(shared), seed=1)
    listed = {sheet.code for sheet in plan.targeted}
    top = {line.pair.code for line in results(shared).pairs if (line.division_place or 99) <= 3}

    assert top <= listed
    assert plan.n_sheets == sum(line.is_placed for line in results(shared).pairs)


def test_places_that_cannot_be_compared_are_not_said_to_be_sure():
    sure = rank_confidence(results(two_divisions()), n_draws=200, seed=1)

    assert sure.codes == ()
    assert sure.place_stands("P1") is None
    assert [name for name, _ in sure.divisions] == ["grade 3", "grade 4"]
    assert sure.of_division("grade 4").place_stands("P4") is not None


def test_an_error_that_moves_no_key_of_a_division_is_nothing_to_measure_there():
    sure = rank_confidence(results(two_divisions()), n_draws=200, seed=1)

    assert {gain.item for gain in sure.of_division("grade 3").remeasure_first} <= {"C1", "C2"}


def test_shared_places_bring_an_award_each():
    day = two_divisions()
    twins = tuple(
        replace(a, pair={"P1": "P5", "P2": "P6"}[a.pair])
        for a in day.answers
        if a.pair in {"P1", "P2"}
    )
    day = replace(
        day,
        pairs=(
            *day.pairs,
            Pair("P5", "East", ("i", "j"), division="grade 3"),
            Pair("P6", "East", ("k", "l"), division="grade 3"),
        ),
        answers=(*day.answers, *twins),
        divisions=(Division("grade 3", 3), Division("grade 4", 0)),
        rules=RuleSet(run_off="Both scoop 100 g once more."),
    )
    three, four = awards(results(day))

    # Four pairs hold places 1, 1, 3, 3: three awarded places, four certificates.
    assert [(a.place, [p.code for p in a.pairs]) for a in three.announced] == [
        (3, ["P2", "P6"]),
        (1, ["P1", "P5"]),
    ]
    assert three.n_certificates == 4
    assert certificates(three).startswith("That is 4 certificates")
    assert tie_rule(three) == "Equal totals share the better place."
    assert run_off_needed(three).endswith("Run-off: Both scoop 100 g once more.")
    assert four.awards == ()
    assert four.shared_first == ()


def test_an_event_without_divisions_has_awards_for_all():
    (found,) = awards(results(two_pairs()))

    assert found.division.name == ""
    assert [award.place for award in found.awards] == [1, 2]


def test_a_school_with_few_pairs_is_named_with_how_it_counts():
    day = replace(two_pairs(), rules=RuleSet(school_total=SchoolTotal(SchoolRule.MEAN, 2)))
    found = school_totals(results(day))
    rule = day.rules.school_total

    assert [one.place for one in found] == [None, None]
    assert few_pairs(short_schools(found, rule), rule) == (
        "Fewer than 2 pairs, and so no place: North (1), South (1)."
    )
    assert "mean of all its pairs" in school_rule(rule)


def test_a_rule_for_schools_needs_a_pair():
    with pytest.raises(InputError, match="school_total"):
        SchoolTotal(SchoolRule.BEST, 0)


def rows(path):
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_the_exported_tables_hold_division_and_school(tmp_path, shared):
    outcome = results(shared)
    export_results(outcome, tmp_path)

    standings = rows(tmp_path / "standings.csv")
    assert [(r["division"], r["division_place"]) for r in standings] == [
        (line.pair.division, str(line.division_place or "")) for line in outcome.pairs
    ]
    schools = rows(tmp_path / "schools.csv")
    assert "division" not in schools[0]
    assert [
        (r["school"], Fraction(int(r["total_numerator"]), int(r["total_denominator"])))
        for r in schools
    ] == [(one.school, one.total) for one in school_totals(outcome)]


def test_score_computes_places_of_divisions_and_schools_from_the_folder(tmp_path, capsys, shared):
    write_event(shared, tmp_path / "event")
    main(["score", str(tmp_path / "event"), "--draws", "200", "--json"])
    told = json.loads(capsys.readouterr().out)
    outcome = results(shared)

    assert [(p["code"], p["place"], p["division_place"]) for p in told["pairs"]] == [
        (line.pair.code, line.place, line.division_place) for line in outcome.pairs
    ]
    assert [(s["school"], s["place"], s["total_exact"]) for s in told["schools"]] == [
        (one.school, one.place, str(one.total)) for one in school_totals(outcome)
    ]
    assert [d["name"] for d in told["confidence"]["divisions"]] == list(GRADES)
    placed = [p for p in told["pairs"] if p["division_place"]]
    assert all(0 <= p["division_place_probability"] <= 1 for p in placed)


def test_score_says_that_divisions_with_other_items_are_not_compared(tmp_path, capsys):
    write_event(two_divisions(), tmp_path / "event")
    main(["score", str(tmp_path / "event"), "--draws", "200"])
    said = capsys.readouterr().out

    assert "nobody has a place over all" in said
    assert said.index("grade 3") < said.index("grade 4") < said.index("Awards, grade 3")


def test_a_release_with_divisions_is_proved(tmp_path, shared):
    outcome = results(shared)
    proof = proof_of(
        outcome,
        rank_confidence(outcome, n_draws=200, seed=1),
        at="2027-05-08T15:00:00Z",
        leaf_salt="22" * 32,
        people_salt="33" * 32,
    )
    write_event(shared, tmp_path)
    for name, content in proof.files().items():
        (tmp_path / name).write_bytes(content)

    assert verify_folder(tmp_path).differences == ()
    # A pair moved to another division is seen: its row, the places that follow, how sure they are.
    moved = read_event(tmp_path)
    first = replace(moved.pairs[0], division=GRADES[2])
    write_event(replace(moved, pairs=(first, *moved.pairs[1:])), tmp_path)
    found = verify_folder(tmp_path).differences
    assert any("pairs.csv" in line for line in found)
    assert any("scores and places" in line for line in found)


def test_the_proof_of_a_pair_names_its_division_only_where_it_has_one():
    def leaf(event):
        return pair_leaf(results(event).pairs[0], "5a17")

    assert leaf(two_divisions())["division_place"] == "1"
    assert "division" not in leaf(two_pairs())
