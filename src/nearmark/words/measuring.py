"""How to measure a length with your own hand, in words."""

from typing import Final

from nearmark.coaching.measure_plan import MeasurePlan, MeasuringRoutine
from nearmark.words.translation import message, say

_SHARES: Final = {
    -50: message("less half a {name}"),
    -33: message("less a third of a {name}"),
    33: message("a third of a {name}"),
    50: message("half a {name}"),
    67: message("two thirds of a {name}"),
}


def plan_words(plan: MeasurePlan) -> str:
    """How to take one length, and how well that does.

    >>> from nearmark.coaching.body_reference import BodyReference
    >>> from nearmark.coaching.measure_plan import measure_plan
    >>> plan_words(measure_plan(15.5, [BodyReference("palm", 7, 0.06, 0.1),
    ...                                BodyReference("thumb", 2, 0.03, 0.05)]))
    '2 x palm, then two thirds of a thumb (within about 2.0 %).'
    """
    parts = [
        say("{times} x {name}", times=times, name=reference.name)
        for reference, times in plan.steps
        if times
    ]
    share = ""
    if plan.fraction:
        share = say(_SHARES[round(100 * plan.fraction)], name=plan.steps[-1][0].name)
    if plan.fraction > 0:
        parts.append(share)
    steps = ", then ".join(parts)
    if plan.fraction < 0:
        steps = f"{steps}, {share}"
    within = f"{100 * plan.relative_sd:.1f}"
    return say("{steps} (within about {within} %).", steps=steps, within=within)


def routine_words(routine: MeasuringRoutine) -> str:
    """True of a pupil with two references or more: one way for every length.

    Examples
    --------
    >>> from nearmark.coaching.body_reference import BodyReference
    >>> from nearmark.coaching.measure_plan import measuring_routine
    >>> routine_words(measuring_routine([BodyReference("palm", 7, 0.06, 0.1),
    ...                                  BodyReference("thumb", 2, 0.03, 0.05)]))
    'Lay the palm as often as it fits, then the thumb. Say the rest as none, a third, a half or \
two thirds of a thumb. From 3 to 25 cm this is within about 3 %.'
    """
    return say(
        "Lay the {longer} as often as it fits, then the {shorter}. Say the rest as none, a third, "
        "a half or two thirds of a {shorter}. From 3 to 25 cm this is within about {within} %.",
        longer=routine.longer.name,
        shorter=routine.shorter.name,
        within=f"{100 * routine.rms:.0f}",
    )


def measure_again(day: str) -> str:
    """True of references of a hand that was measured on a known day.

    >>> measure_again("5 April 2027")
    'Hands grow: measure the references again by 5 April 2027.'
    """
    return say("Hands grow: measure the references again by {day}.", day=day)


def mark_nothing() -> str:
    """True of every hand that measures."""
    return say("Mark nothing on the hand.")
