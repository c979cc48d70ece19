"""The best way to take a length with a hand: few placements, the leftover by eye.

A plan lays one reference k1 times, a shorter one k2 times, and takes the rest, a fraction f of the
last one, by eye.  Its variance is

    (k1 u1)^2 + ((k2 + f) u2)^2        the length of the references: the same in every placement
    + k1 e1^2 + k2 e2^2                each placement anew
    + (n - 1) j^2 + j^2 / 2            the joints between n placements, and the end
    + (s b2)^2 min(1, 4 f (1 - f) + 1/4)   the fraction by eye
"""

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from nearmark.coaching.body_reference import BodyReference
from nearmark.coaching.limits import checked
from nearmark.errors import InputError

MOST_PLACEMENTS: Final = 5
"""The fraction by eye included."""

JOINT_CM: Final = 0.08
"""Standard deviation of putting one placement to the end of the last (invented start)."""

EYE_SHARE: Final = 0.07
"""Standard deviation of a fraction near one half, by eye, as a share of the unit (invented)."""

_NO_FRACTION: Final = 0.02
TAUGHT_LENGTHS_CM: Final = tuple(half / 2 for half in range(6, 51))
"""3 to 25 cm in half centimetres: sides of boxes a child can hold."""
MOST_REFERENCES: Final = 20


@dataclass(frozen=True, slots=True)
class MeasurePlan:
    """How to take one length.

    Attributes
    ----------
    length_cm : cm
    steps : tuple of (BodyReference, placements)
        One or two, the longer first; placements may be zero for the last when only its fraction
        is used.
    fraction : dimensionless, 0 <= fraction < 1
        Of the last reference, by eye.
    sd_cm : cm
        Standard deviation of the length found so.
    """

    length_cm: float
    steps: tuple[tuple[BodyReference, int], ...]
    fraction: float
    sd_cm: float

    @property
    def relative_sd(self) -> float:
        """Standard deviation divided by the length."""
        return self.sd_cm / self.length_cm

    @property
    def n_placements(self) -> int:
        """Placements, the fraction by eye included."""
        return sum(times for _, times in self.steps) + (self.fraction >= _NO_FRACTION)

    @property
    def words(self) -> str:
        """The plan in plain words."""
        parts = [f"{times} x {reference.name}" for reference, times in self.steps if times]
        last = self.steps[-1][0]
        if self.fraction >= _NO_FRACTION:
            parts.append(f"about {_fraction_words(self.fraction)} of a {last.name}")
        return f"{', then '.join(parts)} (within about {100 * self.relative_sd:.1f} %)."


def _fraction_words(fraction: float) -> str:
    tenths = round(10 * fraction)
    named = {0: "a trace", 5: "half", 10: "all"}
    return named.get(tenths, f"{tenths} tenth{'s' if tenths > 1 else ''}")


def plans(length_cm: float, references: Sequence[BodyReference]) -> tuple[MeasurePlan, ...]:
    """Every plan of few placements for a length, the best first.

    Parameters
    ----------
    length_cm : cm, > 0
    references : BodyReference, shape (n,), 1 <= n <= 20

    Returns
    -------
    tuple of MeasurePlan
        Empty when the references are too short for the length.

    Raises
    ------
    InputError
        If the length makes no sense, or there are no references or too many.

    Examples
    --------
    >>> palm, joint = BodyReference("palm", 7, 0.06, 0.1), BodyReference("joint", 2, 0.03, 0.05)
    >>> plans(9.0, [palm, joint])[0].words
    '1 x palm, then 1 x joint (within about 1.8 %).'
    """
    checked(length_cm, "length", 0.5, 1000, mend="Give it in cm")
    if not 1 <= len(references) <= MOST_REFERENCES:
        raise InputError(
            f"1 to {MOST_REFERENCES} are needed", where="references", value=len(references)
        )
    ordered = sorted(references, key=lambda each: -each.length_cm)
    found = list(_alone(length_cm, ordered))
    for longer, shorter in itertools.combinations(ordered, 2):
        found += _together(length_cm, longer, shorter)
    few = [plan for plan in found if plan.n_placements <= MOST_PLACEMENTS]
    return tuple(sorted(few, key=lambda plan: plan.sd_cm))


