"""Counted samples that are odd beside each other, or beside what is usual for their material.

A sample is asked about when a slip that people make explains it better than a lot that differs:
for a natural miscount the chance of the reading after the slip must be ``MIN_RATIO`` times the
chance of the reading as it is; without any explanation the reading must be ``FAR`` standard
deviations off.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from nearmark.kit.odd_records import DishLeftOn, OddSample, OtherCount, OtherSample
from nearmark.kit.usual import UNKNOWN_PIECE_CV, UsualPiece
from nearmark.measurement.slips import Meant, SlipKind, pen_slips

MIN_RATIO: Final = 8.0
RARE_RATIO: Final = 25.0
"""How many times likelier a miscount must make the mass of a piece: for 75 and 100, and for sizes
used elsewhere in the event; for any other number.  75 for 100 is then asked from 31 % heavier or
23 % lighter on; of 1000 sound weigh-ins 13 are asked about (``benchmarks/doubts.py``)."""

FAR: Final = 3.5
"""Standard deviations from usual at which a reading is odd without any explanation."""

NEAR: Final = 2.0
"""Standard deviations from usual up to which a corrected reading is a usual one."""

MIN_DIFFERENCE: Final = 0.06
"""Samples of one lot that differ by less are left to the budget: it knows scatter better."""

MAX_COMPARED: Final = 100
"""So many readings of one thing, the first, say what is usual for it."""

SELDOM: Final = 0.5
RARE: Final = 1.5
"""Log of how much seldomer than a miscount in a common size: a decimal point, a dish left on the
scale; digits exchanged, an uncommon size (invented: no source counts them)."""

COMMON_SIZE: Final = 100
SIZE_BESIDE: Final = 75
"""Counted instead of what was typed: a hundred, half, double, and sizes used for other items of
the event; where a hundred was typed, the size that plans propose beside it."""


@dataclass(frozen=True, slots=True)
class TypedSample:
    """A counted sample as it was typed."""

    pieces: int  # pieces, >= 1
    mass_g: Decimal  # exactly as written (g, > 0)
    step_g: float  # smallest step of its scale

    @property
    def each_g(self) -> float:
        """Mass of one piece, in g."""
        return float(self.mass_g) / self.pieces


def odd_samples(
    samples: Sequence[TypedSample],
    usual: UsualPiece | None,
    *,
    sizes: Sequence[int] = (),
    dishes: Sequence[DishLeftOn] = (),
) -> tuple[OddSample | None, ...]:
    """What is odd about each counted sample of one item; ``None``: nothing.

    Samples that agree with each other are asked about once, at the first of them.

    >>> from nearmark.kit.usual import usual_piece
    >>> typed = [TypedSample(75, Decimal("18.91"), 0.01), TypedSample(75, Decimal("18.84"), 0.01)]
    >>> first, second = odd_samples(typed, usual_piece("green-pea"))
    >>> first.slip, second
    (OtherCount(pieces=100), None)

    Parameters
    ----------
    samples : shape (k,); in the order they were typed
    usual : ``None``: the samples are compared with each other alone
    sizes : pieces, shape (m,); sizes of samples used for other items of the event
    dishes : DishLeftOn, shape (d,); what may have been left on the scale
    """
    if not samples:
        return ()
    measure = _consensus(samples, usual)
    found: list[OddSample | None] = []
    asked = False
    for sample in samples:
        if not _agree(sample, measure, usual):
            found.append(_beside_others(sample, measure, usual, sizes, dishes))
            continue
        beside = None if usual is None or asked else _beside_usual(sample, usual, sizes, dishes)
        asked = asked or beside is not None
        found.append(beside)
    return tuple(found)


def _consensus(samples: Sequence[TypedSample], usual: UsualPiece | None) -> TypedSample:
    """The sample that most others agree with; then the most usual one; then the first."""
    first = samples[:MAX_COMPARED]

    def rank(sample: TypedSample) -> tuple[int, float]:
        friends = sum(_agree(sample, other, usual) for other in first)
        off = abs(math.log(sample.each_g / usual.mass_g)) if usual else 0.0
        return friends, -off

    return max(first, key=rank)


def _agree(one: TypedSample, other: TypedSample, usual: UsualPiece | None) -> bool:
    """Whether two samples differ by no more than pieces, rounding and one piece miscounted."""
    return abs(math.log(one.each_g / other.each_g)) <= _tolerance(one, other, usual)


def _tolerance(one: TypedSample, other: TypedSample, usual: UsualPiece | None) -> float:
    cv = usual.piece_cv if usual else UNKNOWN_PIECE_CV
    spread = FAR * cv * math.sqrt(1 / one.pieces + 1 / other.pieces)
    rounding = sum(s.step_g / 2 / float(s.mass_g) for s in (one, other))
    return max(MIN_DIFFERENCE, spread + rounding + 1 / min(one.pieces, other.pieces))


def _beside_others(
    sample: TypedSample,
    measure: TypedSample,
    usual: UsualPiece | None,
    sizes: Sequence[int],
    dishes: Sequence[DishLeftOn],
) -> OddSample:
    tolerance = _tolerance(sample, measure, usual)
    guesses = [*_miscounts(sample, (*sizes, measure.pieces)), *_mistyped(sample, dishes)]
    slip = _likeliest(sample, measure.each_g, tolerance / NEAR, guesses)
    is_unusual = usual is not None and _is_usual(sample, usual)
    return OddSample(sample.pieces, sample.mass_g, OtherSample(measure.each_g, is_unusual), slip)


def _beside_usual(
    sample: TypedSample,
    usual: UsualPiece,
    sizes: Sequence[int],
    dishes: Sequence[DishLeftOn],
) -> OddSample | None:
    off = math.log(sample.each_g / usual.mass_g)
    sigma = usual.sigma(sample.pieces, float(sample.mass_g), sample.step_g)
    guesses = _miscounts(sample, sizes)
    if abs(off) > FAR * sigma:
        guesses += _mistyped(sample, dishes)
    else:
        guesses = [guess for guess in guesses if _is_miscount(guess, off, sigma)]
        if not guesses:
            return None
    slip = _likeliest(sample, usual.mass_g, sigma, guesses)
    return OddSample(sample.pieces, sample.mass_g, usual, slip)


def _is_usual(sample: TypedSample, usual: UsualPiece) -> bool:
    sigma = usual.sigma(sample.pieces, float(sample.mass_g), sample.step_g)
    return abs(math.log(sample.each_g / usual.mass_g)) <= NEAR * sigma


@dataclass(frozen=True, slots=True)
class _Guess:
    """One slip that may be behind a sample.

    ``shift`` is what it did to the mass of a piece, as a log ratio; ``least`` is how much likelier
    it must make the reading to be a reason to ask.
    """

    slip: OtherCount | Meant | DishLeftOn
    shift: float
    cost: float
    least: float = math.inf


def _miscounts(sample: TypedSample, sizes: Sequence[int]) -> list[_Guess]:
    """Numbers of pieces that may have been counted instead."""
    n = sample.pieces
    common = SIZE_BESIDE if n == COMMON_SIZE else COMMON_SIZE
    found = []
    for count in sorted({common, *sizes, 2 * n, round(n / 2)} - {n, 0}):
        is_common = count in sizes or {count, n} == {COMMON_SIZE, SIZE_BESIDE}
        cost, least = (0.0, MIN_RATIO) if is_common else (RARE, RARE_RATIO)
        found.append(_Guess(OtherCount(count), math.log(count / n), cost, least))
    return found


def _mistyped(sample: TypedSample, dishes: Iterable[DishLeftOn]) -> list[_Guess]:
    """Masses that may have been meant instead: slips of the pen, a dish left on the scale."""
    mass_g, found = sample.mass_g, []
    for slip in pen_slips(mass_g):
        cost = RARE if slip.kind is SlipKind.EXCHANGED else SELDOM
        found.append(_Guess(slip, math.log(mass_g / slip.value), cost))
    found.extend(
        _Guess(dish, math.log(mass_g / (mass_g - dish.mass_g)), SELDOM)
        for dish in dishes
        if 0 < dish.mass_g < mass_g
    )
    return found


def _is_miscount(guess: _Guess, off: float, sigma: float) -> bool:
    """Whether a miscount explains a mass far better than a lot that differs."""
    # Log of the ratio of the two normal densities.
    gain = (off**2 - (off - guess.shift) ** 2) / (2 * sigma**2)
    return gain >= math.log(guess.least) and abs(off - guess.shift) <= NEAR * sigma


def _likeliest(
    sample: TypedSample, each_g: float, sigma: float, guesses: Iterable[_Guess]
) -> OtherCount | Meant | DishLeftOn | None:
    """The slip after which the sample fits best; ``None`` if it fits after none."""
    off = math.log(sample.each_g / each_g)

    def score(guess: _Guess) -> float:
        return -((off - guess.shift) ** 2) / (2 * sigma**2) - guess.cost

    fitting = [guess for guess in guesses if abs(off - guess.shift) <= NEAR * sigma]
    return max(fitting, key=score).slip if fitting else None
