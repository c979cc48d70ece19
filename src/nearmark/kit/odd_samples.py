"""Counted samples that are odd beside each other, or beside what is usual for their material.

A sample is asked about when a slip that people make explains it better than a lot that differs:
for a natural miscount the chance of the reading after the slip must be ``LEAST_RATIO`` times the
chance of the reading as it stands; without any explanation the reading must be ``FAR`` standard
deviations off.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from nearmark.kit.usual import UNKNOWN_PIECE_CV, UsualPiece
from nearmark.measurement.rounding import three_digits
from nearmark.measurement.slips import SlipKind, pen_slips

LEAST_RATIO: Final = 8.0
RARE_RATIO: Final = 25.0
"""How many times likelier a miscount must make the mass of a piece: for 75 and 100, and for sizes
used elsewhere in the event; for any other number.  75 for 100 is then asked from 31 % heavier or
23 % lighter on; of 1000 sound weigh-ins 13 are asked about (``benchmarks/doubts.py``)."""

FAR: Final = 3.5
"""Standard deviations from usual at which a reading is odd without any explanation."""

NEAR: Final = 2.0
"""Standard deviations from usual up to which a corrected reading is a usual one."""

LEAST_DIFFERENCE: Final = 0.06
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
class Oddity:
    """What is odd about a reading, and what it might be.

    Attributes
    ----------
    words : str
        What is odd, and by how much.
    ask : str
        The question to the person who typed it.
    """

    words: str
    ask: str


@dataclass(frozen=True, slots=True)
class TypedSample:
    """A counted sample as it was typed.

    Attributes
    ----------
    pieces : pieces, >= 1
    mass_g : g, > 0
        Exactly as written.
    step_g : g
        Smallest step of its scale.
    """

    pieces: int
    mass_g: Decimal
    step_g: float

    @property
    def each_g(self) -> float:
        """Mass of one piece, in g."""
        return float(self.mass_g) / self.pieces


def odd_samples(
    samples: Sequence[TypedSample],
    usual: UsualPiece | None,
    *,
    sizes: Sequence[int] = (),
    dishes: Sequence[tuple[str, Decimal]] = (),
) -> tuple[Oddity | None, ...]:
    """What is odd about each counted sample of one item.

    Samples that agree with each other are asked about once, at the first of them.

    Parameters
    ----------
    samples : shape (k,)
        In the order they were typed.
    usual : UsualPiece or None
        ``None``: the samples are compared with each other alone.
    sizes : pieces, shape (m,)
        Sizes of samples used for other items of the event.
    dishes : shape (d,), of (name, g)
        What may have been left on the scale.

    Returns
    -------
    tuple of Oddity or None, shape (k,)

    Examples
    --------
    >>> from nearmark.kit.usual import usual_piece
    >>> typed = [TypedSample(75, Decimal("18.91"), 0.01), TypedSample(75, Decimal("18.84"), 0.01)]
    >>> first, second = odd_samples(typed, usual_piece("green-pea"))
    >>> first.ask, second
    ('Did you count 100 pieces?', None)
    """
    if not samples:
        return ()
    measure = _consensus(samples, usual)
    found: list[Oddity | None] = []
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
    return max(LEAST_DIFFERENCE, spread + rounding + 1 / min(one.pieces, other.pieces))


def _beside_others(
    sample: TypedSample,
    measure: TypedSample,
    usual: UsualPiece | None,
    sizes: Sequence[int],
    dishes: Sequence[tuple[str, Decimal]],
) -> Oddity:
    tolerance = _tolerance(sample, measure, usual)
    words = (
        f"{_sample_words(sample)}, {_off(sample.each_g / measure.each_g)} than in another sample "
        f"of it ({three_digits(measure.each_g)} g)"
    )
    guesses = [*_miscounts(sample, (*sizes, measure.pieces)), *_mistyped(sample, dishes)]
    ask = _likeliest(sample, measure.each_g, tolerance / NEAR, guesses)
    if not ask and usual is not None and _is_usual(sample, usual):
        ask = "This one is near the usual: were the others counted and weighed right?"
    return Oddity(words, ask or "Count it again, and weigh it again?")


def _beside_usual(
    sample: TypedSample,
    usual: UsualPiece,
    sizes: Sequence[int],
    dishes: Sequence[tuple[str, Decimal]],
) -> Oddity | None:
    off = math.log(sample.each_g / usual.mass_g)
    sigma = usual.sigma(sample.pieces, float(sample.mass_g), sample.step_g)
    guesses = _miscounts(sample, sizes)
    if abs(off) > FAR * sigma:
        guesses += _mistyped(sample, dishes)
    else:
        guesses = [guess for guess in guesses if _is_miscount(guess, off, sigma)]
        if not guesses:
            return None
    words = (
        f"{_sample_words(sample)}, {_off(math.exp(off))} than usual "
        f"({three_digits(usual.mass_g)} g, {usual.words})"
    )
    ask = _likeliest(sample, usual.mass_g, sigma, guesses)
    if not ask and off > 0:
        ask = "Was the dish tared away? Is it this material?"
    return Oddity(words, ask or "Are all pieces on the scale? Is it this material?")


def _is_usual(sample: TypedSample, usual: UsualPiece) -> bool:
    sigma = usual.sigma(sample.pieces, float(sample.mass_g), sample.step_g)
    return abs(math.log(sample.each_g / usual.mass_g)) <= NEAR * sigma


@dataclass(frozen=True, slots=True)
class _Guess:
    """One slip that may be behind a sample.

    ``shift`` is what it did to the mass of a piece, as a log ratio; ``least`` is how much likelier
    it must make the reading to be a reason to ask.
    """

    ask: str
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
        cost, least = (0.0, LEAST_RATIO) if is_common else (RARE, RARE_RATIO)
        ask = f"Did you count {count} pieces?"
        found.append(_Guess(ask, math.log(count / n), cost, least))
    return found


def _mistyped(sample: TypedSample, dishes: Iterable[tuple[str, Decimal]]) -> list[_Guess]:
    """Masses that may have been meant instead: slips of the pen, a dish left on the scale."""
    mass_g, found = sample.mass_g, []
    for slip in pen_slips(mass_g):
        cost = RARE if slip.kind is SlipKind.EXCHANGED else SELDOM
        found.append(_Guess(slip.question("g"), math.log(mass_g / slip.value), cost))
    for name, dish_g in dishes:
        if 0 < dish_g < mass_g:
            ask = f"Was {name} ({dish_g:f} g) left on the scale?"
            found.append(_Guess(ask, math.log(mass_g / (mass_g - dish_g)), SELDOM))
    return found


def _is_miscount(guess: _Guess, off: float, sigma: float) -> bool:
    """Whether a miscount explains a mass far better than a lot that differs."""
    # Log of the ratio of the two normal densities.
    gain = (off**2 - (off - guess.shift) ** 2) / (2 * sigma**2)
    return gain >= math.log(guess.least) and abs(off - guess.shift) <= NEAR * sigma


def _likeliest(sample: TypedSample, each_g: float, sigma: float, guesses: Iterable[_Guess]) -> str:
    """The question of the slip after which the sample fits best; empty if it fits after none."""
    off = math.log(sample.each_g / each_g)

    def score(guess: _Guess) -> float:
        return -((off - guess.shift) ** 2) / (2 * sigma**2) - guess.cost

    fitting = [guess for guess in guesses if abs(off - guess.shift) <= NEAR * sigma]
    return max(fitting, key=score).ask if fitting else ""


def _sample_words(sample: TypedSample) -> str:
    each = three_digits(sample.each_g)
    return f"{sample.pieces} pieces, {sample.mass_g:f} g: one piece weighs {each} g"


def _off(ratio: float) -> str:
    """``33 % heavier``, ``10 times heavier``, ``20 % lighter``."""
    if ratio >= 2:
        return f"{ratio:.2g} times heavier"
    if ratio >= 1:
        return f"{100 * (ratio - 1):.0f} % heavier"
    if ratio > 0.5:
        return f"{100 * (1 - ratio):.0f} % lighter"
    return f"{1 / ratio:.2g} times lighter"
