"""The field's own answers against each key: suspicion with its likely cause, never a correction.

For one item the log ratios ``ln(answer / key)`` of all pairs have a robust mean.  Children miss
together, and by more the more pieces there are, so the mean is compared with what the other items
of the same pairs and usual fields lead to expect, not with zero.  A mean far from that asks for a
second road to the key, and Bayes' rule orders the slips that would explain it.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np

from nearmark.contest.division import is_asked
from nearmark.contest.event import Item
from nearmark.contest.field_doubts import FLAG_AT, FieldDoubt, field_doubts
from nearmark.contest.field_offset import FieldBias, Floats, explain_offset
from nearmark.contest.key_slips import Slip, possible_slips
from nearmark.contest.keys import ItemKey
from nearmark.contest.read_event import ReadEvent
from nearmark.station import Station

MIN_PROBABILITY: Final = 0.01
"""Explanations less likely than this are not listed."""

MAY_BE_RIGHT: Final = 0.1
"""From this probability on the key may also be right."""


class NoSlip(StrEnum):
    """What explains a suspect key instead of a common slip."""

    AS_STATED = "as stated"
    OTHER = "other"


DEFAULT_BIAS: Final[Mapping[Station, FieldBias]] = {
    Station.COUNT: FieldBias(-0.58, 0.12, steepest=-0.18, flattest=0.03, size=400),
    Station.VOLUME: FieldBias(-0.58, 0.12, steepest=-0.03, flattest=0.03, item_sd=0.07, size=1000),
}
"""Invented defaults: fields from 44 % low to 13 % high at 400 pieces or a litre, and up to 16 %
lower for every e-fold more pieces; replace them by the figures of your own past events.  The mass
station has no key to check: its target is exact."""


@dataclass(frozen=True, slots=True)
class SuspectedSlip:
    """One explanation of a suspect key."""

    # ``AS_STATED``: the key is right and this field is unusual; ``OTHER``: some other error.
    cause: Slip | NoSlip
    probability: float  # 0 to 1
    # What the key would be; ``None`` for some other error (unit of the item, or None).
    key: float | None


@dataclass(frozen=True, slots=True)
class KeyCheck:
    """What the field's answers say about one key."""

    item: str  # code of the item
    n: int  # answers
    # Robust mean of ``ln(answer / key)``; ``None`` with too few answers, like what follows (log
    # ratio or None).
    robust_log_ratio: float | None
    # Standard uncertainty of it, from the spread of the answers (log ratio or None).
    u: float | None
    # Where usual fields and the other items of the same pairs lead to expect it (log ratio or
    # None).
    expected: float | None
    z: float | None  # distance from there, in standard uncertainties (dimensionless or None)
    sd: float | None  # standard uncertainty of the distance (log ratio or None)
    seen_error: float | None  # key error that is flagged every other time (log ratio or None)
    flagged: bool
    rivals: tuple[str, ...]  # other items whose key could be the wrong one instead
    slips: tuple[SuspectedSlip, ...]  # likeliest first; empty when not flagged

    @property
    def likely_slip(self) -> Slip | None:
        """The likeliest common slip, if it explains the key better than any other error."""
        chance = {found.cause: found.probability for found in self.slips}
        slip = next((found for found in self.slips if isinstance(found.cause, Slip)), None)
        if slip is None or slip.probability <= chance.get(NoSlip.OTHER, 0):
            return None
        return slip.cause if isinstance(slip.cause, Slip) else None

    @property
    def may_be_right(self) -> bool:
        """Whether an unusual field explains a suspect key nearly as well."""
        return any(
            found.cause is NoSlip.AS_STATED and found.probability >= MAY_BE_RIGHT
            for found in self.slips
        )


def check_keys(
    results: ReadEvent, *, bias: Mapping[Station, FieldBias] = DEFAULT_BIAS
) -> tuple[KeyCheck, ...]:
    """Compare every measured key with the answers given to it; changes nothing.

    Items without a key or at the mass station are left out.

    >>> from nearmark.contest.example import two_pairs
    >>> from nearmark.contest.results import results
    >>> day = two_pairs()
    >>> check, = check_keys(results(day))
    >>> check.n, check.z, check.flagged
    (2, None, False)

    Parameters
    ----------
    results : such as ``Results``
    bias : what fields usually do; a station that is left out is not checked

    Notes
    -----
    The proficiency-testing check "assigned value against the participants' robust mean" takes the
    field as unbiased.  Children are not: it would suspect about half of all sound keys.

    References
    ----------
    ISO 13528:2005, annex C.1 (algorithm A) for the robust mean; ISO 13528:2015, clause 7.8 (from
    memory) for comparing it with the assigned value.
    """
    checks = []
    for station, usual in bias.items():
        items = [i for i in results.event.items if i.station is station and _has_key(results, i)]
        checks.extend(_station_checks(results, items, usual))
    order = {item.code: place for place, item in enumerate(results.event.items)}
    return tuple(sorted(checks, key=lambda check: order[check.item]))


