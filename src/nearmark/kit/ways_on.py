"""How to go on with a count that is not fit: more samples, larger ones, or none at all."""

import math
from dataclasses import dataclass, replace

from nearmark.kit.count_options import Container, CountOptions
from nearmark.kit.key_advice import (
    KeyAdvice,
    LargerSamplesReach,
    LookElsewhere,
    OneMoreSample,
    SamplesDoNotReach,
    SamplesReach,
    ScaleTooCoarse,
)
from nearmark.kit.next_sample import MAX_MORE, MoreSamples, NextSample, more_needed
from nearmark.kit.sample_scatter import USUAL_PIECE_CV, shows_rounding
from nearmark.kit.unit_mass import UnitMass

LARGER_SIZES = (50, 75, 100, 150, 200, 300, 400, 500, 750, 1000, 1500, 2000)
MAX_LARGER = 10
"""Larger samples than what is counted so far, and how many of them at most are proposed."""

MIN_TO_GIVE_UP = 6
"""Fewer samples say too little of the scatter to call more of them useless."""

LESS_WORK = 0.8
"""Larger samples are proposed where they take less than this share of the work."""

MAX_MINUTES = 120
"""Nor are they proposed where they take longer than this."""


@dataclass(frozen=True, slots=True)
class WaysOn:
    """The ways to go on with a count that is not fit."""

    coming: NextSample
    same: MoreSamples | None  # samples of the size so far; ``None`` if they do not reach the limit
    larger: MoreSamples | None  # larger samples, where they are clearly less work or the only way
    # Step of the scale, where it alone is in the way of samples of the size so far (g, or None).
    coarse_step_g: float | None


def ways_on(
    unit: UnitMass, container: Container, options: CountOptions, coming: NextSample
) -> WaysOn:
    """Which samples should make a count fit: of the same size, larger ones, or none.

    Pieces that differ by 25 %: samples of 100 are too small.

    >>> from nearmark.kit.count_checks import checked_container
    >>> from nearmark.kit.next_sample import predict_next
    >>> from nearmark.measurement.instruments import Instrument, Reading
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = checked_container(Reading((9700.0,), scale), Reading((100.0,), scale), None)
    >>> unit, options = UnitMass(0.6, 0.15, 3, 300), CountOptions()
    >>> on = ways_on(unit, container, options, predict_next(unit, container, options))
    >>> on.same, on.larger.pieces, on.larger.n_samples, on.larger.minutes
    (None, 400, 9, 65)
    """
    left = container.net_g / unit.mass_g - unit.n_pieces
    same = MoreSamples(coming.pieces, coming.more_needed) if coming.more_needed else None
    if same and same.total_pieces >= left:
        same = None
    larger = _larger(unit, container, options, left, same)
    scale = container.sample_scale
    rounds = same is None and not shows_rounding(unit, scale)
    if same is larger is None and not rounds and _may_be_luck(unit, container, options, left):
        same = MoreSamples(coming.pieces, 1)
    return WaysOn(coming, same, larger, scale.resolution if rounds else None)


def advice(
    unit: UnitMass, container: Container, options: CountOptions, coming: NextSample
) -> tuple[KeyAdvice, ...]:
    """What to do with a count that is not fit; nothing when it is.

    >>> from nearmark.kit.count_checks import checked_container
    >>> from nearmark.kit.next_sample import predict_next
    >>> from nearmark.measurement.instruments import Instrument, Reading
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = checked_container(Reading((1402.4,), scale), Reading((102.4,), scale), None)
    >>> unit, options = UnitMass(0.052, 0.0, 10, 1000), CountOptions()
    >>> coarse, larger = advice(unit, container, options, predict_next(unit, container, options))
    >>> coarse.step_g, larger.pieces, larger.n_samples, larger.is_less_work
    (0.1, 750, 1, False)
    """
    if coming.now_relative_u <= options.u_limit:
        return ()
    return advice_on(ways_on(unit, container, options, coming), options.u_limit)


def advice_on(on: WaysOn, limit: float) -> tuple[KeyAdvice, ...]:
    """The ways on as advice, with the minutes they take.

    >>> coming = NextSample(100, 0.02, 0.019, None)
    >>> found = advice_on(WaysOn(coming, None, MoreSamples(500, 5), None), 0.01)
    >>> [type(one).__name__ for one in found]
    ['SamplesDoNotReach', 'LargerSamplesReach']

    Parameters
    ----------
    limit : relative; the wanted U
    """
    size, same, larger = on.coming.pieces, on.same, on.larger
    found: list[KeyAdvice] = []
    if same:
        now, then = on.coming.now_relative_u, on.coming.predicted_relative_u
        found.append(OneMoreSample(size, now, then, MoreSamples(size, 1).minutes))
        if same.n_samples > 1:
            found.append(SamplesReach(size, same.n_samples, same.minutes, limit))
    elif on.coarse_step_g is not None:
        found.append(ScaleTooCoarse(size, on.coarse_step_g))
    else:
        are_too_small = on.coming.more_needed is None and larger is not None
        found.append(SamplesDoNotReach(size, limit, MAX_MORE if are_too_small else None))
    if larger:
        is_less_work = same is not None
        found.append(
            LargerSamplesReach(larger.pieces, larger.n_samples, larger.minutes, limit, is_less_work)
        )
    elif not same:
        found.append(LookElsewhere())
    return tuple(found)


def _may_be_luck(unit: UnitMass, container: Container, options: CountOptions, left: float) -> bool:
    """Whether there are few samples, and pieces that differ as usual would come to fit."""
    if unit.n_samples >= MIN_TO_GIVE_UP:
        return False
    usual = replace(unit, piece_sd_g=USUAL_PIECE_CV * unit.mass_g)
    return _larger(usual, container, options, left, None) is not None


def _larger(
    unit: UnitMass,
    container: Container,
    options: CountOptions,
    left: float,
    same: MoreSamples | None,
) -> MoreSamples | None:
    """Larger samples that make the count fit with clearly less work; ``None`` if there are none."""
    best = None
    most_minutes = min(LESS_WORK * same.minutes if same else math.inf, MAX_MINUTES)
    for size in LARGER_SIZES:
        if size <= unit.n_pieces / unit.n_samples or size >= left:
            continue
        most = min(MAX_LARGER, int(left / size))
        while most and MoreSamples(size, most).minutes > most_minutes:
            most -= 1
        n = more_needed(unit, container, options, size, most) if most else None
        if n is not None:
            best = MoreSamples(size, n)
            most_minutes = best.minutes - 1
    return best
