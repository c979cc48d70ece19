"""The field's own answers against each key: suspicion with its likely cause, never a correction.

For one item the log ratios ``ln(answer / key)`` of all pairs have a robust mean.  Children miss
together, so the mean is compared with what fields of children usually do at that station, not
with zero.  A mean three standard uncertainties away from that asks for a second look at the key,
and Bayes' rule orders the slips that would explain it.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np

from nearmark.contest.event import Item
from nearmark.contest.field_offset import (
    FEWEST_ANSWERS,
    FLAG_AT,
    FieldBias,
    Floats,
    Offset,
    between_items,
    explain_offset,
    field_offset,
)
from nearmark.contest.key_slips import possible_slips
from nearmark.contest.keys import ItemKey
from nearmark.contest.results import Results
from nearmark.contest.rules import Station

LEAST_PROBABILITY: Final = 0.01
"""Explanations less likely than this are not listed."""

FOUR_IN_FIVE: Final = 0.8416
"""Normal quantile of 0.8."""

NOTHING_SEEN: Final = "With so few answers no key error would be seen; only a second count can."

AS_STATED: Final = "the key is right, this field is unusual"
OTHER: Final = "some other error"


DEFAULT_BIAS: Final[Mapping[Station, FieldBias]] = {
    Station.COUNT: FieldBias(-0.12, 0.12),
    Station.VOLUME: FieldBias(-0.02, 0.05),
}
"""Invented defaults; replace them by the figures of your own past events.  The mass station has
no key to check: its target is exact."""


class SuspectedSlip(NamedTuple):
    """One explanation of a suspect key.

    Attributes
    ----------
    words : str
    probability : 0 to 1
    key : unit of the item, or None
        What the key would be; ``None`` for "some other error".
    """

    words: str
    probability: float
    key: float | None


@dataclass(frozen=True, slots=True)
class KeyCheck:
    """What the field's answers say about one key.

    Attributes
    ----------
    item : str
        Code of the item.
    n : answers
    robust_log_ratio : log ratio or None
        Robust mean of ``ln(answer / key)``; ``None`` with too few answers, like what follows.
    u : log ratio or None
        Standard uncertainty of it, as a value of this field.
    z : dimensionless or None
        Distance from the usual field, in standard uncertainties.
    z_between : dimensionless or None
        Distance from the other items of the station, answered by the same pairs; ``None`` with
        fewer than two others.
    flagged : bool
    slips : tuple of SuspectedSlip
        Likeliest first; empty when not flagged.
    words, limit_words : str
        The finding, and what the check cannot see.
    """

    item: str
    n: int
    robust_log_ratio: float | None
    u: float | None
    z: float | None
    z_between: float | None
    flagged: bool
    slips: tuple[SuspectedSlip, ...]
    words: str
    limit_words: str

    def as_json(self) -> dict[str, object]:
        """The stable keys that ``--json`` prints.

        Returns
        -------
        dict
            ``item``, ``answers``, ``robust_log_ratio``, ``standard_uncertainty``, ``z``,
            ``z_between``, ``flagged``, ``slips`` (``words``, ``probability``, ``key``), ``words``,
            ``limit``.
        """
        return {
            "item": self.item,
            "answers": self.n,
            "robust_log_ratio": self.robust_log_ratio,
            "standard_uncertainty": self.u,
            "z": self.z,
            "z_between": self.z_between,
            "flagged": self.flagged,
            "slips": [slip._asdict() for slip in self.slips],
            "words": self.words,
            "limit": self.limit_words,
        }


def check_keys(
    results: Results, *, bias: Mapping[Station, FieldBias] = DEFAULT_BIAS
) -> tuple[KeyCheck, ...]:
    """Compare every measured key with the answers given to it; changes nothing.

    Parameters
    ----------
    results : Results
    bias : mapping Station -> FieldBias
        What fields usually do; a station that is left out is not checked.

    Returns
    -------
    tuple of KeyCheck
        In the order of the event's items; items without a key or at the mass station left out.

    Notes
    -----
    The proficiency-testing check "assigned value against the participants' robust mean" takes the
    field as unbiased.  Children are not: it would suspect about half of all sound keys.

    References
    ----------
    ISO 13528:2005, annex C.1 (algorithm A) for the robust mean; ISO 13528:2015, clause 7.8 (from
    memory) for comparing it with the assigned value.

    Examples
    --------
    >>> from datetime import date
    >>> from decimal import Decimal
    >>> from nearmark.contest.event import AnswerReading, AnswerStatus, HandCount, Pair, Event
    >>> from nearmark.contest.results import results
    >>> from nearmark.contest.rules import Station
    >>> day = Event(
    ...     "Larkspur Valley Estimation Day", date(2027, 5, 8),
    ...     items=(Item("C1", Station.COUNT, "jar"),),
    ...     hand_counts=(HandCount("C1", 1000, "Ana"), HandCount("C1", 1008, "Ben")),
    ...     pairs=(Pair("P1", "North", ("a", "b")), Pair("P2", "South", ("c", "d"))),
    ...     answers=tuple(
    ...         AnswerReading(pair, "C1", n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(pieces))
    ...         for pair, pieces in (("P1", 950), ("P2", 1061)) for n in (1, 2)))
    >>> check, = check_keys(results(day))
    >>> check.words
    '2 answers are too few to judge the key by: at least 8 needed.'
    """
    checks = []
    for station, usual in bias.items():
        items = [i for i in results.event.items if i.station is station and _has_key(results, i)]
        checks.extend(_station_checks(results, items, usual))
    order = {item.code: place for place, item in enumerate(results.event.items)}
    return tuple(sorted(checks, key=lambda check: order[check.item]))


def _has_key(results: Results, item: Item) -> bool:
    key = results.keys[item.code].key
    return key is not None and key > 0


def _station_checks(results: Results, items: Sequence[Item], usual: FieldBias) -> list[KeyCheck]:
    if not items:
        return []
    keys = [results.keys[item.code] for item in items]
    ratios = np.column_stack([_log_ratios(results, key) for key in keys])
    key_u = [key.u / float(key.key) for key in keys if key.key is not None]
    alone = [field_offset(ratios[:, j], key_u[j], usual) for j in range(len(items))]
    suspects = [j for j, found in enumerate(alone) if found and abs(found.z) > FLAG_AT]
    between = between_items(ratios, key_u, suspects)
    return [
        _too_few(keys[j], int((~np.isnan(ratios[:, j])).sum()))
        if found is None
        else _judged(results, keys[j], found, between[j])
        for j, found in enumerate(alone)
    ]


def _log_ratios(results: Results, key: ItemKey) -> Floats:
    """``ln(answer / key)`` of all pairs of the event; ``nan`` without an answer above zero."""
    stated = float(key.key or 0)
    answers = [results.answers.get((pair.code, key.item.code)) for pair in results.event.pairs]
    # Neither a blank nor a zero has a logarithm.
    return np.array(
        [math.log(float(a.estimate) / stated) if a and a.estimate else math.nan for a in answers]
    )


def _too_few(key: ItemKey, n: int) -> KeyCheck:
    words = f"{n} answers are too few to judge the key by: at least {FEWEST_ANSWERS} needed."
    return KeyCheck(
        item=key.item.code,
        n=n,
        robust_log_ratio=None,
        u=None,
        z=None,
        z_between=None,
        flagged=False,
        slips=(),
        words=words,
        limit_words=NOTHING_SEEN,
    )


def _judged(results: Results, key: ItemKey, alone: Offset, between: Offset | None) -> KeyCheck:
    worst = max((o for o in (alone, between) if o is not None), key=lambda o: abs(o.z))
    flagged = abs(worst.z) > FLAG_AT
    slips = _suspected(results, key, worst) if flagged else ()
    return KeyCheck(
        item=key.item.code,
        n=alone.n,
        robust_log_ratio=alone.mean,
        u=alone.u,
        z=alone.z,
        z_between=None if between is None else between.z,
        flagged=flagged,
        slips=slips,
        words=_words(alone, between, slips),
        limit_words=_limit_words(alone),
    )


def _suspected(results: Results, key: ItemKey, offset: Offset) -> tuple[SuspectedSlip, ...]:
    """Explanations of an offset, likeliest first."""
    if key.key is None:
        return ()
    overridden = key.decision is not None and key.decision.value is not None
    measured = float(key.assigned.key) if overridden and key.assigned is not None else None
    slips = possible_slips(results.event, key.item, key.key, measured=measured)
    effects = [math.log(float(key.key) / slip.key) for slip in slips]
    right, chances, other = explain_offset(offset, effects)
    rows = [
        SuspectedSlip(AS_STATED, right, float(key.key)),
        SuspectedSlip(OTHER, other, None),
        *(SuspectedSlip(s.words, p, s.key) for s, p in zip(slips, chances, strict=True)),
    ]
    likely = [row for row in rows if row.probability >= LEAST_PROBABILITY]
    return tuple(sorted(likely, key=lambda row: -row.probability))


def _words(alone: Offset, between: Offset | None, slips: Sequence[SuspectedSlip]) -> str:
    where = (
        f"the middle of {alone.n} answers is {_percent(alone.mean)} off the key "
        f"(usual: {_percent(alone.expected)}, give or take {100 * alone.sd:.0f} %)"
    )
    if not slips:
        return f"Nothing suspicious: {where}."
    against = ""
    if between is not None and abs(between.z) > FLAG_AT:
        against = f", {_percent(between.mean)} against the other items of the station"
    first = slips[0]
    return (
        f"Please check this key again: {where}{against}. "
        f"Likeliest: {first.words} ({100 * first.probability:.0f} %)."
    )


def _limit_words(offset: Offset) -> str:
    """What key error passes unseen; the offset's own scatter sets it."""
    evens, mostly = (
        100 * math.expm1((FLAG_AT + quantile) * offset.sd) for quantile in (0.0, FOUR_IN_FIVE)
    )
    return (
        f"The answers show a key error of {evens:.0f} % only every other time, and one of "
        f"{mostly:.0f} % four times in five; a smaller one only a second count, weighing or "
        "measuring can show."
    )


def _percent(log_ratio: float) -> str:
    return f"{100 * math.expm1(log_ratio):+.0f} %"
