"""Keys, what the answers say of them, and what to do next."""

from dataclasses import replace
from decimal import Decimal

from nearmark.contest.event import (
    Side,
)
from nearmark.contest.key_check import KeyCheck, NoSlip
from nearmark.contest.key_slips import KeySlip, Slip
from nearmark.contest.measured import (
    KeyNotAboveZero,
    Method,
    NothingMeasured,
    ReadingsRefused,
    TargetIsFixed,
)
from nearmark.contest.measuring_steps import (
    CloseIt,
    CountSample,
    LookAgain,
    MassSoFar,
    MeasureMore,
    NothingToMeasure,
    ReadEdge,
    ReadingsInDoubt,
    ReadingsSoFar,
    SampleTotal,
    Step,
    TakeStep,
    UsedByDecision,
)
from nearmark.contest.odd_records import (
    FarAnswer,
)
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.kit.sampling_plan import PlanRow
from nearmark.words import (
    key_check,
    keys,
    next_step,
)
from sentence_examples.facts import DECIDED, FIT, UNFIT, Examples, doubt, key


def keys_said() -> Examples:
    """Problems of keys."""
    return {
        keys.nothing_measured: [NothingMeasured()],
        keys.readings_refused: [
            ReadingsRefused(method, "gross: is not above tare") for method in Method
        ],
        keys.key_not_above_zero: [KeyNotAboveZero(Decimal(0))],
        keys.target_is_fixed: [TargetIsFixed("Ana", Decimal(110))],
        keys.whose_word: [key(400, decided=True), key(400, assigned=FIT, decided=True)],
        keys.counts_as_exact: [key(400, decided=True)],
        keys.status_words: [
            key(None),
            key(400, decided=True),
            replace(key(412, assigned=FIT), fit=True),
            replace(key(100), fit=True),
            key(412, assigned=UNFIT),
            key(412, assigned=UNFIT, decided=True),
        ],
        keys.status_and_person: [key(412, assigned=UNFIT, decided=True)],
        keys.decision_words: [(DECIDED, "400 pieces"), replace(DECIDED, value=None)],
    }


def check() -> KeyCheck:
    """A key that is doubted."""
    return KeyCheck(
        item="C1",
        n=30,
        robust_log_ratio=-0.9,
        u=0.05,
        expected=-0.2,
        z=-4.0,
        sd=0.16,
        seen_error=0.38,
        flagged=True,
        rivals=(),
        slips=(),
    )


def _slip(kind: KeySlip) -> Slip:
    return Slip(kind, 1420.0, 1, Decimal(4120), Decimal(1420), Side.LENGTH)


def key_check_said() -> Examples:
    """The key check."""
    return {
        key_check.too_few_answers: [1, 5],
        key_check.second_way: [()],
        key_check.off_the_key: [check()],
        key_check.please_check: [check()],
        key_check.seen_every_other_time: [check()],
        key_check.may_be_another: [(("C2",),)],
        key_check.likeliest_slip: [_slip(KeySlip.TARE_LEFT_IN)],
        key_check.no_common_slip: [()],
        key_check.may_be_right: [()],
        key_check.cause_words: list(NoSlip),
        key_check.slip_words: [_slip(kind) for kind in KeySlip],
        key_check.side_name: list(Side),
    }


def next_step_said() -> Examples:
    """What to do next."""
    alike = SampleTotal(3, 300, Decimal("184.2"), 0.614, 100)
    mixed = SampleTotal(2, 250, Decimal("153.2"), 0.613, None)
    odd = LookAgain(doubt(FarAnswer(Decimal(17), None)))
    by_word = UsedByDecision(key(400, decided=True), DECIDED)
    sample = CountSample(2, PlanRow(100, 9, 900, 0.01))
    edges = [ReadEdge(side, 2, is_first=False) for side in Side]
    steps = ("empty", "full", "hand-count", "faces")
    return {
        next_step.step_title: [
            *(Step(kind, is_done=False) for kind in (*steps, "sample", "more")),
            *(Step("edge", is_done=False, side=side) for side in Side),
        ],
        next_step.total_words: [alike, mixed],
        next_step.mass_so_far: [MassSoFar(Decimal("212.4"))],
        next_step.readings_so_far: [ReadingsSoFar(1, 3), ReadingsSoFar(5, 3)],
        next_step.faces_so_far: [
            BoxFaces(Faces.INSIDE),
            BoxFaces(Faces.OUTSIDE, Decimal("0.4")),
        ],
        next_step.not_fit: [UNFIT],
        next_step.u_and_limit: [FIT],
        next_step.nothing_to_measure: [NothingToMeasure()],
        next_step.why_nothing_to_measure: [NothingToMeasure()],
        next_step.look_again: [odd],
        next_step.why_look_again: [odd],
        next_step.close_it: [CloseIt(FIT)],
        next_step.why_close_it: [CloseIt(FIT)],
        next_step.used_by_decision: [by_word],
        next_step.why_used_by_decision: [by_word],
        next_step.take_step: [TakeStep(kind) for kind in steps],
        next_step.why_take_step: [TakeStep(kind) for kind in steps],
        next_step.count_sample: [sample],
        next_step.how_to_sample: [sample],
        next_step.read_edge: edges,
        next_step.how_to_read_edge: [edges[0], ReadEdge(Side.LENGTH, 1, is_first=True)],
        next_step.readings_in_doubt: [ReadingsInDoubt(key(None))],
        next_step.why_readings_in_doubt: [
            ReadingsInDoubt(key(None, problems=(NothingMeasured(),)))
        ],
        next_step.measure_more: [MeasureMore(UNFIT), MeasureMore(FIT)],
    }
