"""Which act would have gained most on a pupil's own log, by how much, and how sure that is.

An act is tried on every attempt with the amount that the *other* attempts ask for, so that a gain
is not fitted to noise.  It is sure when it gains three points on the mean, and more than nothing at
the lower end of a one-sided 90 % interval of Student's t (97.5 % when it names no cause), over four
attempts at least.  Looked at are the last eight attempts; when they say nothing sure, the last
five.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from scipy.special import stdtrit

from nearmark.coaching.act_fits import fitted
from nearmark.coaching.acts import Act, Step, all_done, is_copied, points
from nearmark.coaching.attempt import Attempt
from nearmark.coaching.kinds import items_of_station
from nearmark.station import Station

MIN_GAIN: Final = 3.0
"""Points an attempt: less is not worth a new habit (our own choice)."""

MIN_SURE: Final = 4
MIN_PERHAPS: Final = 2
SURE: Final = 0.9
SURE_VAGUE: Final = 0.975
VAGUE: Final = frozenset({Act.SHIFT, Act.LEAN})
"""Higher or lower, without a cause: chance finds it oftener than the others."""

LAST: Final = (8, 5)
"""Attempts looked at: what was cured long ago is no advice, and a new fault is not waited out."""

AS_GOOD: Final = 0.75
"""An act that gains this share of the best is taken before it when it says more of the cause."""

CANDIDATES: Final[tuple[tuple[Act, ...], ...]] = (
    (Act.MULTIPLY,),
    (Act.FIGURES,),
    (Act.OWN_ANSWER,),
    (Act.OWN_PRODUCT,),
    (Act.HOLD_CUP,),
    (Act.HOLD_CUP, Act.SHIFT),
    (Act.HAND,),
    (Act.LENGTH,),
    (Act.WIDTH,),
    (Act.HEIGHT,),
    (Act.LAYER,),
    (Act.LAYERS,),
    (Act.TRIM,),
    (Act.LAYER, Act.TRIM),
    (Act.LAYERS, Act.TRIM),
    (Act.LEAN,),
    (Act.SHIFT,),
)
"""What is tried, the acts that say most of the cause first.

Layer and method are tried alone and together: their errors often have opposite signs, and then one
alone loses points."""


class Certainty(StrEnum):
    """How sure an advice is."""

    SURE = "sure"
    PERHAPS = "perhaps"


@dataclass(frozen=True, slots=True)
class Trial:
    """Some acts, tried on the attempts of one pupil at one station."""

    station: Station
    steps: tuple[Step, ...]  # one or two, with the amounts that all the attempts ask for
    n: int  # on which they could be tried (attempts)
    # Mean score as it was, and as it would have been (points).
    before: float
    after: float
    # Lower end of the one-sided 90 % interval of the gain; -inf with one attempt (points).
    least: float

    @property
    def gain(self) -> float:
        """Points an attempt."""
        return self.after - self.before

    @property
    def acts(self) -> tuple[Act, ...]:
        """What to do, without the amounts."""
        return tuple(step.act for step in self.steps)

    @property
    def sureness(self) -> Certainty | None:
        """How sure the gain is; ``None``: not to be given."""
        if self.gain < MIN_GAIN or self.n < MIN_PERHAPS:
            return None
        is_sure = self.n >= MIN_SURE and self.least > 0
        return Certainty.SURE if is_sure else Certainty.PERHAPS


def trial(acts: Sequence[Act], attempts: Sequence[Attempt]) -> Trial | None:
    """Try acts on each attempt with the amounts that the others ask for.

    ``None`` when the attempts do not ask for it, or say too little to try it.

    >>> from datetime import date
    >>> low = [Attempt(date(2027, 2, day), "Ada", Station.COUNT, "jar", 75 + day, 100)
    ...        for day in range(1, 7)]
    >>> found = trial([Act.SHIFT], low)
    >>> round(found.before), round(found.after), found.sureness.value
    (78, 98, 'sure')

    Parameters
    ----------
    acts : one after the other
    attempts : of one pupil and station, none of them at a known true value
    """
    steps = _fitted_steps(acts, attempts)
    if steps is None:
        return None
    before, after = [], []
    for i, attempt in enumerate(attempts):
        if all_done(steps, attempt) is None:
            continue
        own = _fitted_steps(acts, [*attempts[:i], *attempts[i + 1 :]]) or ()
        would = all_done(own, attempt)
        before.append(points(attempt))
        after.append(points(attempt if would is None else would))
    if not before:
        return None
    n = len(before)
    gains = [b - a for a, b in zip(before, after, strict=True)]
    return Trial(
        attempts[0].station,
        steps,
        n,
        math.fsum(before) / n,
        math.fsum(after) / n,
        _lower_end(gains, SURE_VAGUE if set(acts) <= VAGUE else SURE),
    )


def _fitted_steps(acts: Sequence[Act], attempts: Sequence[Attempt]) -> tuple[Step, ...] | None:
    """The amounts of acts, each learnt from the attempts as the ones before it leave them.

    ``None`` when one of them is not asked for.
    """
    steps: list[Step] = []
    for act in acts:
        step = fitted(act, attempts)
        if step is None:
            return None
        steps.append(step)
        attempts = [would for each in attempts if (would := all_done([step], each)) is not None]
    return tuple(steps)


def _lower_end(gains: Sequence[float], p: float) -> float:
    """Of the mean: one-sided 90 % by Student's t (JCGM 100:2008, annex G)."""
    n = len(gains)
    if n < 2:
        return -math.inf
    mean = math.fsum(gains) / n
    sd = math.sqrt(math.fsum((gain - mean) ** 2 for gain in gains) / (n - 1))
    return mean - float(stdtrit(n - 1, p)) * sd / math.sqrt(n)


