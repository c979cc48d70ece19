"""What to do about a value that is not fit, and why a row of its budget is what it is."""

from nearmark.kit.key_advice import (
    ActBrings,
    AnotherPersonCounts,
    CountByHand,
    LargerSamplesReach,
    LookElsewhere,
    NetMassUnsure,
    NoActReaches,
    OneMoreSample,
    OnlyTogether,
    RulerOutlook,
    SamplesDoNotReach,
    SamplesReach,
    ScaleTooCoarse,
    SecondPersonCounts,
)
from nearmark.kit.next_sample import NextSample
from nearmark.measurement.acts import Act, ActKind
from nearmark.measurement.budget import Component
from nearmark.measurement.row_notes import (
    CornerFactor,
    FewSamples,
    FromSamples,
    FullCounts,
    Reason,
    UpperBound,
    WeighingAgrees,
    WidenedByStudent,
)
from nearmark.words import acts, budget_notes, key_advice
from sentence_examples.facts import Examples

HALF = Act(ActKind.READ_TO_HALF_MARKS, step_cm=0.05)
CHECK = Act(ActKind.CHECK_RULER, "steel ruler")


def outlook(
    *ways: tuple[Act, ...], likely: bool = False, least: bool = False, edge_cm: int | None = 10
) -> RulerOutlook:
    """A ruler that cannot bring a box under one percent."""
    return RulerOutlook("steel ruler", 0.01, 0.017, likely, least, ways, edge_cm)


def acts_said() -> Examples:
    """Acts."""
    named = [Act(kind, "steel ruler", n=2, step_cm=0.02) for kind in ActKind]
    return {acts.act_order: [*named, Act(ActKind.MIX)]}


def budget_notes_said() -> Examples:
    """Notes of the rows of a budget."""
    hidden = (Reason.ROUNDING_HIDDEN, Reason.SHARED_BY_SAMPLES)
    return {
        budget_notes.row_notes: [Component("resolution", 0, "g", 0.03, notes=hidden)],
        budget_notes.silent_rows: [
            (
                [
                    Component("tare", 0, "g", 0.0, notes=(Reason.CONTAINED,)),
                    Component("moisture and dust", 1, "relative", 0.0),
                ],
            )
        ],
        budget_notes.reason: list(Reason),
        budget_notes.from_samples: [FromSamples(1), FromSamples(2)],
        budget_notes.widened_by_student: [WidenedByStudent(1), WidenedByStudent(2)],
        budget_notes.upper_bound: [UpperBound(0.9)],
        budget_notes.few_samples: [FewSamples(0.82, 0.1, 0.265)],
        budget_notes.full_counts: [FullCounts(2, agree) for agree in (True, False)],
        budget_notes.weighing_agrees: [WeighingAgrees(342.2, 12.1, 0.02)],
        budget_notes.corner_factor: [CornerFactor(0.99939)],
    }


def key_advice_said() -> Examples:
    """Advice on a key."""
    larger = [
        LargerSamplesReach(500, n, 45, 0.01, is_less_work=less)
        for n in (1, 5)
        for less in (True, False)
    ]
    return {
        key_advice.act_brings: [ActBrings(CHECK, 0.016, 0.0083)],
        key_advice.only_together: [OnlyTogether(0.01)],
        key_advice.no_act_reaches: [NoActReaches(0.01, has_acts=has) for has in (True, False)],
        key_advice.one_more_sample: [OneMoreSample(150, 0.017, 0.011, 3)],
        key_advice.next_sample_words: [NextSample(150, 0.017, 0.011, 2)],
        key_advice.about_minutes: [1, 6],
        key_advice.samples_reach: [SamplesReach(150, 2, 6, 0.01)],
        key_advice.larger_samples_reach: larger,
        key_advice.scale_too_coarse: [ScaleTooCoarse(100, 0.1)],
        key_advice.samples_do_not_reach: [
            SamplesDoNotReach(100, 0.01, n_tried) for n_tried in (None, 30)
        ],
        key_advice.look_elsewhere: [LookElsewhere()],
        key_advice.count_by_hand: [CountByHand(240)],
        key_advice.second_person_counts: [SecondPersonCounts()],
        key_advice.another_person_counts: [AnotherPersonCounts(0.021, 0.01)],
        key_advice.net_mass_unsure: [
            NetMassUnsure(0.021, 0.01, "spread of the cups", is_batch=True),
            NetMassUnsure(0.021, 0.01, "resolution of tare", is_batch=False),
        ],
        key_advice.what_ruler_cannot: [
            outlook(),
            outlook(least=True),
            outlook(likely=True),
        ],
        key_advice.what_would: [
            outlook((HALF,)),
            outlook((HALF, CHECK)),
            outlook(edge_cm=None),
        ],
    }
