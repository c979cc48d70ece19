"""Answers that are far from what the other pairs wrote, and cups with an unusual mass."""

import math
from collections.abc import Mapping, Sequence
from decimal import Decimal
from statistics import median
from typing import Final

from nearmark.contest.odd_records import AnswerOutside, AnswerSlip, FarAnswer, OddGross
from nearmark.contest.rules import StationRule
from nearmark.measurement.slips import likeliest, pen_slips

MIN_ANSWERS: Final = 3
"""With fewer, nobody can say which of them is the odd one."""

FAR: Final = 3.0
"""Robust standard deviations of the field, as a log ratio, at which an answer is asked about."""

MIN_SPREAD: Final = 0.3
"""A field never agrees so well that a third more or less is odd: fields of children scatter by 0.3
to 0.6 (as a log ratio; the same as in the key check)."""

FEW: Final = 8
FEW_SPREAD: Final = 0.45
"""With fewer than eight answers their own scatter says little: the usual one is taken."""

ROW_FAR: Final = 2.5
"""The same, for an answer that is near what others wrote on another item: a wrong row."""

ROW_NEAR: Final = 1.5
"""Such an answer is within this ratio of the other item's median."""

SAME: Final = 2.0
"""A slip explains an answer when it brings it within this ratio of the field's median."""

NET_RATIO: Final = 3.0
"""A cup that holds more than three times the target, or less than a third, is asked about."""

_SLIPS: Final = (
    (Decimal(10), AnswerSlip.DIGIT_MISSING),
    (Decimal("0.1"), AnswerSlip.DIGIT_TOO_MANY),
    (Decimal(1000), AnswerSlip.THOUSANDS),
    (Decimal("0.001"), AnswerSlip.THREE_TOO_MANY),
)


def odd_answer(
    answer: Decimal,
    others: Sequence[Decimal],
    rule: StationRule,
    *,
    elsewhere: Mapping[str, Sequence[Decimal]] | None = None,
) -> FarAnswer | AnswerOutside | None:
    """What is odd about one answer beside those of the other pairs.

    >>> field = [Decimal(n) for n in (14200, 15000, 21000, 9500)]
    >>> odd_answer(Decimal(17), field, StationRule()).slip
    <AnswerSlip.THOUSANDS: 'thousands'>
    >>> odd_answer(Decimal(9000), field, StationRule()) is None
    True

    Parameters
    ----------
    answer : unit of the item
    others : unit of the item, shape (n,)
        Of *other* pairs alone, so that the question does not tell what the first reader read.
    rule : limits of its station
    elsewhere : mapping item -> unit of the item, shape (m,), or None
        Answers on the other items of the station: the row may be wrong.
    """
    off = _standard_offset(answer, others)
    if off > FAR:
        return _explained(answer, others, elsewhere or {})
    row = _row_meant(answer, elsewhere or {}) if off > ROW_FAR else ""
    if row:
        return FarAnswer(answer, AnswerSlip.ANOTHER_ROW, row)
    if not rule.lowest <= answer <= rule.highest:
        return AnswerOutside(answer, float(rule.lowest), float(rule.highest))
    return None


def _standard_offset(answer: Decimal, others: Sequence[Decimal]) -> float:
    """How many robust standard deviations an answer is off the median of others.

    0 with fewer than three others; infinite for an answer of zero.
    """
    logs = [math.log(other) for other in others if other > 0]
    n = len(logs)
    if n < MIN_ANSWERS:
        return 0.0
    if answer <= 0:
        return math.inf
    middle = median(logs)
    # The median of absolute deviations, scaled to a normal standard deviation: 1 / 0.6745.
    spread = median(abs(x - middle) for x in logs) / 0.6745
    spread = max(spread, FEW_SPREAD if n < FEW else MIN_SPREAD)
    # The median itself is uncertain: its variance is pi / 2 that of a mean.
    sigma = spread * math.sqrt(1 + math.pi / 2 / n)
    return abs(math.log(answer) - middle) / sigma


def _explained(
    answer: Decimal, others: Sequence[Decimal], elsewhere: Mapping[str, Sequence[Decimal]]
) -> FarAnswer:
    """A far answer with the slip that would explain it."""
    for factor, slip in _SLIPS:
        if _is_near(answer * factor, others, SAME):
            return FarAnswer(answer, slip)
    row = _row_meant(answer, elsewhere)
    return FarAnswer(answer, AnswerSlip.ANOTHER_ROW if row else None, row)


def _row_meant(answer: Decimal, elsewhere: Mapping[str, Sequence[Decimal]]) -> str:
    """The other item on which others wrote about as much; empty when there is none."""
    for item, field in elsewhere.items():
        if len(field) >= MIN_ANSWERS and _is_near(answer, field, ROW_NEAR):
            return item
    return ""


def _is_near(answer: Decimal, field: Sequence[Decimal], ratio: float) -> bool:
    middle = float(median(field))
    return middle / ratio < float(answer) < middle * ratio


def odd_gross(gross_g: Decimal, tare_g: Decimal, target_g: float) -> OddGross | None:
    """What is odd about a filled cup.

    >>> odd_gross(Decimal(1043), Decimal("8.6"), 100).meant.value
    Decimal('104.3')
    >>> odd_gross(Decimal("104.3"), Decimal("8.6"), 100) is None
    True

    Parameters
    ----------
    gross_g, tare_g : g
    target_g : g; what a cup should hold
    """
    low, high = target_g / NET_RATIO, target_g * NET_RATIO
    if low <= float(gross_g - tare_g) <= high:
        return None
    tare = float(tare_g)
    slip = likeliest(pen_slips(gross_g), tare + low, tare + high)
    return OddGross(gross_g, tare_g, slip)
