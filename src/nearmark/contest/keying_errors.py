"""What might stand on the paper when a number was keyed in wrongly.

The kinds and their shares are invented defaults: one digit misread is taken as the commonest.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Final

MISREAD: Final = 0.5
EXCHANGED: Final = 0.25
LEFT_OUT: Final = 0.125
TOO_MANY: Final = 0.125
"""Shares of all keying errors: invented defaults, to be replaced by an event's own counts."""


@dataclass(frozen=True, slots=True)
class KeyingRates:
    """Wrong fields per field keyed.

    References
    ----------
    Pooled from 93 papers, 0.29 % (0.24 to 0.35) and 0.14 % (0.08 to 0.20): Garza et al., *Error
    rates of data processing methods in clinical research*, 2025, PMC13078370, abstract.  Trained
    clerks and other forms: a school event may do worse.
    """

    single: float = 0.0029  # keyed or read once (probability)
    # Read twice by different people, with differences resolved against the paper (probability).
    double: float = 0.0014


def papers_behind(keyed: Decimal) -> tuple[tuple[float, float], ...]:
    """Numbers that may stand on the paper if the keyed number is a keying error.

    The probabilities sum to 1 or a little less: some errors change nothing (a leading zero), some
    kinds cannot have led to ``keyed``.

    >>> dict(papers_behind(Decimal("42")))[24.0]
    0.25

    Parameters
    ----------
    keyed : unit of the field, >= 0
    """
    text = format(keyed, "f")
    kinds = (
        (MISREAD, list(_one_digit_other(text))),
        (EXCHANGED, list(_neighbours_exchanged(text))),
        (LEFT_OUT, list(_one_digit_more(text))),
        (TOO_MANY, list(_one_digit_less(text))),
    )
    chances: dict[float, float] = {}
    for share, papers in kinds:
        for paper in papers:
            number = float(paper)
            chances[number] = chances.get(number, 0.0) + share / len(papers)
    chances.pop(float(text), None)
    return tuple(chances.items())


def _one_digit_other(text: str) -> Iterator[str]:
    for i, digit in enumerate(text):
        if digit.isdigit():
            yield from (text[:i] + d + text[i + 1 :] for d in "0123456789" if d != digit)


def _neighbours_exchanged(text: str) -> Iterator[str]:
    places = [i for i, c in enumerate(text) if c.isdigit()]
    for i, j in pairwise(places):
        if text[i] != text[j]:
            swapped = list(text)
            swapped[i], swapped[j] = text[j], text[i]
            yield "".join(swapped)


def _one_digit_more(text: str) -> Iterator[str]:
    for i in range(len(text) + 1):
        yield from (text[:i] + d + text[i:] for d in "0123456789")


def _one_digit_less(text: str) -> Iterator[str]:
    if sum(c.isdigit() for c in text) > 1:
        yield from (text[:i] + text[i + 1 :] for i, c in enumerate(text) if c.isdigit())
