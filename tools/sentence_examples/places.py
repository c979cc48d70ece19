"""Open points, the paper audit, corrections, heats and standings."""

from dataclasses import replace
from datetime import time
from decimal import Decimal
from fractions import Fraction

import numpy as np

from nearmark.contest.answers import AnswerState
from nearmark.contest.audit_findings import AuditFindings
from nearmark.contest.audit_sampling import audit_outcome
from nearmark.contest.cup_tares import OddBatch, OddTare
from nearmark.contest.division_gaps import AnswersNotAsked, PairsWithoutDivision
from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    AuditReading,
    Closing,
    Pair,
)
from nearmark.contest.late_heat import LateHeat
from nearmark.contest.measured import (
    Method,
    NothingMeasured,
    ReadingsRefused,
)
from nearmark.contest.odd_records import (
    FarAnswer,
)
from nearmark.contest.open_points import AnswersAsked, OpenPoint, PaperDiffers, PointKind
from nearmark.contest.paper_audit import AuditPlan, SheetRisk
from nearmark.contest.place_changes import PlaceChange, Standing
from nearmark.contest.podium import PodiumEdge, SharedPlace
from nearmark.contest.proof.canonical import canonical
from nearmark.contest.proof.merkle import root_of_path
from nearmark.contest.proof.release import PairProof, ReleaseRecord
from nearmark.contest.questions import (
    ReadOnce,
)
from nearmark.contest.rank_confidence import RankConfidence, RemeasureGain
from nearmark.contest.rank_margin import Margin, MarginShare
from nearmark.contest.results import ItemScore, PairResult
from nearmark.words import (
    heats,
    open_points,
    paper_audit,
    place_changes,
    proofs,
    standings,
)
from sentence_examples.facts import FIT, UNFIT, Examples, doubt, key
from sentence_examples.keys import check


def proofs_said() -> Examples:
    """What the proof of a pair shows."""
    leaf = {"pair": "P07", "place": "2", "total": "901/2"}
    root = root_of_path(canonical(leaf), 0, 1, ())
    release = ReleaseRecord("1", "", "", (), "", "", "0", root, "1", "")
    proof = PairProof(leaf, 0, (), release)
    unplaced = {**leaf, "place": "", "total": ""}
    alone = replace(release, pairs=root_of_path(canonical(unplaced), 0, 1, ()))
    changed = replace(proof, leaf={**leaf, "place": "1"})
    there = {**leaf, "division": "grade 3", "division_place": "1"}
    of_division = replace(release, pairs=root_of_path(canonical(there), 0, 1, ()))
    return {
        proofs.proof_words: [
            proof,
            PairProof(unplaced, 0, (), alone),
            PairProof(there, 0, (), of_division),
            (proof, "0f3a"),
            changed,
        ]
    }


def open_points_said() -> Examples:
    """Open points."""
    paper = AuditReading("P07", "C1", "Ash", AnswerStatus.ANSWERED, Decimal(299))
    typed = AnswerReading("P07", "C1", 1, "Ash", AnswerStatus.ANSWERED, Decimal(290))
    cup = AuditReading("P07", "M1", "Ash", AnswerStatus.ANSWERED, Decimal("104.3"), "7")
    twelve = tuple(f"P{n:02}" for n in range(1, 13))
    closed = Closing("id", "Juniper", "counted again")
    told = NothingMeasured()
    return {
        open_points.point_effect: [OpenPoint("id", kind, key(None)) for kind in PointKind],
        open_points.closed_sentence: [
            OpenPoint("id", PointKind.KEY_NOT_FIT, key(400, assigned=UNFIT), closed=closed)
        ],
        open_points.key_is_open: [
            key(None, problems=(told,)),
            key(400, decided=True),
            key(400, assigned=FIT, problems=(ReadingsRefused(Method.HAND, "they do not agree"),)),
            key(412, assigned=UNFIT),
        ],
        open_points.do_about_key: [key(400, decided=True)],
        open_points.answers_against_key: [check()],
        open_points.looks_like_slip: [doubt(FarAnswer(Decimal(17), None))],
        open_points.cup_unlike_batch: [OddTare("4", Decimal("6.8"), "thin", 8.24)],
        open_points.batch_without_mean: [OddBatch("thin", "cup 3: must be above zero")],
        open_points.do_about_cup: [OddBatch("thin", "")],
        open_points.answers_asked: [
            AnswersAsked("C1", twelve[:2], None),
            AnswersAsked("C1", twelve, ReadOnce()),
        ],
        open_points.without_division: [
            PairsWithoutDivision(twelve[:1]),
            PairsWithoutDivision(twelve),
        ],
        open_points.do_about_division: [PairsWithoutDivision(twelve)],
        open_points.answers_not_asked: [
            AnswersNotAsked("C2", "grade 3", twelve[:2]),
            AnswersNotAsked("C2", "", twelve[:1]),
        ],
        open_points.do_about_not_asked: [AnswersNotAsked("C2", "grade 3", twelve[:2])],
        open_points.paper_differs: [PaperDiffers(paper, typed)],
        open_points.do_about_paper: [PaperDiffers(paper, typed)],
        open_points.reading_words: [cup, None],
    }


def _plan(*, sample: tuple[str, ...] = ("P08", "P11"), n: int = 2) -> AuditPlan:
    targeted = (SheetRisk("P01", 0.02, 10), SheetRisk("P14", 0.01, None))[:n]
    return AuditPlan(targeted, sample, 40, 30, 4, 1.2, 0.031, 0.002, 416225)


