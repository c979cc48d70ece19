"""What a child can do differently, each as a pure function from an attempt to another attempt.

A step is one act with its amount.  ``done`` gives the attempt as it would have been, from what the
child had in hand: its parts, its sum, the cup, the partner's answer.  Nothing here knows the truth;
amounts are learnt from other attempts (``act_fits``).
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.slips import find_slip, is_one_figure, is_rounding
from nearmark.station import Station


class Act(StrEnum):
    """What to do differently."""

    MULTIPLY = "multiply again"
    FIGURES = "write more figures"
    OWN_ANSWER = "write your own answer"
    OWN_PRODUCT = "write what you worked out"
    HOLD_CUP = "hold the empty cup first"
    HAND = "measure the hand again"
    LENGTH = "take the length again"
    WIDTH = "take the width again"
    HEIGHT = "take the height again"
    LAYER = "count the layer again"
    LAYERS = "count the layers again"
    TRIM = "leave out a share of the layer"
    LEAN = "lean"
    SHIFT = "answer higher or lower"
    PARTNER = "let the partner decide"
    MIDDLE = "take the middle of both"
    TWO_OWN = "two parts your own answer, one part the partner's"
    TWO_PARTNER = "one part your own answer, two parts the partner's"


SIDE_ACTS: Final = (Act.LENGTH, Act.WIDTH, Act.HEIGHT)
OWN_SHARE: Final = {
    Act.PARTNER: 0.0,
    Act.TWO_PARTNER: 1 / 3,
    Act.MIDDLE: 1 / 2,
    Act.TWO_OWN: 2 / 3,
}
"""Weight of a pupil's own answer when two meet."""


@dataclass(frozen=True, slots=True)
class Step:
    """One act with its amount."""

    act: Act
    # TRIM, LEAN, SHIFT: the factor of the answer. LAYER, LAYERS, the sides and HAND: the habit to
    # be taken out, as the factor by which the part is read. HOLD_CUP: the share of the cup's mass
    # that is not allowed for. One for the acts without an amount (dimensionless).
    amount: float = 1.0
    around_g: float = 0.0  # HOLD_CUP only: the cup with which nothing changes


def done(step: Step, attempt: Attempt) -> Attempt | None:
    """The attempt as it would have been.

    ``None`` when the attempt does not say enough: its parts were not written down.

    >>> from datetime import date
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 250, 303,
    ...               parts=Layers(25, 10, 37, 10.54))
    >>> done(Step(Act.LAYER, 25 / 37), jar).estimate, done(Step(Act.TRIM, 0.75), jar).estimate
    (370.0, 187.5)
    """
    return _DONE[step.act](step, attempt)


def all_done(steps: Sequence[Step], attempt: Attempt) -> Attempt | None:
    """The attempt after several steps, one after the other.

    ``None`` when one of them cannot be done.

    >>> from datetime import date
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 250, 303,
    ...               parts=Layers(25, 10, 37, 10.54))
    >>> all_done([Step(Act.LAYER, 25 / 37), Step(Act.TRIM, 0.8)], jar).estimate
    296.0
    """
    after: Attempt | None = attempt
    for step in steps:
        after = None if after is None else done(step, after)
    return after


FULL: Final = 100.0
"""Points of an exact estimate."""


def guess_points(guess: float, true: float) -> float:
    """Score of an estimate: 100 points at the true value, none from double upwards.

    >>> guess_points(90, 100), guess_points(250, 100)
    (90.0, 0.0)

    Parameters
    ----------
    guess, true : the same unit, > 0
    """
    return max(0.0, FULL * (1 - abs(guess / true - 1)))


def points(attempt: Attempt) -> float:
    """Score of an attempt, points from 0 to 100.

    >>> from datetime import date
    >>> points(Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 380, 400))
    95.0
    """
    return guess_points(attempt.estimate, attempt.true)


def has_slip(attempt: Attempt) -> bool:
    """Whether the answer does not fit its own parts, by a known slip or by half as much again.

    >>> from datetime import date
    >>> has_slip(Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 3800, 400,
    ...                  parts=Layers(38, 10)))
    True
    """
    if not isinstance(attempt.parts, Layers | Sides) or is_copied(attempt):
        return False
    slip = find_slip(attempt.estimate, attempt.parts)
    far = abs(math.log(attempt.estimate / slip.product)) > math.log(_FAR)
    return slip.is_known or (far and not is_rounding(attempt.estimate, slip.product))


