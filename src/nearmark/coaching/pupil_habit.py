"""How each pupil reads at each station: bias, scatter, slips and the next score, in plain words."""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from scipy.special import ndtr

from nearmark.coaching.attempt import Attempt, Station
from nearmark.coaching.belief import SEASON_START, Belief
from nearmark.coaching.club import FEWEST_PUPILS, club_belief
from nearmark.coaching.expected_score import ExpectedScore
from nearmark.coaching.posterior import Posterior, posterior
from nearmark.coaching.prediction import blunder_share, predicted_score, predictive_band

Stratum = tuple[Station, str]

SURE: Final = 0.9
"""Probability of its sign from which a bias is called one."""

FEW: Final = 4
"""Below so many attempts the words say that they tell more of the club than of the pupil."""


@dataclass(frozen=True, slots=True)
class PupilHabit:
    """How one pupil reads one kind of thing.

    Attributes
    ----------
    pupil : str
    station : Station
    size : str
    attempts : tuple of Attempt
        Oldest first.
    posterior : Posterior
    band : natural log of estimate / true
        Holds the next attempt four times in five, slips included.
    next_score : ExpectedScore
        Of the next attempt that is no slip.
    blunder_share : probability
        Of the next attempt to be a slip.
    """

    pupil: str
    station: Station
    size: str
    attempts: tuple[Attempt, ...]
    posterior: Posterior
    band: tuple[float, float]
    next_score: ExpectedScore
    blunder_share: float

    @property
    def n(self) -> int:
        """Number of attempts."""
        return len(self.attempts)

    @property
    def n_sessions(self) -> int:
        """Number of days with an attempt."""
        return len({attempt.day for attempt in self.attempts})

    @property
    def p_low(self) -> float:
        """Probability that the pupil reads low."""
        found = self.posterior
        return float(ndtr(-found.bias / found.bias_sd))

    @property
    def suspects(self) -> tuple[Attempt, ...]:
        """Attempts that are slips more likely than not."""
        pairs = zip(self.attempts, self.posterior.p_blunder, strict=True)
        return tuple(attempt for attempt, p in pairs if p > 0.5)

    @property
    def words(self) -> str:
        """Plain sentences for coach and pupil; they say how little is known."""
        return " ".join(filter(None, (self._habit(), self._slips(), self._outlook())))

    def _habit(self) -> str:
        found = self.posterior
        if self.n == 1:
            return "One attempt only: no habit can be told yet."
        give = f"{100 * 1.28 * found.bias_sd:.0f}"
        if max(self.p_low, 1 - self.p_low) >= SURE:
            habit = f"Reads about {side(found.bias)}, give or take {give}"
        else:
            habit = f"No clear habit of reading high or low yet (within about {give} %)"
        few = " Few attempts: mostly what is usual, not yet this pupil." if self.n < FEW else ""
        return f"{habit}; single answers scatter by about {100 * found.scatter:.0f} %.{few}"

    def _slips(self) -> str:
        if not self.suspects:
            return ""
        n, which = len(self.suspects), "looks" if len(self.suspects) == 1 else "look"
        return (
            f"{n} of {self.n} attempts {which} like a slip (a factor, a digit, a layer), "
            "kept out of the habit: check the sum before writing it down."
        )

    def _outlook(self) -> str:
        low, high = self.band
        return (
            f"Expect the next from {side(low)} to {side(high)} (four times in five), "
            f"about {self.next_score.score:.0f} points."
        )


def side(log_ratio: float) -> str:
    """A log ratio in words.

    Parameters
    ----------
    log_ratio : natural log of estimate / true

    Returns
    -------
    str

    Examples
    --------
    >>> side(-0.128), side(0.05), side(0.0), side(0.8)
    ('12 % low', '5 % high', 'right', '2.2 times too high')
    """
    percent = round(100 * math.expm1(log_ratio))
    if percent == 0:
        return "right"
    if percent >= 100:
        return f"{math.exp(log_ratio):.1f} times too high"
    return f"{abs(percent)} % {'high' if percent > 0 else 'low'}"


def read_club(
    attempts: Iterable[Attempt], *, start: Mapping[Station, Belief] | None = None
) -> dict[str, tuple[PupilHabit, ...]]:
    """How every pupil of a log reads, each stratum shrunk towards what is usual in the club.

    Parameters
    ----------
    attempts : iterable of Attempt
        In any order.
    start : mapping Station -> Belief, or None
        For strata with fewer than four pupils; ``None``: ``SEASON_START``.

    Returns
    -------
    dict of pupil -> tuple of PupilHabit
        Pupils and strata sorted.

    Examples
    --------
    >>> from datetime import date
    >>> first = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar of beans", 380, 420)
    >>> read_club([first])["Ada"][0].words.split(":")[0]
    'One attempt only'
    """
    start = start or SEASON_START
    groups: dict[Stratum, dict[str, list[Attempt]]] = defaultdict(lambda: defaultdict(list))
    for attempt in attempts:
        groups[attempt.stratum][attempt.pupil].append(attempt)
    readings: dict[str, list[PupilHabit]] = defaultdict(list)
    for (station, _), by_pupil in sorted(groups.items()):
        fitted = len(by_pupil) >= FEWEST_PUPILS
        prior = _usual(by_pupil.values(), start[station]) if fitted else start[station]
        for pupil, own in by_pupil.items():
            found = posterior(_sessions(own), prior)
            found = found.widened() if fitted else found
            readings[pupil].append(_habit(own, found, prior.mean))
    return {pupil: tuple(readings[pupil]) for pupil in sorted(readings)}


def _usual(pupils: Iterable[list[Attempt]], start: Belief) -> Belief:
    """The club's belief; attempts that are slips under the start count little in it."""
    logs = [[attempt.log_ratio for attempt in own] for own in pupils]
    # All as one session: which attempts are slips hardly depends on fading, and time does.
    weights = [[1 - p for p in posterior([log], start).p_blunder] for log in logs]
    return club_belief(logs, weights=weights, start=start)


def _sessions(attempts: Iterable[Attempt]) -> list[list[float]]:
    by_day: dict[object, list[float]] = defaultdict(list)
    for attempt in sorted(attempts, key=lambda each: each.day):
        by_day[attempt.day].append(attempt.log_ratio)
    return list(by_day.values())


def _habit(own: list[Attempt], found: Posterior, centre: float) -> PupilHabit:
    share, first = blunder_share(found), own[0]
    return PupilHabit(
        first.pupil,
        first.station,
        first.size,
        tuple(sorted(own, key=lambda each: each.day)),
        found,
        predictive_band(found, share=share, centre=centre),
        predicted_score(found),
        share,
    )
