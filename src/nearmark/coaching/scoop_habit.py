"""What leads a hand astray at the mass station: the cup's own mass, and bulky material.

f is the share of the cup's mass that is not allowed for (0: none, 1: the tare is forgotten); d, in
g, is above zero when bulky material feels lighter, so that too much of it is taken: ``scoop_fit``.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from scipy.special import ndtr

from nearmark.coaching.attempt import Attempt, Scoop
from nearmark.coaching.expected_score import ExpectedScore, net_score
from nearmark.coaching.scoop_fit import ScoopFit, fit_scoops
from nearmark.errors import TooFewReadings
from nearmark.station import Station

MIN_NUMBER: Final = 3
CLEAR_SHARE: Final = 0.2
CLEAR: Final = 0.8
MIN_BETWEEN_G: Final = 10.0
"""Difference between lightest and heaviest cup that is worth a word (our own choice)."""

SAME_CUP_G: Final = 3.0
"""Cups that weigh within this of each other are one: paper cups differ by tenths."""


@dataclass(frozen=True, slots=True)
class ScoopHabit:
    """How far cup and material lead a pupil astray."""

    n: int  # attempts
    tare_share: float  # f above (dimensionless)
    p_tare: float  # that more than a fifth of the cup's mass is not allowed for (probability)

    cups: tuple["CupReading", ...]  # the cups that were used, the lightest first

    @property
    def cup_misleads(self) -> bool:
        """Whether that is clear, and matters with the cups that were used."""
        between_g = abs(self.tare_share) * (self.cups[-1].cup_g - self.cups[0].cup_g)
        return self.p_tare >= CLEAR and between_g >= MIN_BETWEEN_G

    @property
    def next_score(self) -> ExpectedScore:
        """Of the next scoop out of one of the cups used so far, by lot."""
        scores = [cup.next_score for cup in self.cups for _ in range(cup.n)]
        mean = sum(each.score for each in scores) / len(scores)
        variance = sum(each.sd**2 + (each.score - mean) ** 2 for each in scores) / len(scores)
        p = sum(each.p_at_least for each in scores) / len(scores)
        return ExpectedScore(mean, variance**0.5, p, scores[0].at_least)


@dataclass(frozen=True, slots=True)
class CupReading:
    """What is expected of the next scoop with one cup."""

    cup_g: float  # mass of the empty cup
    n: int  # with it (attempts)
    # Net mass less the mass asked for: mean and standard deviation.
    off_g: float
    sd_g: float
    next_score: ExpectedScore


def scoop_habit(attempts: Sequence[Attempt]) -> ScoopHabit:
    """Regress net mass on cup mass and bulk density, with priors.

    >>> from datetime import date
    >>> from nearmark.station import Station
    >>> heavy_low = [Attempt(date(2027, 2, 3), "Ada", Station.MASS, "rice", 100 - cup / 2, 100,
    ...                      parts=Scoop(cup, 0.8)) for cup in (5, 60, 10, 70, 5, 65)]
    >>> round(scoop_habit(heavy_low).tare_share, 2)
    0.49

    Parameters
    ----------
    attempts : of the mass station; those without ``Scoop`` are passed over

    Raises
    ------
    TooFewReadings : if fewer than three attempts tell cup and material
    """
    known = [(each, each.parts) for each in attempts if isinstance(each.parts, Scoop)]
    if len(known) < MIN_NUMBER:
        raise TooFewReadings(
            "scoops with cup mass and density",
            got=len(known),
            need=MIN_NUMBER,
            mend="Note the empty cup's mass and the material's density with each scoop",
        )
    fit = fit_scoops([each for each, _ in known])
    tare_share = float(fit.beta[1])
    p_tare = float(ndtr((tare_share - CLEAR_SHARE) / math.sqrt(fit.covariance[1, 1])))
    return ScoopHabit(len(known), tare_share, p_tare, _cups(known, fit))


def _cups(known: Sequence[tuple[Attempt, Scoop]], fit: ScoopFit) -> tuple[CupReading, ...]:
    """Each kind of cup, with middling material."""
    groups: list[list[tuple[Attempt, Scoop]]] = []
    for each in sorted(known, key=lambda pair: pair[1].cup_g):
        if groups and each[1].cup_g - groups[-1][0][1].cup_g <= SAME_CUP_G:
            groups[-1].append(each)
        else:
            groups.append([each])
    found = []
    for own in groups:
        cup_g = math.fsum(scoop.cup_g for _, scoop in own) / len(own)
        asked_g = math.fsum(attempt.true for attempt, _ in own) / len(own)
        off_g, spread_g = fit.next_scoop(cup_g)
        score = net_score(off_g / asked_g, spread_g / asked_g)
        found.append(CupReading(cup_g, len(own), off_g, spread_g, score))
    return tuple(found)


def scoop_habit_if_known(attempts: Sequence[Attempt]) -> ScoopHabit | None:
    """What the scoops among some attempts tell, once they are enough to tell anything.

    ``None`` while fewer than three scoops tell cup and material.

    >>> scoop_habit_if_known([]) is None
    True

    Parameters
    ----------
    attempts : of any station
    """
    known = [
        each for each in attempts if each.station is Station.MASS and isinstance(each.parts, Scoop)
    ]
    return scoop_habit(known) if len(known) >= MIN_NUMBER else None
