"""How each pupil reads at each station: bias, scatter, slips and the next score.

Attempts at a true value that the pupil had seen before are passed over: they say what a child
remembers.  At the mass station nothing is multiplied, so no attempt is taken for a slip; when the
cup misleads, the next score is that of the cups used so far, each with its own error.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from scipy.special import ndtr

from nearmark.coaching.attempt import Attempt
from nearmark.coaching.belief import SEASON_START, Belief
from nearmark.coaching.club import MIN_PUPILS, club_belief
from nearmark.coaching.expected_score import ExpectedScore
from nearmark.coaching.kinds import Stratum
from nearmark.coaching.posterior import Habits, Posterior, posterior
from nearmark.coaching.prediction import blunder_share, predicted_score, predictive_band
from nearmark.coaching.scoop_habit import ScoopHabit, scoop_habit_if_known
from nearmark.coaching.seen_truth import with_history
from nearmark.station import Station

SLIPLESS: Final = Habits(blunder_share=0.0)
"""At the mass station."""

SURE: Final = 0.9
"""Probability of its sign from which a bias is called one."""


@dataclass(frozen=True, slots=True)
class PupilHabit:
    """How one pupil reads one kind of thing."""

    pupil: str
    station: Station
    size: str
    attempts: tuple[Attempt, ...]  # oldest first, none of them at a true value seen before
    posterior: Posterior
    # Holds the next attempt four times in five, slips included (natural log of estimate / true).
    band: tuple[float, float]
    next_score: ExpectedScore  # of the next attempt, slips included
    blunder_share: float  # of the next attempt to be a slip (probability)
    n_known: int = 0  # passed over, because the true value had been seen
    # What cup and material do; ``None`` but at the mass station, or with too few scoops.
    scoops: ScoopHabit | None = None

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


def read_club(attempts: Iterable[Attempt]) -> dict[str, tuple[PupilHabit, ...]]:
    """How every pupil of a log reads, each stratum shrunk towards what is usual in the club.

    Pupils and strata are sorted.

    >>> from datetime import date
    >>> first = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar of beans", 380, 420)
    >>> read_club([first])["Ada"][0].n
    1
    """
    groups: dict[Stratum, dict[str, list[Attempt]]] = defaultdict(lambda: defaultdict(list))
    n_known: Counter[tuple[Stratum, str]] = Counter()
    for attempt in with_history(attempts):
        if attempt.is_known:
            n_known[attempt.stratum, attempt.pupil] += 1
        else:
            groups[attempt.stratum][attempt.pupil].append(attempt)
    readings: dict[str, list[PupilHabit]] = defaultdict(list)
    for stratum, by_pupil in sorted(groups.items()):
        station = stratum[0]
        law = SLIPLESS if station is Station.MASS else Habits()
        prior, fitted = SEASON_START[station], len(by_pupil) >= MIN_PUPILS
        if fitted:
            prior = _usual(by_pupil.values(), prior, law)
        for pupil, own in by_pupil.items():
            found = posterior(_sessions(own), prior, habits=law)
            found = found.widened() if fitted else found
            habit = _habit(own, found, prior.mean, law)
            readings[pupil].append(replace(habit, n_known=n_known[stratum, pupil]))
    return {pupil: tuple(readings[pupil]) for pupil in sorted(readings)}


def _usual(pupils: Iterable[list[Attempt]], start: Belief, law: Habits) -> Belief:
    """The club's belief; attempts that are slips under the start count little in it."""
    logs = [[attempt.log_ratio for attempt in own] for own in pupils]
    # All as one session: which attempts are slips hardly depends on fading, and time does.
    weights = [[1 - p for p in posterior([log], start, habits=law).p_blunder] for log in logs]
    return club_belief(logs, weights=weights, start=start)


def _sessions(attempts: Iterable[Attempt]) -> list[list[float]]:
    by_day: dict[object, list[float]] = defaultdict(list)
    for attempt in attempts:
        by_day[attempt.day].append(attempt.log_ratio)
    return list(by_day.values())


def _habit(own: list[Attempt], found: Posterior, centre: float, law: Habits) -> PupilHabit:
    first = own[0]
    share = blunder_share(found, beforehand=law.blunder_share)
    scoops = scoop_habit_if_known(own)
    of_cups = scoops.next_score if scoops and scoops.cup_misleads else None
    return PupilHabit(
        first.pupil,
        first.station,
        first.size,
        tuple(own),
        found,
        predictive_band(found, share=share, centre=centre),
        of_cups or predicted_score(found, share=share, centre=centre),
        share,
        scoops=scoops,
    )


def attempts_in(own: Iterable[PupilHabit]) -> tuple[Attempt, ...]:
    """All attempts that one pupil's habits were read from, oldest first.

    >>> attempts_in([])
    ()
    """
    every = (attempt for habit in own for attempt in habit.attempts)
    return tuple(sorted(every, key=lambda each: each.day))
