"""One rule set: stations, weights, zero rule, blanks, ties, limits.  A frozen, checked value."""

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from typing import Final

from nearmark.errors import InputError
from nearmark.station import Station

MAX_DECIMALS = 6
HEAT_MINUTES = 30
"""Length of one heat, where the rule set says nothing (common practice, no source)."""

PLACES = 12
"""Places of one heat, where the rule set says nothing (common practice, no source)."""

MAX_HEAT = 99
"""Minutes of a heat, and its places: more would not fit the clock on the wall."""


class TieBreak(StrEnum):
    """What may separate equal totals; the first that differs decides.  Larger is better."""

    MASS_TOTAL = "mass total"
    COUNT_TOTAL = "count total"
    VOLUME_TOTAL = "volume total"
    WORST_ITEM = "worst item"
    ITEMS_AT_90 = "items at 90"

    @property
    def station(self) -> Station | None:
        """The station whose total it compares; ``None``: of all items."""
        return _STATION_OF.get(self)


_STATION_OF: Final = {
    TieBreak.MASS_TOTAL: Station.MASS,
    TieBreak.COUNT_TOTAL: Station.COUNT,
    TieBreak.VOLUME_TOTAL: Station.VOLUME,
}


class SchoolRule(StrEnum):
    """How the totals of its pairs make the total of a school."""

    BEST = "best"
    MEAN = "mean"


@dataclass(frozen=True, slots=True)
class SchoolTotal:
    """How schools are ranked."""

    rule: SchoolRule
    # Of ``best``: so many pairs count, and those that a school lacks count as zero.  Of ``mean``: a
    # school with fewer has no place (pairs, >= 1).
    pairs: int = 1

    def __post_init__(self) -> None:
        if self.pairs < 1:
            where = "rule set, school_total, pairs"
            raise _impossible(where, self.pairs, "a whole number of 1 or more")


@dataclass(frozen=True, slots=True)
class StationRule:
    """What the rule set says of one station."""

    # Weight of each item of the station in the total (dimensionless, > 0).
    weight: Fraction = Fraction(1)
    # Answers outside are possible but asked about ("is that thousands?"), never refused (unit of
    # the station, lowest < highest).
    lowest: Fraction = Fraction(0)
    highest: Fraction = Fraction(1_000_000)
    # Largest relative expanded uncertainty of a fit key of the station; ``None``: that of the rule
    # set (relative or None).
    u_limit: float | None = None

    def __post_init__(self) -> None:
        if self.weight <= 0:
            raise _impossible("rule set, weight of a station", self.weight, "a number above zero")
        if not (self.u_limit is None or 0 < self.u_limit < 1):
            wanted = "a number between 0 and 1; 0.02 is 2 %"
            raise _impossible("rule set, u_limit of a station", self.u_limit, wanted)
        if not 0 <= self.lowest < self.highest:
            span = f"{self.lowest} to {self.highest}"
            raise _impossible(
                "rule set, limits of a station", span, "lowest, zero or more, below highest"
            )


def default_stations() -> dict[Station, StationRule]:
    """What the shipped default says of each station.

    >>> default_stations()[Station.COUNT].highest
    Fraction(100000, 1)
    """
    return {
        Station.MASS: StationRule(highest=Fraction(600)),
        Station.COUNT: StationRule(lowest=Fraction(20), highest=Fraction(100_000)),
        Station.VOLUME: StationRule(lowest=Fraction(20), highest=Fraction(20_000)),
    }