def measure_plan(length_cm: float, references: Sequence[BodyReference]) -> MeasurePlan:
    """The plan with the least error for a length.

    Parameters
    ----------
    length_cm : cm, > 0
        Roughly, as the eye takes it.
    references : BodyReference, shape (n,), 1 <= n <= 20

    Returns
    -------
    MeasurePlan

    Raises
    ------
    InputError
        If no plan has few enough placements.

    Examples
    --------
    >>> measure_plan(15, [BodyReference("palm", 7, 0.06, 0.1)]).words
    '2 x palm, then about 1 tenth of a palm (within about 3.2 %).'
    """
    found = plans(length_cm, references)
    if not found:
        raise InputError(
            f"takes more than {MOST_PLACEMENTS} placements of these references",
            where="length",
            value=length_cm,
            mend="Add a longer reference, such as the hand or the span",
        )
    return found[0]


def best_set(
    references: Sequence[BodyReference],
    n: int,
    *,
    lengths_cm: Iterable[float] = TAUGHT_LENGTHS_CM,
) -> tuple[tuple[BodyReference, ...], float, float]:
    """The few references to teach: those that measure a range of lengths best.

    Parameters
    ----------
    references : BodyReference, shape (m,)
    n : references, 1 <= n <= m; two, later three
    lengths_cm : cm, shape (k,)

    Returns
    -------
    references, rms, worst : tuple of BodyReference; relative; relative
        Root mean square and largest relative standard deviation over the lengths.

    Raises
    ------
    InputError
        If there are too few references, or no set reaches all of the lengths.

    Examples
    --------
    >>> palm, joint = BodyReference("palm", 7, 0.06, 0.1), BodyReference("joint", 2, 0.03, 0.05)
    >>> [each.name for each in best_set([joint, palm], 1)[0]]
    ['palm']
    """
    checked(n, "references to teach", 1, max(1, len(references)))
    wanted = tuple(lengths_cm)
    rated = []
    for chosen in itertools.combinations(references, n):
        best = [plans(length, chosen)[:1] for length in wanted]
        if all(best):
            shares = [plan.relative_sd for (plan,) in best]
            rms = math.sqrt(math.fsum(s * s for s in shares) / len(shares))
            rated.append((rms, max(shares), chosen))
    if not rated:
        raise InputError(
            "no set reaches every length", where="references", mend="Add a longer reference"
        )
    rms, worst, chosen = min(rated, key=lambda each: each[0])
    return chosen, rms, worst


def _alone(length: float, references: Iterable[BodyReference]) -> Iterable[MeasurePlan]:
    for reference in references:
        times, fraction = _divided(length, reference.length_cm)
        variance = (
            ((times + fraction) * reference.u_cm) ** 2
            + times * reference.repeat_cm**2
            + _placing(times, fraction, reference)
        )
        yield MeasurePlan(length, ((reference, times),), fraction, math.sqrt(variance))


def _together(
    length: float, longer: BodyReference, shorter: BodyReference
) -> Iterable[MeasurePlan]:
    for first in range(1, MOST_PLACEMENTS + 1):
        rest = length - first * longer.length_cm
        if rest < 0:
            return
        second, fraction = _divided(rest, shorter.length_cm)
        if not second and fraction < _NO_FRACTION:
            continue  # the longer one alone
        variance = (
            (first * longer.u_cm) ** 2
            + ((second + fraction) * shorter.u_cm) ** 2
            + first * longer.repeat_cm**2
            + second * shorter.repeat_cm**2
            + _placing(first + second, fraction, shorter)
        )
        steps = ((longer, first), (shorter, second))
        yield MeasurePlan(length, steps, fraction, math.sqrt(variance))


def _divided(length: float, unit: float) -> tuple[int, float]:
    """Whole placements and the fraction left; a sum such as 15.2 + 4.8 leaves none."""
    times = math.floor(length / unit + 1e-9)
    return times, max(0.0, length / unit - times)


def _placing(whole: int, fraction: float, last: BodyReference) -> float:
    """Variance of joints, end and eye."""
    by_eye = fraction >= _NO_FRACTION
    joints = (whole + by_eye - 1 + 0.5) * JOINT_CM**2
    if not by_eye:
        return joints
    eye = min(1.0, 4 * fraction * (1 - fraction) + 0.25)
    return joints + (EYE_SHARE * last.length_cm) ** 2 * eye
