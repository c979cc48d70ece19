"""One estimate on the strip, its place on the log-ratio axis, and what a strip shows."""

import math
from dataclasses import dataclass
from enum import StrEnum

from nearmark.errors import InputError
from nearmark.words.deviations import (
    DOUBLE,
    HALF,
    no_estimates,
    of_whom,
    others_words,
    true_value_known,
)

EDGE = math.log(2)
"""The axis runs from half (-ln 2) to double (+ln 2)."""

ENDS = (HALF, DOUBLE)
"""Ratios at the two ends of the axis."""

BAND = (0.9, 1.1)
"""Ratios of the shaded band: answers of 90 points or more under percent accuracy."""


class MarkKind(StrEnum):
    """Whose estimate it is; each kind has its own shape, never only its own colour."""

    THIS = "this pair"
    MEAN = "mean"
    OTHER = "others"


@dataclass(frozen=True, slots=True)
class Mark:
    """One estimate against the true value.

    Raises InputError if the ratio is negative or not a number.
    """

    ratio: float  # estimate divided by the true value (dimensionless, finite, >= 0)
    label: str = ""  # drawn beside the mark; empty for none
    kind: MarkKind = MarkKind.OTHER

    def __post_init__(self) -> None:
        if not (math.isfinite(self.ratio) and self.ratio >= 0):
            raise InputError(
                "a ratio must be a number of zero or more",
                where=f"mark {self.label or self.kind.value}",
                value=self.ratio,
                mend="Divide the estimate by a true value above zero",
            )

    @property
    def x(self) -> float:
        """The log ratio ln(estimate / true); minus infinity for an estimate of zero."""
        return math.log(self.ratio) if self.ratio > 0 else -math.inf

    @property
    def side(self) -> int:
        """-1 below half, +1 above double, 0 on the axis."""
        return (self.x > EDGE) - (self.x < -EDGE)


def widest_percent(interval: tuple[float, float]) -> float:
    """The farther end of the true value's interval, in percent of the true value.

    >>> round(widest_percent((0.98, 1.03)), 1)
    3.0
    """
    return 100 * max(abs(bound - 1) for bound in interval)


def summary(marks: tuple[Mark, ...], interval: tuple[float, float] | None) -> str:
    """What the strip shows, in words: for a screen reader, and for a person to check it.

    ``interval`` ((low, high) ratios, or None): 95 % interval of the true value, divided by the true
    value.

    >>> summary((Mark(0.88, "P07", MarkKind.THIS), Mark(1.2), Mark(0.7)), (0.99, 1.01))
    'P07: 12 % low. 2 others, from 30 % low to 20 % high. True value known within 1 %.'
    """
    named = [m for m in marks if m.label or m.kind is not MarkKind.OTHER]
    others = sorted(m.ratio for m in marks if m not in named)
    parts = [of_whom(m.label or m.kind.value, m.ratio) for m in named]
    if others:
        parts.append(others_words(others))
    if interval is not None:
        parts.append(true_value_known(widest_percent(interval)))
    return ". ".join(parts) + "." if parts else no_estimates()
