"""One rule set: stations, weights, zero rule, blanks, ties, limits.  A frozen, checked value."""

import math
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from nearmark.errors import InputError


class Station(StrEnum):
    """What kind of quantity is estimated."""

    MASS = "mass"
    COUNT = "count"
    VOLUME = "volume"


class TieBreak(StrEnum):
    """What may separate equal totals; the first that differs decides.  Larger is better."""

    MASS_TOTAL = "mass total"
    COUNT_TOTAL = "count total"
    VOLUME_TOTAL = "volume total"
    WORST_ITEM = "worst item"
    ITEMS_AT_90 = "items at 90"


@dataclass(frozen=True, slots=True)
class StationRule:
    """What the rule set says of one station.

    Attributes
    ----------
    weight : dimensionless, > 0
        Weight of each item of the station in the total.
    lowest, highest : unit of the station, lowest < highest
        Answers outside are possible but asked about ("is that thousands?"), never refused.
    """

    weight: Fraction = Fraction(1)
    lowest: Fraction = Fraction(0)
    highest: Fraction = Fraction(1_000_000)


def _default_stations() -> dict[Station, StationRule]:
    return {
        Station.MASS: StationRule(highest=Fraction(600)),
        Station.COUNT: StationRule(lowest=Fraction(20), highest=Fraction(100_000)),
        Station.VOLUME: StationRule(lowest=Fraction(20), highest=Fraction(20_000)),
    }


@dataclass(frozen=True, slots=True)
class RuleSet:
    """How answers become scores and totals become places.

    Attributes
    ----------
    name : str
    version : int, >= 1
        Raised whenever a rule changes; printed beside every result.
    full_score : points, > 0
        Score of an exact answer.
    zero_at : relative error, > 0
        Relative error at which the score reaches zero; 1 means "zero from double".
    free_within : relative error, >= 0, < zero_at
        Relative error up to which the full score is given; the fall starts at its edge.
    highest_score : points or None
        Cap on one item's score; ``None`` for no cap beyond ``full_score``.
    blank_score : points
        Score of a blank or illegible answer.
    target_mass_g : g
        What a cup should hold at the mass station.
    stations : mapping Station -> StationRule
    tie_breaks : tuple of TieBreak
        Empty: ties stay ties.
    decimals : int
        Decimals of a printed score or total; ranking uses the exact value.
    u_limit : relative
        Largest relative expanded uncertainty of a fit key.
    solo_allowed : bool
        Whether a child alone may be placed.
    """

    name: str = "percent accuracy"
    version: int = 1
    full_score: Fraction = Fraction(100)
    zero_at: Fraction = Fraction(1)
    free_within: Fraction = Fraction(0)
    highest_score: Fraction | None = None
    blank_score: Fraction = Fraction(0)
    target_mass_g: Fraction = Fraction(100)
    stations: dict[Station, StationRule] = field(default_factory=_default_stations)
    tie_breaks: tuple[TieBreak, ...] = ()
    decimals: int = 2
    u_limit: float = 0.01
    solo_allowed: bool = True

    def __post_init__(self) -> None:
        checks = (
            (bool(self.name.strip()), "name", self.name, "must not be empty"),
            (self.version >= 1, "version", self.version, "must be 1 or more"),
            (self.full_score > 0, "full_score", self.full_score, "must be above zero"),
            (self.zero_at > 0, "zero_at", self.zero_at, "must be above zero"),
            (
                0 <= self.free_within < self.zero_at,
                "free_within",
                self.free_within,
                "must be at least zero and below zero_at",
            ),
            (
                self.highest_score is None or self.highest_score > 0,
                "highest_score",
                self.highest_score,
                "must be above zero",
            ),
            (
                0 <= self.blank_score <= self.full_score,
                "blank_score",
                self.blank_score,
                "must be between zero and full_score",
            ),
            (self.target_mass_g > 0, "target_mass_g", self.target_mass_g, "must be above zero"),
            (bool(self.stations), "stations", "none", "must name at least one station"),
            (0 <= self.decimals <= 6, "decimals", self.decimals, "must be between 0 and 6"),
            (
                math.isfinite(self.u_limit) and 0 < self.u_limit < 1,
                "u_limit",
                self.u_limit,
                "must be between 0 and 1 (0.01 is 1 %)",
            ),
        )
        for ok, name, value, what in checks:
            if not ok:
                raise InputError(what, where=f"rule set, {name}", value=value)
        for station, rule in self.stations.items():
            if rule.weight <= 0 or not 0 <= rule.lowest < rule.highest:
                raise InputError(
                    "needs a weight above zero and lowest below highest",
                    where=f"rule set, station {station}",
                    value=f"weight {rule.weight}, {rule.lowest} to {rule.highest}",
                )
        if len(set(self.tie_breaks)) != len(self.tie_breaks):
            raise InputError("names a tie-break twice", where="rule set, tie_breaks")