@dataclass(frozen=True, slots=True)
class RuleSet:
    """How answers become scores and totals become places.

    >>> RuleSet(zero_at=Fraction(1, 2)).stations[Station.VOLUME].weight
    Fraction(1, 1)
    """

    name: str = "percent accuracy"
    version: int = 1  # raised whenever a rule changes; printed beside every result (int, >= 1)
    full_score: Fraction = Fraction(100)  # score of an exact answer (points, > 0)
    # Relative error at which the score reaches zero; 1 means "zero from double" (relative error, >
    # 0).
    zero_at: Fraction = Fraction(1)
    # Relative error up to which the full score is given; the fall starts at its edge (relative
    # error, >= 0, < zero_at).
    free_within: Fraction = Fraction(0)
    # Cap on one item's score; ``None`` for no cap beyond ``full_score`` (points or None).
    highest_score: Fraction | None = None
    # Score of a blank or illegible answer, at most that of an exact one (points).
    blank_score: Fraction = Fraction(0)
    target_mass_g: Fraction = Fraction(100)  # what a cup should hold at the mass station
    # All three; an event without items at a station does not use its rule (StationRule by Station).
    stations: dict[Station, StationRule] = field(default_factory=default_stations)
    tie_breaks: tuple[TieBreak, ...] = ()  # empty: ties stay ties
    decimals: int = 2  # decimals of a printed score or total; ranking uses the exact value
    # Largest relative expanded uncertainty of a fit key, where its station states none (relative).
    u_limit: float = 0.01
    solo_allowed: bool = True  # whether a child alone may be placed
    school_total: SchoolTotal | None = None  # ``None``: schools are not ranked
    # What pairs do who share a first place, in words; empty: they stay first together.  It decides
    # who is called first and changes no score.
    run_off: str = ""
    heat_minutes: int | None = None  # that a pair has; ``None``: the usual 30 (min or None)
    heat_places: int | None = None  # pairs at a time; ``None``: the usual 12

    @property
    def best_score(self) -> Fraction:
        """Score of an exact answer, after the cap (points)."""
        highest = self.full_score if self.highest_score is None else self.highest_score
        return min(self.full_score, highest)

    @property
    def usual_minutes(self) -> int:
        """Length of a heat, where its plan says nothing else (min)."""
        return HEAT_MINUTES if self.heat_minutes is None else self.heat_minutes

    @property
    def usual_places(self) -> int:
        """Pairs that go together, where the event says nothing else."""
        return PLACES if self.heat_places is None else self.heat_places

    def u_limit_at(self, station: Station) -> float:
        """Largest relative expanded uncertainty of a fit key of a station."""
        stated = self.stations[station].u_limit
        return self.u_limit if stated is None else stated

    def __post_init__(self) -> None:
        checks = (
            ("name", bool(self.name.strip()), "a name"),
            ("version", self.version >= 1, "1 or more"),
            ("full_score", self.full_score > 0, "a number above zero"),
            ("zero_at", self.zero_at > 0, "a number above zero; 1 is zero from double"),
            ("free_within", 0 <= self.free_within < self.zero_at, "zero or more, below zero_at"),
            ("highest_score", self.best_score > 0, "a number above zero, or leave it out"),
            (
                "blank_score",
                0 <= self.blank_score <= self.best_score,
                "zero or more, at most the score of an exact answer",
            ),
            ("target_mass_g", self.target_mass_g > 0, "a mass in g above zero"),
            ("decimals", 0 <= self.decimals <= MAX_DECIMALS, f"0 to {MAX_DECIMALS}"),
            ("u_limit", 0 < self.u_limit < 1, "a number between 0 and 1; 0.01 is 1 %"),
            ("heat_minutes", 1 <= (self.heat_minutes or 1) <= MAX_HEAT, f"1 to {MAX_HEAT}"),
            ("heat_places", 1 <= (self.heat_places or 1) <= MAX_HEAT, f"1 to {MAX_HEAT}"),
            ("tie_breaks", len(set(self.tie_breaks)) == len(self.tie_breaks), "each one once"),
            ("stations", set(self.stations) == set(Station), "all of mass, count and volume"),
        )
        for name, is_possible, wanted in checks:
            if not is_possible:  # also refuses NaN, which compares false
                value = getattr(self, name)
                shown = ", ".join(value) if isinstance(value, tuple | dict) else value
                raise _impossible(f"rule set, {name}", shown, wanted)


def _impossible(where: str, value: object, wanted: str) -> InputError:
    return InputError("not a possible value", where=where, value=value, mend=f"Give {wanted}")
