"""How to take a length with a hand, in thirds and halves that a child can say.

A plan lays one to three references, the longest first, and takes the rest as a plain share f of the
shortest: none, a third, a half or two thirds, or a third or a half less where it reaches too far.
Its variance is

    sum of (k u)^2, with k + f for the last   the length of the references: the same each time
    + sum of k e^2                            each new placement
    + (n - 1) j^2 + j^2 / 2                   the joints between n placements, and the end
    + (s b)^2 min(1, 4 |f| (1 - |f|) + 1/4)   the share by eye, of the shortest reference b
    + d^2                                     what the plain share misses of the length
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from nearmark.coaching.body_reference import BodyReference
from nearmark.coaching.limits import checked
from nearmark.errors import InputError

MAX_PLACEMENTS: Final = 5
"""The share by eye included."""

MAX_KINDS: Final = 3
"""Of references in one plan."""

PLAIN_SHARES: Final = (-1 / 2, -1 / 3, 0.0, 1 / 3, 1 / 2, 2 / 3)
"""Of the shortest reference, by eye; below zero only where no whole one of it is laid."""

JOINT_CM: Final = 0.08
"""Standard deviation of putting one placement to the end of the last (invented start)."""

EYE_SHARE: Final = 0.07
"""Standard deviation of a share near one half, by eye, as a share of the unit (invented)."""

AS_GOOD: Final = 1.1
"""A plan with fewer references and placements may be off by so much more."""

TAUGHT_LENGTHS_CM: Final = tuple(half / 2 for half in range(6, 51))
"""3 to 25 cm in half centimetres: sides of boxes a child can hold."""

MAX_REFERENCES: Final = 20


@dataclass(frozen=True, slots=True)
class MeasurePlan:
    """How to take one length."""

    length_cm: float
    # One to three, the longest first; placements may be zero for the last when only a share of it
    # is used ((BodyReference, placements)).
    steps: tuple[tuple[BodyReference, int], ...]
    # Of the last reference, by eye; below zero: so much less (dimensionless, one of
    # ``PLAIN_SHARES``).
    fraction: float
    sd_cm: float  # standard deviation of the length found so

    @property
    def relative_sd(self) -> float:
        """Standard deviation divided by the length."""
        return self.sd_cm / self.length_cm

    @property
    def n_placements(self) -> int:
        """Placements, the share by eye included."""
        return sum(times for _, times in self.steps) + (self.fraction != 0)


def plans(length_cm: float, references: Sequence[BodyReference]) -> tuple[MeasurePlan, ...]:
    """Every plan of few placements for a length, the least error first.

    Empty when the references are too short for the length.

    >>> palm, joint = BodyReference("palm", 7, 0.06, 0.1), BodyReference("joint", 2, 0.03, 0.05)
    >>> [(each.name, times) for each, times in plans(9.0, [palm, joint])[0].steps]
    [('palm', 1), ('joint', 1)]

    Parameters
    ----------
    length_cm : cm, > 0
    references : BodyReference, shape (n,), 1 <= n <= 20

    Raises
    ------
    InputError : if the length makes no sense, or there are no references or too many
    """
    checked(length_cm, "length", 0.5, 1000, mend="Give it in cm")
    if not 1 <= len(references) <= MAX_REFERENCES:
        raise InputError(
            f"1 to {MAX_REFERENCES} are needed", where="references", value=len(references)
        )
    ordered = sorted(references, key=lambda each: -each.length_cm)
    found = [
        plan
        for kinds in range(1, MAX_KINDS + 1)
        for chosen in itertools.combinations(ordered, kinds)
        for plan in _laid(length_cm, chosen)
    ]
    return tuple(sorted(found, key=lambda plan: plan.sd_cm))


def measure_plan(length_cm: float, references: Sequence[BodyReference]) -> MeasurePlan:
    """The simplest plan for a length of those with hardly more than the least error.

    >>> plan = measure_plan(18.2, [BodyReference("palm", 7.1, 0.06, 0.1),
    ...                            BodyReference("thumb", 2.0, 0.03, 0.05)])
    >>> [(each.name, times) for each, times in plan.steps], plan.fraction
    ([('palm', 2), ('thumb', 2)], 0.0)

    Parameters
    ----------
    length_cm : cm, > 0; roughly, as the eye takes it
    references : BodyReference, shape (n,), 1 <= n <= 20

    Raises
    ------
    InputError : if no plan has few enough placements
    """
    found = plans(length_cm, references)
    if not found:
        raise InputError(
            f"takes more than {MAX_PLACEMENTS} placements of these references",
            where="length",
            value=length_cm,
            mend="Add a longer reference, such as the hand or the span",
        )
    good = [plan for plan in found if plan.sd_cm <= AS_GOOD * found[0].sd_cm]
    return min(good, key=lambda plan: (len(plan.steps), plan.n_placements, plan.sd_cm))


@dataclass(frozen=True, slots=True)
class MeasuringRoutine:
    """One way for every length: the longer one as often as it fits, then the shorter."""

    longer: BodyReference
    shorter: BodyReference
    # Root mean square and largest relative standard deviation over lengths of 3 to 25 cm
    # (relative).
    rms: float
    worst: float


def measuring_routine(references: Sequence[BodyReference]) -> MeasuringRoutine | None:
    """The two references that serve best when a child does not know the length.

    ``None`` with fewer than two references, or when no two reach every length.

    >>> found = measuring_routine([BodyReference("palm", 7, 0.06, 0.1),
    ...                            BodyReference("thumb", 2, 0.03, 0.05)])
    >>> found.longer.name, found.shorter.name, 0.02 < found.rms < 0.04
    ('palm', 'thumb', True)
    """
    ordered = sorted(references, key=lambda each: -each.length_cm)
    rated = [_routine(*pair) for pair in itertools.combinations(ordered, 2)]
    return min((each for each in rated if each is not None), key=lambda r: r.rms, default=None)


def _routine(longer: BodyReference, shorter: BodyReference) -> MeasuringRoutine | None:
    shares = []
    for length in TAUGHT_LENGTHS_CM:
        first = math.floor(length / longer.length_cm + 1e-9)
        plan = _with_rest(length, ((longer, first),), shorter)
        if plan is None or plan.fraction < 0:
            return None
        shares.append(plan.relative_sd)
    rms = math.sqrt(math.fsum(s * s for s in shares) / len(shares))
    return MeasuringRoutine(longer, shorter, rms, max(shares))


def best_set(
    references: Sequence[BodyReference], n: int
) -> tuple[tuple[BodyReference, ...], float, float]:
    """The few references to teach: those that measure ``TAUGHT_LENGTHS_CM`` best.

    The references; root mean square and largest relative standard deviation over the lengths.

    >>> palm, joint = BodyReference("palm", 7, 0.06, 0.1), BodyReference("joint", 2, 0.03, 0.05)
    >>> [each.name for each in best_set([joint, palm], 1)[0]]
    ['palm']

    Parameters
    ----------
    references : BodyReference, shape (m,)
    n : references, 1 <= n <= m; two, later three

    Raises
    ------
    InputError : if there are too few references, or no set reaches all of the lengths
    """
    checked(n, "references to teach", 1, max(1, len(references)))
    rated = []
    for chosen in itertools.combinations(references, n):
        best = [plans(length, chosen)[:1] for length in TAUGHT_LENGTHS_CM]
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


def _laid(length: float, chosen: Sequence[BodyReference]) -> Iterator[MeasurePlan]:
    """Every plan that lays each of the longer ones at least once, the rest by the shortest."""
    *longer, last = chosen
    for times in itertools.product(range(1, MAX_PLACEMENTS + 1), repeat=len(longer)):
        plan = _with_rest(length, tuple(zip(longer, times, strict=True)), last)
        if plan is None or plan.n_placements > MAX_PLACEMENTS:
            continue
        if plan.steps[-1][1] or plan.fraction:  # else the longer ones alone
            yield plan


def _with_rest(
    length: float, laid: tuple[tuple[BodyReference, int], ...], last: BodyReference
) -> MeasurePlan | None:
    """A plan whose rest is the nearest plain share of the last; ``None`` when it is too far."""
    rest = (length - math.fsum(k * each.length_cm for each, k in laid)) / last.length_cm
    whole = max(0, math.floor(rest + 1e-9))
    ends = [(whole, f) for f in PLAIN_SHARES if f >= 0 or (whole == 0 and laid)] + [
        (whole + 1, 0.0)
    ]
    times, fraction = min(ends, key=lambda end: abs(end[0] + end[1] - rest))
    missed = rest - times - fraction
    if abs(missed) > _MAX or (not laid and times == 0 and not fraction):
        return None
    steps = (*laid, (last, times))
    variance = (
        math.fsum((k * each.u_cm) ** 2 for each, k in laid)
        + ((times + fraction) * last.u_cm) ** 2
        + math.fsum(k * each.repeat_cm**2 for each, k in steps)
        + _placing(sum(k for _, k in steps), fraction, last)
        + (missed * last.length_cm) ** 2
    )
    return MeasurePlan(length, steps, fraction, math.sqrt(variance))


_MAX: Final = 1 / 6 + 1e-9
"""Half the widest gap between two plain shares: what lies further off is said otherwise."""


def _placing(whole: int, fraction: float, last: BodyReference) -> float:
    """Variance of joints, end and eye."""
    joints = (whole + (fraction > 0) - 1 + 0.5) * JOINT_CM**2
    if not fraction:
        return joints
    eye = min(1.0, 4 * abs(fraction) * (1 - abs(fraction)) + 0.25)
    return joints + (EYE_SHARE * last.length_cm) ** 2 * eye
