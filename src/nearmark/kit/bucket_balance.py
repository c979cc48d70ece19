"""What is gone from the buckets of a heat against what the weighed cups hold."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from nearmark.errors import InputError
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.instruments import Instrument, checked_reading


@dataclass(frozen=True, slots=True)
class BucketWeighing:
    """One bucket on the scale, before and after a heat.

    Nothing that was scooped may be back in it when it is weighed again.
    """

    # With the bucket itself, on one scale: its own mass and the scale's zero cancel (g).
    before_g: float
    after_g: float
    scale: Instrument
    added_g: float = 0.0  # refills poured in between (g, >= 0)

    @property
    def gone_g(self) -> float:
        """What was taken out of it, in g."""
        return self.before_g + self.added_g - self.after_g


@dataclass(frozen=True, slots=True)
class CupContents:
    """What one recorded cup holds."""

    net_g: float
    u_g: float  # standard uncertainty, all influences together (g)
    causes: tuple[Component, ...] = ()  # what it shares with others; see ``Budget.causes``


class Balance(StrEnum):
    """What the difference says."""

    FITS = "fits"
    MORE_GONE = "more gone"
    LESS_GONE = "less gone"


@dataclass(frozen=True, slots=True)
class BucketBalance:
    """What is gone less what the cups hold."""

    budget: Budget  # of the difference (g)
    gone_g: float
    cups_g: float
    n_cups: int

    @property
    def difference_g(self) -> float:
        """What is gone beyond what the cups hold; below zero when they hold more (g)."""
        return self.budget.value

    @property
    def verdict(self) -> Balance:
        """Whether the difference is more than its expanded uncertainty."""
        if abs(self.difference_g) <= self.budget.expanded_uncertainty:
            return Balance.FITS
        return Balance.MORE_GONE if self.difference_g > 0 else Balance.LESS_GONE

    @property
    def cups_off(self) -> int:
        """How many cups of the usual mass the difference is, rounded; 0 without a cup."""
        if not self.n_cups or self.cups_g <= 0:
            return 0
        return round(abs(self.difference_g) / (self.cups_g / self.n_cups))


def bucket_balance(
    buckets: Sequence[BucketWeighing], cups: Sequence[CupContents], *, spill_g: float = 0.0
) -> BucketBalance:
    """Compare what is gone from the buckets with what the recorded cups hold.

    Errors of a scale that weighed buckets and cups are one error in both.

    >>> scale = Instrument("floor scale", "g", 1.0)
    >>> cups = [CupContents(101.4, 0.041), CupContents(96.2, 0.041)]
    >>> found = bucket_balance([BucketWeighing(5012, 4800, scale)], cups)
    >>> round(found.difference_g, 1), found.verdict.value, found.cups_off
    (14.4, 'more gone', 0)

    Parameters
    ----------
    buckets : shape (m,), m >= 1; every bucket that a pair of these cups scooped from
    cups : shape (n,)
    spill_g : g, >= 0
        What at most fell beside and was not swept up: anything from nothing to this is as likely.

    Raises
    ------
    InputError : if a mass cannot be, or a bucket is heavier afterwards than with its refills

    References
    ----------
    JCGM 100:2008, clauses 4.3.7 (between two limits), 5.1.2 and 5.2.2.
    """
    if not buckets:
        raise InputError("needs one bucket at least", where="bucket", mend="Weigh each bucket")
    if not 0 <= spill_g < math.inf:
        raise InputError(
            "must be zero or more", where="spilled", value=spill_g, mend="Give it in g"
        )
    rows = [row for number, one in enumerate(buckets, 1) for row in _bucket_rows(number, one)]
    for number, cup in enumerate(cups, 1):
        rows += _cup_rows(number, cup)
    if spill_g:
        rows.append(Component("spilled", spill_g / 2, "g", spill_g / math.sqrt(12), -1.0))
    gone = math.fsum(one.gone_g for one in buckets)
    held = math.fsum(cup.net_g for cup in cups)
    budget = Budget("gone less cups", gone - held - spill_g / 2, "g", tuple(rows))
    return BucketBalance(budget, gone, held, len(cups))


def _bucket_rows(number: int, one: BucketWeighing) -> tuple[Component, ...]:
    where, scale = f"bucket {number}", one.scale
    checked_reading((one.before_g,), scale, f"{where} before")
    checked_reading((one.after_g,), scale, f"{where} after")
    if not 0 <= one.added_g < math.inf:
        raise InputError(
            "must be zero or more",
            where=f"{where} refilled",
            value=one.added_g,
            mend="Give it in g",
        )
    if one.gone_g < 0:
        raise InputError(
            "is heavier after the heat than before it",
            where=where,
            value=f"{one.after_g:g} g",
            mend="Check whether the two were swapped, or what was poured in",
        )
    weighed = one.before_g - one.after_g
    refill = (
        (Component(f"resolution of the refill of {where}", one.added_g, "g", scale.resolution_u),)
        if one.added_g
        else ()
    )
    return (
        Component(f"resolution of {where} before", one.before_g, "g", scale.resolution_u),
        Component(f"resolution of {where} after", one.after_g, "g", scale.resolution_u, -1.0),
        Component(f"linearity of {where}", weighed, "g", scale.linearity_u),
        *refill,
        Component(
            f"calibration (gain) of {scale.name}",
            1.0,
            "relative",
            scale.gain_u,
            one.gone_g,
            cause=scale.gain_cause,
        ),
    )


def _cup_rows(number: int, cup: CupContents) -> list[Component]:
    shared = math.hypot(*(row.contribution for row in cup.causes))
    own = math.sqrt(max(cup.u_g**2 - shared**2, 0.0))
    return [
        Component(f"cup {number}", cup.net_g, "g", own, -1.0),
        *(
            Component(row.name, 0.0, "", row.u, -row.sensitivity, cause=row.cause)
            for row in cup.causes
        ),
    ]