_FAR: Final = 1.5


def is_copied(attempt: Attempt) -> bool:
    """Whether the answer is the partner's, and not what their own parts give.

    >>> from datetime import date
    >>> is_copied(Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 450, 400,
    ...                   parts=Layers(38, 10), partner=450))
    True
    """
    parts = attempt.parts
    return (
        isinstance(parts, Layers | Sides)
        and attempt.estimate == attempt.partner
        and abs(math.log(attempt.estimate / parts.product)) > _OFF
        and not is_rounding(attempt.estimate, parts.product)
    )


_OFF: Final = 0.05
"""Natural log, as for slips: up to it an answer is its product, honestly rounded."""


def _product(attempt: Attempt) -> float | None:
    return attempt.parts.product if isinstance(attempt.parts, Layers | Sides) else None


def _to_product_if(applies: Callable[[Attempt, float], bool]) -> Callable[..., Attempt | None]:
    """An act that writes the pupil's own product where something holds, else changes nothing."""

    def act(_step: Step, attempt: Attempt) -> Attempt | None:
        product = _product(attempt)
        if product is None:
            return None
        return replace(attempt, estimate=product) if applies(attempt, product) else attempt

    return act


def _scaled(step: Step, attempt: Attempt) -> Attempt:
    return replace(attempt, estimate=attempt.estimate * step.amount)


def _trimmed(step: Step, attempt: Attempt) -> Attempt | None:
    if not isinstance(attempt.parts, Layers):
        return None
    return replace(
        attempt,
        estimate=attempt.estimate * step.amount,
        parts=replace(attempt.parts, layer=attempt.parts.layer * step.amount),
    )


def _part_read(name: str, kind: type[Layers] | type[Sides]) -> Callable[..., Attempt | None]:
    """An act that takes a habit out of one part."""

    def act(step: Step, attempt: Attempt) -> Attempt | None:
        if not isinstance(attempt.parts, kind):
            return None
        parts = replace(attempt.parts, **{name: getattr(attempt.parts, name) / step.amount})
        return replace(attempt, estimate=attempt.estimate / step.amount, parts=parts)

    return act


def _hand_measured(step: Step, attempt: Attempt) -> Attempt | None:
    if not isinstance(attempt.parts, Sides):
        return None
    a, b, c = (side / step.amount for side in attempt.parts.cm)
    parts = replace(attempt.parts, length=a, width=b, height=c)
    return replace(attempt, estimate=attempt.estimate / step.amount**3, parts=parts)


def _cup_held(step: Step, attempt: Attempt) -> Attempt | None:
    if not isinstance(attempt.parts, Scoop) or attempt.station is not Station.MASS:
        return None
    net_g = attempt.estimate + step.amount * (attempt.parts.cup_g - step.around_g)
    return replace(attempt, estimate=max(net_g, 1.0))


def _met(step: Step, attempt: Attempt) -> Attempt | None:
    if attempt.partner is None:
        return None
    own = OWN_SHARE[step.act]
    return replace(attempt, estimate=own * attempt.estimate + (1 - own) * attempt.partner)


_DONE: Final[dict[Act, Callable[[Step, Attempt], Attempt | None]]] = {
    Act.MULTIPLY: _to_product_if(lambda attempt, _: has_slip(attempt)),
    Act.FIGURES: _to_product_if(lambda attempt, product: is_one_figure(attempt.estimate, product)),
    Act.OWN_ANSWER: _to_product_if(lambda attempt, _: is_copied(attempt)),
    Act.OWN_PRODUCT: _to_product_if(lambda attempt, _: not has_slip(attempt)),
    Act.HOLD_CUP: _cup_held,
    Act.HAND: _hand_measured,
    Act.LENGTH: _part_read("length", Sides),
    Act.WIDTH: _part_read("width", Sides),
    Act.HEIGHT: _part_read("height", Sides),
    Act.LAYER: _part_read("layer", Layers),
    Act.LAYERS: _part_read("layers", Layers),
    Act.TRIM: _trimmed,
    Act.LEAN: _scaled,
    Act.SHIFT: _scaled,
    **dict.fromkeys(OWN_SHARE, _met),
}
