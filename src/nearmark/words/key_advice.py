"""What to do about a value that is not fit, and what a ruler cannot reach."""

from functools import singledispatch

from nearmark.kit.assigned_value import percent_text
from nearmark.kit.key_advice import (
    ActBrings,
    AnotherPersonCounts,
    CountByHand,
    KeyAdvice,
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
from nearmark.measurement.acts import Act
from nearmark.words.acts import act_order
from nearmark.words.numbers import both, capital
from nearmark.words.translation import say, say_count


def advice_words(advice: KeyAdvice) -> str:
    """What to do, without a full stop at its end."""
    return _advice(advice)


@singledispatch
def _advice(advice: KeyAdvice) -> str:
    raise TypeError(type(advice).__name__)


@_advice.register
def act_brings(advice: ActBrings) -> str:
    """True of an act that lowers U, if it finds what was read already."""
    return say(
        "{act}: that can bring U from {now} to {then}",
        act=capital(act_order(advice.act)),
        now=percent_text(advice.now),
        then=percent_text(advice.then),
    )


@_advice.register
def only_together(advice: OnlyTogether) -> str:
    """True of a box whose acts reach the limit only if all are done."""
    return say(
        "None of these alone reaches {limit}; all of them together do",
        limit=percent_text(advice.limit),
    )


@_advice.register
def no_act_reaches(advice: NoActReaches) -> str:
    """True of a box that no act makes fit."""
    limit = percent_text(advice.limit)
    if advice.has_acts:
        return say(
            "None of these reaches {limit}: take a larger box, or decide about it with a reason",
            limit=limit,
        )
    return say(
        "Nothing that is done with this box reaches {limit}: take a larger box, or decide about it "
        "with a reason",
        limit=limit,
    )


@_advice.register
def one_more_sample(advice: OneMoreSample) -> str:
    """True if the new sample scatters as the others did."""
    return say(
        "One more sample of {pieces} brings U from {now} to {then} ({time})",
        pieces=advice.pieces,
        now=percent_text(advice.now),
        then=percent_text(advice.then),
        time=about_minutes(advice.minutes),
    )


def next_sample_words(coming: NextSample) -> str:
    """What one more sample brings, if it scatters as the others did."""
    return say(
        "One more sample of {pieces} brings U from {now} to {then}",
        pieces=coming.pieces,
        now=percent_text(coming.now_relative_u),
        then=percent_text(coming.predicted_relative_u),
    )


def about_minutes(n: int) -> str:
    """How long counting and weighing takes."""
    return say_count("about {n} minute", "about {n} minutes", n)


@_advice.register
def samples_reach(advice: SamplesReach) -> str:
    """True if further samples scatter as those so far."""
    return say(
        "{n} more samples of {pieces} should reach {limit}. Count {total} more: {time}",
        n=advice.n_samples,
        pieces=advice.pieces,
        limit=percent_text(advice.limit),
        total=advice.n_samples * advice.pieces,
        time=about_minutes(advice.minutes),
    )


@_advice.register
def larger_samples_reach(advice: LargerSamplesReach) -> str:
    """True of larger samples that are clearly less work, or the only way."""
    facts = {
        "pieces": advice.pieces,
        "limit": percent_text(advice.limit),
        "total": advice.n_samples * advice.pieces,
        "time": about_minutes(advice.minutes),
    }
    if advice.is_less_work:
        return say_count(
            "Larger samples are less work, {pieces} pieces at once: one of them should reach "
            "{limit}. Count {total} more: {time}",
            "Larger samples are less work, {pieces} pieces at once: {n} of them should reach "
            "{limit}. Count {total} more: {time}",
            advice.n_samples,
            **facts,
        )
    return say_count(
        "Weigh larger samples, {pieces} pieces at once: one of them should reach {limit}. Count "
        "{total} more: {time}",
        "Weigh larger samples, {pieces} pieces at once: {n} of them should reach {limit}. Count "
        "{total} more: {time}",
        advice.n_samples,
        **facts,
    )


@_advice.register
def scale_too_coarse(advice: ScaleTooCoarse) -> str:
    """True of samples whose scatter is the rounding of the scale."""
    return say(
        "Another sample of {pieces} will not help: the scale rounds to {step} g",
        pieces=advice.pieces,
        step=f"{advice.step_g:g}",
    )


@_advice.register
def samples_do_not_reach(advice: SamplesDoNotReach) -> str:
    """True of samples that are too small for how much the pieces differ."""
    facts = {"pieces": advice.pieces, "limit": percent_text(advice.limit)}
    if advice.n_tried is None:
        return say("More samples of {pieces} will not reach {limit}", **facts)
    return say(
        "Samples of {pieces} are too small for these pieces: {n} more would not reach {limit}",
        n=advice.n_tried,
        **facts,
    )


@_advice.register
def look_elsewhere(_: LookElsewhere) -> str:
    """True when no samples reach the limit."""
    return say("Look for a miscount, use a finer scale, or take pieces that differ less")


@_advice.register
def count_by_hand(advice: CountByHand) -> str:
    """True of a container with few pieces, or with some thousand that no samples make fit."""
    return say(
        "Let two people count all pieces, about {pieces}, without knowing each other's count",
        pieces=advice.pieces,
    )


@_advice.register
def second_person_counts(_: SecondPersonCounts) -> str:
    """True while one person alone has counted."""
    return say("Let a second person count all pieces, without knowing the first count")


@_advice.register
def another_person_counts(advice: AnotherPersonCounts) -> str:
    """True of counts of several people that are not sure enough."""
    return say(
        "U is {now}, the limit {limit}: let another person count all pieces in groups of ten",
        now=percent_text(advice.now),
        limit=percent_text(advice.limit),
    )


@_advice.register
def net_mass_unsure(advice: NetMassUnsure) -> str:
    """True of a net mass that is not sure enough; names what its uncertainty is mostly made of."""
    facts = {
        "now": percent_text(advice.now),
        "limit": percent_text(advice.limit),
        "component": advice.component,
    }
    if advice.is_batch:
        return say(
            "U is {now}, the limit {limit}; the largest part is {component}: weigh each cup",
            **facts,
        )
    return say(
        "U is {now}, the limit {limit}; the largest part is {component}: use a finer scale or fill "
        "in more",
        **facts,
    )


def outlook_words(outlook: RulerOutlook) -> str:
    """What a ruler cannot reach with this box, and what would."""
    return f"{what_ruler_cannot(outlook)} {what_would(outlook)}"


def what_ruler_cannot(outlook: RulerOutlook) -> str:
    """True of a box whose edges are so short that the marks of the ruler are too coarse."""
    facts = {"limit": percent_text(outlook.limit), "u": percent_text(outlook.u)}
    if outlook.is_likely_only:
        return say(
            "If the other edges are about as long, readings of {ruler} that agree leave U at {u}; "
            "the limit is {limit}.",
            ruler=outlook.ruler,
            **facts,
        )
    ruler = capital(outlook.ruler)
    if outlook.is_least:
        return say(
            "{ruler} cannot bring this box under {limit}: readings that agree leave U at {u} or "
            "more.",
            ruler=ruler,
            **facts,
        )
    return say(
        "{ruler} cannot bring this box under {limit}: readings that agree leave U at {u}.",
        ruler=ruler,
        **facts,
    )


def what_would(outlook: RulerOutlook) -> str:
    """Each way that reaches the limit; where none does, a decision is left."""
    ways = [way_together(way) for way in outlook.ways]
    if outlook.edge_cm is not None:
        ways.append(say("take a box with edges of {edge} cm or more", edge=outlook.edge_cm))
    if not ways:
        return say("Decide about it with a reason.")
    return say("What would do: {ways}.", ways=say("; or ").join(ways))


def way_together(way: tuple[Act, ...]) -> str:
    """Acts that reach the limit if all of them are done."""
    return both([act_order(act) for act in way])
