"""What to do differently, in words: one sentence for each act, with the amount a child can use."""

from typing import Final

from nearmark.coaching.acts import SIDE_ACTS, Act, Step
from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.slips import FoundSlip, Slip, find_slip
from nearmark.station import Station
from nearmark.words.sides import amount_text, side_words
from nearmark.words.translation import digits, message, say

_MORE: Final = {
    50: message("half as much"),
    67: message("a third less"),
    75: message("a quarter less"),
    80: message("a fifth less"),
    90: message("a tenth less"),
    110: message("a tenth more"),
    120: message("a fifth more"),
    125: message("a quarter more"),
    133: message("a third more"),
    150: message("half as much again"),
    200: message("twice as much"),
}
"""By the factor in percent; the plain factors of ``act_fits``."""

_OUT: Final = {
    50: message("Count only half of what is seen in a layer"),
    67: message("Leave out one in three of what is seen in a layer"),
    75: message("Leave out one in four of what is seen in a layer"),
    80: message("Leave out one in five of what is seen in a layer"),
    90: message("Leave out one in ten of what is seen in a layer"),
    110: message("Add one in ten to what is seen in a layer"),
    120: message("Add one in five to what is seen in a layer"),
    125: message("Add one in four to what is seen in a layer"),
    133: message("Add one in three to what is seen in a layer"),
    150: message("Add half to what is seen in a layer"),
    200: message("Count twice what is seen in a layer"),
}
_STEPS: Final = {
    Act.MULTIPLY: message(
        "Multiply once more before writing: some answers do not fit their own sum."
    ),
    Act.FIGURES: message(
        "Write more figures: the sum is right, but one figure of it is too rough."
    ),
    Act.OWN_ANSWER: message(
        "Write your own answer: some are the partner's, not what the sum gives."
    ),
    Act.OWN_PRODUCT: message("Write what the sum gives: answers are about {off} against it."),
    Act.HOLD_CUP: message(
        "Hold the empty cup first: about {share} % of its mass is taken for content."
    ),
    Act.HAND: message("Measure the hand again: all three sides are read about {off}."),
    Act.LENGTH: message("Take the length again: it is read about {off}."),
    Act.WIDTH: message("Take the width again: it is read about {off}."),
    Act.HEIGHT: message("Take the height again: it is read about {off}."),
    Act.LAYER: message("Count one layer again, row by row: it is read about {off}."),
    Act.LAYERS: message("Count the layers again at the side: they are read about {off}."),
    Act.LEAN: message("Answer about {lower} % lower when unsure."),
    Act.PARTNER: message("Let the partner decide."),
    Act.MIDDLE: message("Take the middle of both answers."),
    Act.TWO_OWN: message("Take two parts of your own answer and one part of the partner's."),
    Act.TWO_PARTNER: message("Take one part of your own answer and two parts of the partner's."),
}
_ONE_SIDE: Final = {
    Act.LENGTH: message("The length is {true} cm, not {own}."),
    Act.WIDTH: message("The width is {true} cm, not {own}."),
    Act.HEIGHT: message("The height is {true} cm, not {own}."),
}
_SLIPS: Final = {
    Slip.TRANSPOSED: message("Two digits swapped"),
    Slip.DECIMAL: message("A factor of ten"),
    Slip.TWO_SIDES: message("Two sides multiplied only"),
    Slip.SUM: message("Added instead of multiplied"),
    Slip.DOUBLED: message("Doubled"),
    Slip.HALVED: message("Halved"),
    Slip.SURFACE: message("The surface instead of the volume"),
    Slip.TWICE: message("One side used twice"),
    Slip.OTHER: message("The answer does not fit the sum"),
}


def trim_words(factor: float) -> str:
    """What to leave out of a layer, or to add to it.

    >>> trim_words(0.8)
    'Leave out one in five of what is seen in a layer'
    """
    return say(_OUT[round(100 * factor)])


