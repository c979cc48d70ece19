"""Progress: the first month of practice against the last, station by station, with its uncertainty.

A month is 28 days: four weekly meetings.  What is compared are mean points.  For one pupil the
change d = last - first has

    u^2 = s1^2 / n1 + s2^2 / n2,    dof = u^4 / sum((si^2 / ni)^2 / (ni - 1))

(Welch and Satterthwaite).  For a pair or a club it is the mean of the pupils' changes, with the
same law over all months of all pupils: so it says how these children changed, not how other
children would.  A change is claimed only when its 95 % interval leaves out zero.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum
from typing import Final

from scipy.special import stdtrit

from nearmark.coaching.acts import points
from nearmark.coaching.attempt import Attempt
from nearmark.station import Station

MONTH: Final = timedelta(days=28)
MIN_ATTEMPTS: Final = 3
"""Of one pupil in each of the two months: two do not tell a scatter."""

LEVEL: Final = 0.95


class Verdict(StrEnum):
    """What the two months say."""

    BETTER = "better"
    LOWER = "lower"
    NOT_CLEAR = "not clear"
    EARLY = "too early"


@dataclass(frozen=True, slots=True)
class Month:
    """Some attempts at one station: of one pupil, or of all pupils of a group together."""

    n: int  # attempts
    mean: float  # of a group: the mean of the pupils' means (points)
    # Variance of each pupil's mean, and its degrees of freedom; empty without a scatter ((points
    # squared, attempts - 1)).
    squares: tuple[tuple[float, int], ...] = ()

    @property
    def u(self) -> float:
        """Standard uncertainty of the mean, points."""
        return math.sqrt(math.fsum(square for square, _ in self.squares))


@dataclass(frozen=True, slots=True)
class Progress:
    """First month against last at one station."""

    station: Station
    first: Month
    last: Month
    n_pupils: int  # with enough attempts in both months; zero: too early to say
    n_asked: int  # with an attempt at the station

    @property
    def change(self) -> float:
        """Mean of the last month less that of the first, points."""
        return self.last.mean - self.first.mean

    @property
    def u(self) -> float:
        """Standard uncertainty of the change, points."""
        return math.hypot(self.first.u, self.last.u)

    @property
    def dof(self) -> float:
        """Degrees of freedom of that; zero without a scatter."""
        both = (*self.first.squares, *self.last.squares)
        below = math.fsum(square**2 / dof for square, dof in both)
        return self.u**4 / below if below > 0 else 0.0

    @property
    def expanded_u(self) -> float:
        """Half of the 95 % interval of the change, points; infinite when too early to say."""
        if not self.n_pupils or not self.dof:
            return math.inf
        return float(stdtrit(self.dof, (1 + LEVEL) / 2)) * self.u

    @property
    def verdict(self) -> Verdict:
        """What may be said."""
        if not math.isfinite(self.expanded_u):
            return Verdict.EARLY
        if abs(self.change) <= self.expanded_u:
            return Verdict.NOT_CLEAR
        return Verdict.BETTER if self.change > 0 else Verdict.LOWER


def progress_of(pupils: Mapping[str, Sequence[Attempt]]) -> tuple[Progress, ...]:
    """First month against last of one pupil, or of the pupils of a pair or a club together.

    One for each station with an attempt, in the order of the stations.

    >>> from datetime import date
    >>> def at(week, estimate):
    ...     day = date(2027, 2, 3) + timedelta(weeks=week)
    ...     return Attempt(day, "Ada", Station.COUNT, f"jar {week}", estimate, 100)
    >>> said = enumerate([60, 64, 61, 70, 75, 80, 88, 91, 87])
    >>> (count,) = progress_of({"Ada": [at(*each) for each in said]})
    >>> count.verdict.value, round(count.change, 1), round(count.expanded_u, 1)
    ('better', 22.8, 7.9)

    Parameters
    ----------
    pupils : as ``with_history`` marks them: an attempt at a true value seen before does not count

    References
    ----------
    JCGM 100:2008, annex G.4.1, equation (G.2b): effective degrees of freedom.
    """
    found = []
    for station in Station:
        asked = [
            own
            for every in pupils.values()
            if (own := [a for a in every if a.station is station and not a.is_known])
        ]
        if asked:
            found.append(_at_station(station, asked))
    return tuple(found)


def _at_station(station: Station, asked: Sequence[Sequence[Attempt]]) -> Progress:
    both = [_first_and_last(own) for own in asked]
    enough = [
        months for months in both if min(len(month) for month in months) >= MIN_ATTEMPTS
    ] or None
    first, last = (_month([months[i] for months in enough or both]) for i in (0, 1))
    return Progress(station, first, last, len(enough or ()), len(asked))


def _first_and_last(own: Sequence[Attempt]) -> tuple[list[float], list[float]]:
    """Points in the first and in the last four weeks; while these overlap, none are in the last."""
    begin, end = min(each.day for each in own), max(each.day for each in own)
    first = [points(each) for each in own if each.day < begin + MONTH]
    if end - MONTH < begin + MONTH - timedelta(days=1):
        return first, []
    return first, [points(each) for each in own if each.day > end - MONTH]


def _month(pupils: Sequence[Sequence[float]]) -> Month:
    """A month of some pupils, each of the same weight."""
    own = [scores for scores in pupils if scores]
    means = [math.fsum(scores) / len(scores) for scores in own]
    squares = []
    for scores, mean in zip(own, means, strict=True):
        n, dof = len(scores), len(scores) - 1
        if dof:
            square = math.fsum((score - mean) ** 2 for score in scores)
            squares.append((square / dof / n / len(own) ** 2, dof))
    mean = math.fsum(means) / len(means) if means else math.nan
    return Month(sum(map(len, own)), mean, tuple(squares))


@dataclass(frozen=True, slots=True)
class Best:
    """A personal best."""

    attempt: Attempt  # the closest one at its station; of equal ones the first
    points: float  # points
    n: int  # at the station, this one included (attempts)


def best_attempts(attempts: Iterable[Attempt]) -> tuple[Best, ...]:
    """The closest attempt of a pupil at each station; ``with_history`` marked what to leave out.

    >>> from datetime import date
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 90, 100)
    >>> [(each.points, each.n) for each in best_attempts([jar])]
    [(90.0, 1)]
    """
    counted = [each for each in attempts if not each.is_known]
    found = []
    for station in Station:
        own = [each for each in counted if each.station is station]
        if own:
            best = max(own, key=points)
            found.append(Best(best, points(best), len(own)))
    return tuple(found)
