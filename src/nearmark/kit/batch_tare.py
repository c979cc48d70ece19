"""One tare for a batch of cups, if they are alike enough."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from nearmark.errors import InputError, TooFewReadings
from nearmark.kit.assigned_value import DEFAULT_U_LIMIT
from nearmark.kit.reading_checks import checked_in
from nearmark.measurement.coverage import coverage_factor
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.measurement.type_a import type_a

MIN_CUPS = 3
OUTLYING_SCORE = 3.5
"""Modified z-score above which a cup does not belong (Iglewicz and Hoaglin 1993)."""


@dataclass(frozen=True, slots=True)
class BatchTare:
    """One tare for a whole batch of cups, and whether that is good enough."""

    # Mean of the weighed cups, and the scatter of single cups.
    mean_g: float
    sd_g: float
    n_cups: int
    u_g: float  # standard uncertainty of the mean as the tare of *one* cup of the batch
    expanded_u_g: float  # at 95 %, with Student's factor
    outlying: tuple[int, ...]  # which cups (1 is the first) do not belong to the batch
    points: float  # what ``expanded_u_g`` is worth in the score of the target mass (points)
    is_good_enough: bool  # whether no cup is outlying and U is within the limit
    median_g: float  # of the weighed cups
    first_outlying_g: float | None  # of the first cup that does not belong
    target_g: float  # net mass the score is about


def batch_tare(
    tares_g: Sequence[float],
    scale: Instrument,
    *,
    target_g: float = 100.0,
    u_limit: float = DEFAULT_U_LIMIT,
) -> BatchTare:
    """Whether the cups of a batch are alike enough to share one tare.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> batch = batch_tare([12.3, 12.4, 12.4, 12.5, 15.1, 12.4], scale)
    >>> batch.outlying, batch.median_g, batch.first_outlying_g
    ((5,), 12.4, 15.1)

    Parameters
    ----------
    tares_g : g, shape (n,), n >= 3; single cups, each weighed once
    scale : Instrument, in g
    target_g : g, > 0; net mass the score is about
    u_limit : relative; U of the tare, relative to the target, up to which one tare is good enough

    Raises
    ------
    TooFewReadings : if there are fewer than three cups
    InputError, UnitError : if a tare is impossible

    References
    ----------
    B. Iglewicz, D. C. Hoaglin, *How to Detect and Handle Outliers*, ASQC 1993: modified z-score
    above 3.5 (from memory, as also quoted in the NIST/SEMATECH e-Handbook, 1.3.5.17).
    """
    if len(tares_g) < MIN_CUPS:
        raise TooFewReadings(
            "batch of cups", got=len(tares_g), need=MIN_CUPS, mend="Weigh more cups of the batch"
        )
    if not (math.isfinite(target_g) and target_g > 0):
        raise InputError(
            "must be above zero", where="target mass", value=target_g, mend="Give it in g"
        )
    for i, mass in enumerate(tares_g, start=1):
        checked_in("g", Reading((mass,), scale), f"cup {i}")
    evaluated = type_a(tares_g)
    one_cup = max(evaluated.standard_deviation, scale.resolution_u)
    u = one_cup * math.sqrt(1 + 1 / evaluated.n)
    expanded = coverage_factor(evaluated.dof) * u
    outlying = _outlying(tares_g, scale)
    good = not outlying and expanded <= u_limit * target_g
    return BatchTare(
        mean_g=evaluated.mean,
        sd_g=evaluated.standard_deviation,
        n_cups=evaluated.n,
        u_g=u,
        expanded_u_g=expanded,
        outlying=outlying,
        points=100 * expanded / target_g,
        is_good_enough=good,
        median_g=median(tares_g),
        first_outlying_g=tares_g[outlying[0] - 1] if outlying else None,
        target_g=target_g,
    )


def _outlying(tares_g: Sequence[float], scale: Instrument) -> tuple[int, ...]:
    middle = median(tares_g)
    spread = median(abs(x - middle) for x in tares_g)
    # Cups that agree to the last digit must not make a neighbour one step away look foreign.
    unit = max(spread / 0.6745, scale.resolution)
    return tuple(
        i for i, x in enumerate(tares_g, start=1) if abs(x - middle) > OUTLYING_SCORE * unit
    )