def _has_key(results: ReadEvent, item: Item) -> bool:
    key = results.keys[item.code].key
    return key is not None and key > 0


def _station_checks(results: ReadEvent, items: Sequence[Item], usual: FieldBias) -> list[KeyCheck]:
    if not items:
        return []
    keys = [results.keys[item.code] for item in items]
    sizes = [_stated(key) for key in keys]
    ratios = np.column_stack([_log_ratios(results, key) for key in keys])
    key_u = [key.u / size for key, size in zip(keys, sizes, strict=True)]
    slips = [_slips(results, key) for key in keys]
    effects = [
        [math.log(size / slip.key) for slip in possible]
        for size, possible in zip(sizes, slips, strict=True)
    ]
    doubts: list[FieldDoubt | None] = [None] * len(items)
    # An item of some divisions is compared with what their pairs alone wrote.
    for alike in {item.divisions: item for item in items}.values():
        asked = [is_asked(alike, pair.division) for pair in results.event.pairs]
        found = field_doubts(ratios[asked], sizes, key_u, effects, usual)
        for j, item in enumerate(items):
            if item.divisions == alike.divisions:
                doubts[j] = found[j]
    checks = []
    for j, doubt in enumerate(doubts):
        if doubt is None:
            checks.append(_too_few(items[j], int((~np.isnan(ratios[:, j])).sum())))
            continue
        suspected = _suspected(sizes[j], slips[j], effects[j], doubt) if doubt.is_doubted else ()
        rivals = tuple(items[k].code for k in doubt.rivals)
        checks.append(_judged(items[j], doubt, rivals, suspected))
    return checks


def _stated(key: ItemKey) -> float:
    return float(key.key or 0)


def _log_ratios(results: ReadEvent, key: ItemKey) -> Floats:
    """``ln(answer / key)`` of all pairs of the event; ``nan`` without an answer above zero."""
    stated = _stated(key)
    answers = [results.answers.get((pair.code, key.item.code)) for pair in results.event.pairs]
    # Neither a blank nor a zero has a logarithm.
    return np.array(
        [math.log(float(a.estimate) / stated) if a and a.estimate else math.nan for a in answers]
    )


def _slips(results: ReadEvent, key: ItemKey) -> tuple[Slip, ...]:
    if key.key is None:
        return ()
    overridden = key.decision is not None and key.decision.value is not None
    measured = float(key.assigned.key) if overridden and key.assigned is not None else None
    return possible_slips(results.event, key.item, key.key, measured=measured)


def _suspected(
    stated: float, slips: Sequence[Slip], effects: Sequence[float], doubt: FieldDoubt
) -> tuple[SuspectedSlip, ...]:
    """Explanations of a doubted key, likeliest first."""
    right, chances, other = explain_offset(doubt.offset, effects)
    rows = [
        SuspectedSlip(NoSlip.AS_STATED, right, stated),
        SuspectedSlip(NoSlip.OTHER, other, None),
        *(SuspectedSlip(s, p, s.key) for s, p in zip(slips, chances, strict=True)),
    ]
    likely = [row for row in rows if row.probability >= MIN_PROBABILITY]
    return tuple(sorted(likely, key=lambda row: -row.probability))


def _too_few(item: Item, n: int) -> KeyCheck:
    return KeyCheck(
        item=item.code,
        n=n,
        robust_log_ratio=None,
        u=None,
        expected=None,
        z=None,
        sd=None,
        seen_error=None,
        flagged=False,
        rivals=(),
        slips=(),
    )


def _judged(
    item: Item, doubt: FieldDoubt, rivals: tuple[str, ...], slips: tuple[SuspectedSlip, ...]
) -> KeyCheck:
    offset = doubt.offset
    return KeyCheck(
        item=item.code,
        n=offset.n,
        robust_log_ratio=offset.mean,
        u=offset.u,
        expected=offset.expected,
        z=offset.z,
        sd=offset.sd,
        seen_error=FLAG_AT * offset.sd,
        flagged=doubt.is_doubted,
        rivals=rivals,
        slips=slips,
    )
