"""How much of an act a pupil's attempts ask for: medians, so that one odd attempt moves nothing."""

import math
from collections.abc import Callable, Sequence
from statistics import median
from typing import Final

from nearmark.coaching.acts import SIDE_ACTS, Act, Step, has_slip, is_copied
from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.lean import MAX_DOUBT, lean
from nearmark.coaching.scoop_habit import MIN_NUMBER, scoop_habit
from nearmark.coaching.slips import is_one_figure, is_rounding

PLAIN_FACTORS: Final = (
    *(1 / 2, 2 / 3, 3 / 4, 4 / 5, 9 / 10, 1.0),
    *(11 / 10, 6 / 5, 5 / 4, 4 / 3, 3 / 2, 2.0),
)
"""What a child can take more or less of: a tenth, a fifth, a quarter, a third, a half."""

MIN_PART: Final = 0.08
MIN_OF_THREE: Final = 0.04
"""Natural log: a habit of one part, or of one that all three sides or the whole answer share, that
is smaller needs no other way of reading (tried on simulated pupils: benchmarks/advice.py)."""

SURE_CUP: Final = 0.8
MIN_COPIES: Final = 3
MIN_SHARE: Final = 0.25
"""Of the attempts: rarer slips, single figures and copies are chance, not a habit."""

ONE_WAY: Final = 0.75
"""Share of answers on one side of what was worked out, to call it leaning."""

ALIKE: Final = 0.4
"""Of the largest side's habit that the smallest must have, to lay all three to the hand."""

MASS_MISSING: Final = (0.15, 1.0)
"""Share of one heavy cup's mass that is missing from one scoop, to name the cup for it."""


def fitted(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    """An act with the amount that attempts of one pupil at one station ask for.

    ``None`` when they do not ask for it.

    >>> from datetime import date
    >>> from nearmark.station import Station
    >>> low = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 320, 400)
    >>> fitted(Act.SHIFT, [low]).amount
    1.25
    """
    return _FITS[act](act, attempts) if attempts else None


def plain_factor(factor: float) -> float:
    """The nearest factor that a child can use.

    >>> plain_factor(0.777), plain_factor(1.02)
    (0.8, 1.0)

    Parameters
    ----------
    factor : dimensionless, > 0
    """
    return min(PLAIN_FACTORS, key=lambda plain: abs(math.log(plain / factor)))


def _own(attempts: Sequence[Attempt]) -> list[Attempt]:
    """Attempts whose answer is the pupil's own and fits its parts."""
    return [each for each in attempts if not is_copied(each) and not has_slip(each)]


def _often(holds: Callable[[Attempt], bool], fewest: int = 1) -> Callable[..., Step | None]:
    def fit(act: Act, attempts: Sequence[Attempt]) -> Step | None:
        known = [each for each in attempts if isinstance(each.parts, Layers | Sides)]
        n = sum(map(holds, known))
        is_habit = n >= min(fewest, len(attempts)) and n >= MIN_SHARE * len(known) and n > 0
        return Step(act) if is_habit else None

    return fit


def _one_figure(attempt: Attempt) -> bool:
    parts = attempt.parts
    return isinstance(parts, Layers | Sides) and is_one_figure(attempt.estimate, parts.product)


def _own_product(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    """Answers that lie to one side of what was worked out, and not by rounding."""
    off = [
        math.log(each.estimate / each.parts.product)
        for each in _own(attempts)
        if isinstance(each.parts, Layers | Sides)
        and not is_rounding(each.estimate, each.parts.product)
    ]
    if not off or abs(median(off)) < MIN_OF_THREE:
        return None
    one_way = sum(x * median(off) > 0 for x in off) >= ONE_WAY * len(off)
    return Step(act, math.exp(median(off))) if one_way else None


def _habit(logs: Sequence[float], act: Act) -> Step | None:
    found = median(logs) if logs else 0.0
    least = MIN_OF_THREE if act is Act.HAND else MIN_PART
    return Step(act, math.exp(found)) if abs(found) >= least else None


def _part(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    name = {Act.LAYER: "layer", Act.LAYERS: "layers"}[act]
    return _habit(
        [
            math.log(getattr(each.parts, name) / true)
            for each in attempts
            if isinstance(each.parts, Layers) and (true := getattr(each.parts, f"{name}_true"))
        ],
        act,
    )


def _side_logs(attempts: Sequence[Attempt]) -> list[tuple[float, ...]]:
    return [
        tuple(math.log(own / true) for own, true in zip(parts.cm, parts.true_cm, strict=True))
        for each in attempts
        if isinstance(parts := each.parts, Sides) and parts.true_cm
    ]


def _side(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    return _habit([logs[SIDE_ACTS.index(act)] for logs in _side_logs(attempts)], act)


def _hand(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    """What two of three sides agree on: one side that is badly taken is not the hand."""
    logs = _side_logs(attempts)
    if not logs:
        return None
    a, b, c = sorted(median(own) for own in zip(*logs, strict=True))
    alike = a * c > 0 and min(abs(a), abs(c)) >= ALIKE * max(abs(a), abs(c))
    return _habit([b], act) if alike else None


def _trim(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    kept = [
        each.true / (parts.layer_true * parts.layers_true)
        for each in attempts
        if isinstance(parts := each.parts, Layers) and parts.layer_true and parts.layers_true
    ]
    factor = plain_factor(median(kept)) if kept else 1.0
    return Step(act, factor) if factor != 1 else None


def _cup(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    scoops = [each for each in attempts if isinstance(each.parts, Scoop)]
    cups = [each.parts.cup_g for each in scoops if isinstance(each.parts, Scoop)]
    if len(scoops) == 1:  # one scoop cannot part hand and cup: a heavy cup may explain it all
        low, high = MASS_MISSING
        share = (scoops[0].true - scoops[0].estimate) / cups[0]
        return Step(act, share) if low <= share <= high else None
    if len(scoops) < MIN_NUMBER:
        return None
    habit = scoop_habit(scoops)
    return Step(act, habit.tare_share, median(cups)) if habit.p_tare >= SURE_CUP else None


def _lean(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    logs = [each.log_ratio for each in _own(attempts)]
    if len(logs) < 3:
        return None
    bias = median(logs)
    scatter = 1.48 * median(abs(x - bias) for x in logs)
    factor = lean(min(scatter, MAX_DOUBT), bias=min(max(bias, -3), 0.0)).factor
    return Step(act, factor) if factor < 0.98 else None


def _shift(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    logs = [each.log_ratio for each in _own(attempts)]
    factor = plain_factor(math.exp(-median(logs))) if logs else 1.0
    return Step(act, factor) if factor != 1 else None


def _both(act: Act, attempts: Sequence[Attempt]) -> Step | None:
    return Step(act) if any(each.partner is not None for each in attempts) else None


_FITS: Final[dict[Act, Callable[[Act, Sequence[Attempt]], Step | None]]] = {
    Act.MULTIPLY: _often(has_slip),
    Act.FIGURES: _often(_one_figure),
    Act.OWN_ANSWER: _often(is_copied, MIN_COPIES),
    Act.OWN_PRODUCT: _own_product,
    Act.HOLD_CUP: _cup,
    Act.HAND: _hand,
    **dict.fromkeys(SIDE_ACTS, _side),
    Act.LAYER: _part,
    Act.LAYERS: _part,
    Act.TRIM: _trim,
    Act.LEAN: _lean,
    Act.SHIFT: _shift,
    Act.PARTNER: _both,
    Act.MIDDLE: _both,
    Act.TWO_OWN: _both,
    Act.TWO_PARTNER: _both,
}