def step_words(step: Step, station: Station) -> str:
    """True of a pupil whose last attempts ask for a step: what to do, and why.

    >>> step_words(Step(Act.HEIGHT, 0.75), Station.VOLUME)
    'Take the height again: it is read about 25 % low.'
    >>> step_words(Step(Act.SHIFT, 1.2), Station.MASS)
    'Scoop a fifth more.'
    """
    if step.act is Act.TRIM:
        return _why_trim(step.amount)
    if step.act is Act.SHIFT:
        more = say(_MORE[round(100 * step.amount)])
        if station is Station.MASS:
            return say("Scoop {more}.", more=more)
        return say("Answer {more}.", more=more)
    return say(
        _STEPS[step.act],
        off=side_words(step.amount),
        share=f"{100 * step.amount:.0f}",
        lower=f"{100 * (1 - step.amount):.0f}",
    )


def _why_trim(factor: float) -> str:
    if factor < 1:
        why = say("pieces of the layer beneath are seen too.")
    else:
        why = say("more lie in it than show.")
    return say("{what}: {why}", what=trim_words(factor), why=why)


def one_step_words(step: Step, attempt: Attempt) -> str:
    """True of one attempt whose true value is shown: what would have helped, with its numbers.

    >>> from datetime import date
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 250, 303,
    ...               parts=Layers(25, 10, 37, 10.54))
    >>> one_step_words(Step(Act.LAYER, 25 / 37), jar)
    'One layer shows 37, not 25.'
    """
    parts = attempt.parts
    if step.act is Act.HOLD_CUP and isinstance(parts, Scoop):
        return say("The empty cup weighs {cup} g: hold it first.", cup=amount_text(parts.cup_g))
    if isinstance(parts, Sides) and step.act in SIDE_ACTS:
        side_cm = parts.cm[SIDE_ACTS.index(step.act)]
        true, own = amount_text(side_cm / step.amount), amount_text(side_cm)
        return say(_ONE_SIDE[step.act], true=true, own=own)
    if isinstance(parts, Layers) and step.act is Act.LAYER:
        true, own = amount_text(parts.layer / step.amount), amount_text(parts.layer)
        return say("One layer shows {true}, not {own}.", true=true, own=own)
    if isinstance(parts, Layers) and step.act is Act.LAYERS:
        true, own = amount_text(parts.layers / step.amount), amount_text(parts.layers)
        return say("There are {true} layers, not {own}.", true=true, own=own)
    if isinstance(parts, Layers | Sides):
        return _sum_step(step, attempt, parts)
    return step_words(step, attempt.station)


def _sum_step(step: Step, attempt: Attempt, parts: Layers | Sides) -> str:
    product = sum_text(parts)
    match step.act:
        case Act.MULTIPLY:
            return slip_words(find_slip(attempt.estimate, parts))
        case Act.FIGURES:
            return say("{product}: write more than one figure of it.", product=product)
        case Act.OWN_PRODUCT:
            return say("{product}: write that.", product=product)
        case Act.OWN_ANSWER:
            return say("{product}: write that, not the partner's answer.", product=product)
        case _:
            return step_words(step, attempt.station)


def sum_text(parts: Layers | Sides) -> str:
    """A sum and what it gives.

    >>> sum_text(Layers(42, 9)), sum_text(Sides(12, 8, 5))
    ('42 x 9 is 378', '12 x 8 x 5 is 480 cm3')
    """
    unit = " cm3" if isinstance(parts, Sides) else ""
    sum_ = " x ".join(digits(f"{factor:g}") for factor in parts.factors)
    return say("{sum} is {product}", sum=sum_, product=amount_text(parts.product) + unit)


def slip_words(found: FoundSlip) -> str:
    """True of a written number that does not fit its own sum.

    >>> slip_words(find_slip(96, Sides(12, 8, 5)))
    'Two sides multiplied only (12 x 8): 12 x 8 x 5 is 480 cm3.'
    """
    shown = f" ({found.detail})" if found.detail else ""
    what, product = say(_SLIPS[found.slip]), sum_text(found.parts)
    return say("{what}{shown}: {product}.", what=what, shown=shown, product=product)