def trials(attempts: Iterable[Attempt], last: int = LAST[0]) -> tuple[Trial, ...]:
    """Every act that the last attempts at one station ask for, tried.

    They come in the order of ``CANDIDATES``.

    >>> trials([])
    ()

    Parameters
    ----------
    attempts : of one pupil and station, oldest first; those at a known true value are passed over
    last : attempts looked at
    """
    every = [each for each in attempts if not each.is_known][-last:]
    own = [each for each in every if not is_copied(each)]
    found = (trial(acts, every if acts == (Act.OWN_ANSWER,) else own) for acts in CANDIDATES)
    return tuple(each for each in found if each is not None)


def station_advice(attempts: Sequence[Attempt]) -> Trial | None:
    """What to advise one pupil at one station, attempts oldest first.

    Of those surest the one that gains most; before it one that gains nearly as much and says more
    of the cause.  ``None`` when none gains enough.

    >>> station_advice([]) is None
    True
    """
    perhaps: Trial | None = None
    for last in LAST:
        best = _best(trials(attempts, last))
        if best is not None and best.sureness is Certainty.SURE:
            return best
        perhaps = perhaps or best
    return perhaps


def _best(found: Sequence[Trial]) -> Trial | None:
    for sureness in Certainty:
        fit = [each for each in found if each.sureness is sureness]
        if fit:
            most = max(each.gain for each in fit)
            return next(each for each in fit if each.gain >= AS_GOOD * most)
    return None


def would_have(attempt: Attempt) -> Trial | None:
    """What would have gained most in one attempt whose true value has been shown.

    ``None`` when no act that says something of the cause gains enough.

    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Layers
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 250, 303,
    ...               parts=Layers(25, 10, 37, 10.54))
    >>> found = would_have(jar)
    >>> [act.value for act in found.acts], round(found.before), round(found.after)
    (['count the layer again', 'leave out a share of the layer'], 83, 98)
    """
    found = []
    for acts in CANDIDATES:
        steps = None if VAGUE & set(acts) else _fitted_steps(acts, [attempt])
        would = None if steps is None else all_done(steps, attempt)
        if steps is not None and would is not None:
            before, after = points(attempt), points(would)
            found.append(Trial(attempt.station, steps, 1, before, after, -math.inf))
    most = max((each.gain for each in found), default=0.0)
    if most < MIN_GAIN:
        return None
    return next(each for each in found if each.gain >= AS_GOOD * most)


def pupil_advice(attempts: Iterable[Attempt]) -> tuple[Trial, ...]:
    """The advice to one pupil, attempts oldest first: one for each station that has any.

    Sure ones first, then by points of the contest.

    >>> pupil_advice([])
    ()
    """
    by_station: dict[Station, list[Attempt]] = defaultdict(list)
    for each in attempts:
        by_station[each.station].append(each)
    found = [best for own in by_station.values() if (best := station_advice(own)) is not None]
    return tuple(sorted(found, key=_worth))


def _worth(found: Trial) -> tuple[bool, float, Station]:
    points_of_contest = items_of_station(found.station) * found.gain
    return (found.sureness is not Certainty.SURE, -points_of_contest, found.station)