def paper_audit_said() -> Examples:
    """The paper audit."""

    def found(n_wrong: int, unread: tuple[str, ...] = (), **more: int) -> AuditFindings:
        return AuditFindings(12, 12 - len(unread), n_wrong, unread, 2, 0, 30, **more)

    return {
        paper_audit.read_these: [_plan(), _plan(n=1)],
        paper_audit.then_the_drawn: [_plan()],
        paper_audit.why_listed: [
            *_plan().targeted,
            SheetRisk("P02", 0.01, 5, "grade 3"),
            SheetRisk("P03", 0.01, None, "grade 3"),
        ],
        paper_audit.hidden_podium: [_plan()],
        paper_audit.left_out: [1, 3],
        paper_audit.if_none_is_wrong: [_plan()],
        paper_audit.nothing_about_others: [1, 30],
        paper_audit.read_all_if_wrong: [()],
        paper_audit.how_to_draw: [_plan()],
        paper_audit.so_far: [found(0), found(1), found(2)],
        paper_audit.how_many_differ: [0, 1, 2],
        paper_audit.what_is_left: [
            found(2),
            found(0, ("P02",)),
            found(0, n_left_out=1),
            found(0, n_left_out=3),
            found(0),
        ],
        paper_audit.no_mass_read: [5],
        paper_audit.drawn_at_random: [audit_outcome(70, 20, n) for n in (0, 1)],
    }


def place_changes_said() -> Examples:
    """Corrections."""
    was = Standing("P07", "North", 4, Fraction(250))
    same_place = Standing("P07", "North", 4, Fraction(255))
    up = Standing("P07", "North", 2, Fraction(250))
    third = replace(was, division="grade 3", division_place=3)
    first = replace(up, division="grade 3", division_place=1)
    return {
        place_changes.places_change: [0, 1, 3],
        place_changes.only_totals_change: [1, 3],
        place_changes.nothing_changes: [()],
        place_changes.change_words: [
            (PlaceChange("P07", was, up), 1),
            (PlaceChange("P07", was, same_place), 1),
            (PlaceChange("P07", None, was), 1),
            (PlaceChange("P07", third, first), 1),
        ],
    }


def heats_said() -> Examples:
    """Heats."""
    return {
        heats.together_words: [{}, {"Otterbrook Mill": (1, 2)}],
        heats.heat_words: ["heat 2", ""],
        heats.plan_saved: [1, 3],
        heats.plan_taken_back: [1, 3],
        heats.school_start_words: [time(9, 40)],
        heats.heat_text: ["everybody", "morning"],
        heats.why_this_heat: [
            LateHeat(2, n_of_school=3),
            LateHeat(2),
            LateHeat(5, full=(2,), gone=(1,), is_new=True),
        ],
    }


def _result(pair: str, place: int, total: int) -> PairResult:
    return PairResult(Pair(pair, "North", ("a", "b")), place, Fraction(total), ())


def _margin(points: float, u: float, *, near: bool = False) -> Margin:
    return Margin("P3", "P4", points, u, 0.9, (MarginShare("C1", 0.62, near),))


def standings_said() -> Examples:
    """The standings."""
    sure = RankConfidence(
        ("P1", "P2"), (1, 2), np.zeros((2, 2)), 0.98, 0.9, 0.995, 0.0, (), 10_000, 416225
    )
    ahead, behind = _result("P3", 3, 270), _result("P4", 4, 265)

    def edge(points: int) -> PodiumEdge:
        gain = Fraction(18)
        return PodiumEdge(ahead, behind, Fraction(points), "C1", gain, _margin(5, 1), 2)

    def missing(state: AnswerState, status: AnswerStatus = AnswerStatus.BLANK) -> ItemScore:
        return ItemScore("C1", None, Fraction(0), Fraction(0), state, status)

    return {
        standings.unknown_for_doubt: [([],), (["C1"],), (["C1", "B1"],)],
        standings.podium_stays: [(n, "97 of 100 draws") for n in (1, 2, 3)],
        standings.winner_stays: [sure],
        standings.shared_place_counts: [()],
        standings.how_it_was_drawn: [sure],
        standings.nothing_to_measure: [()],
        standings.measure_first: [RemeasureGain("C1", 0.07, is_clear=True)],
        standings.draws_text: [0.973, 0.996, 0.004],
        standings.is_shared: [
            SharedPlace(2, ("P2", "P3"), has_tie_breaks=False),
            SharedPlace(2, ("P2", "P3"), has_tie_breaks=True),
            SharedPlace(1, tuple("ABCDEFGHI"), has_tie_breaks=False),
        ],
        standings.place_name: [1, 2, 3, 4, 5, 6],
        standings.parted_by_tie_break: [edge(0)],
        standings.is_ahead: [edge(5)],
        standings.trust: [
            _margin(5, 1),
            _margin(1, 1),
            _margin(5, 0),
            _margin(5, 1, near=True),
        ],
        standings.missing_word: [
            missing(AnswerState.MISSING),
            missing(AnswerState.CONFLICT),
            missing(AnswerState.AGREED, AnswerStatus.ILLEGIBLE),
            missing(AnswerState.AGREED),
            missing(AnswerState.AGREED, AnswerStatus.ANSWERED),
        ],
    }
