"""Questions about values that are possible but unlikely.  They never change or block anything."""

from collections.abc import Sequence
from decimal import Decimal
from statistics import median

from nearmark.contest.rules import StationRule

FAR_RATIO = 5
"""An answer this many times above or below the field's median is asked about."""

FEWEST_ANSWERS = 3
"""With fewer, nobody can say which of them is the unlikely one."""

_SLIPS = (
    (Decimal(10), "is a digit missing?"),
    (Decimal("0.1"), "is there a digit too many?"),
    (Decimal(1000), "is that thousands?"),
    (Decimal("0.001"), "are three digits too many?"),
)
_SAME_RATIO = 2
"""A slip explains an answer when undoing it brings the answer within this ratio of the median."""


def unlikely_answers(estimates: Sequence[Decimal | None], rule: StationRule) -> tuple[str, ...]:
    """A question for each answer on one item; empty for most.

    Parameters
    ----------
    estimates : unit of the item, shape (n,)
        ``None``: nothing to ask about.
    rule : StationRule
        Limits of its station.

    Returns
    -------
    tuple of str, shape (n,)

    Examples
    --------
    >>> field = [Decimal(n) for n in (14200, 17, 15000, 21000, 9500)]
    >>> unlikely_answers(field, StationRule())[1]
    '17 is far from what the others wrote: is that thousands?'
    """
    given = [e for e in estimates if e is not None and e > 0]
    middle = median(given) if len(given) >= FEWEST_ANSWERS else None
    return tuple("" if e is None else _question(e, middle, rule) for e in estimates)


def _question(estimate: Decimal, middle: Decimal | None, rule: StationRule) -> str:
    if middle and not middle / FAR_RATIO < estimate < middle * FAR_RATIO:
        return f"{estimate:f} is far from what the others wrote: {_slip(estimate, middle)}"
    if not rule.lowest <= estimate <= rule.highest:
        return f"{estimate:f} is outside {rule.lowest} to {rule.highest}: was it read well?"
    return ""


def _slip(estimate: Decimal, middle: Decimal) -> str:
    """The slip of writing that would explain it."""
    for factor, words in _SLIPS:
        if middle / _SAME_RATIO < estimate * factor < middle * _SAME_RATIO:
            return words
    return "was it read well?"
