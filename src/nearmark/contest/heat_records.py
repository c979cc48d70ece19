"""What a heat is, how it is written in an event, and how split its schools are.

Heats are numbered from 1 and written ``heat 1`` in the event.  Absent and withdrawn pairs have
none.
"""

import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace

from nearmark.contest.event import Pair, PairStatus
from nearmark.errors import InputError

TAKES_PART = (PairStatus.ENTERED, PairStatus.GUEST)
_NUMBER = re.compile(r"(?:heat\s*)?(\d{1,4})", re.ASCII | re.IGNORECASE)
_ANY_NUMBER = re.compile(r"\d{1,6}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Heat:
    """The pairs that start together."""

    number: int  # int, >= 1
    pairs: tuple[Pair, ...] = ()  # each with this heat's name as its ``heat``

    @property
    def name(self) -> str:
        """As it is written in the event."""
        return heat_name(self.number)

    @property
    def codes(self) -> tuple[str, ...]:
        """Codes of the pairs."""
        return tuple(pair.code for pair in self.pairs)


def heat_name(number: int) -> str:
    """How a heat is written in the event.

    >>> heat_name(3)
    'heat 3'

    Parameters
    ----------
    number : whole number, >= 1
    """
    return f"heat {number}"


def in_order(heats: Iterable[str]) -> list[str]:
    """Heats as people count: heat 2 before heat 10, those without a number last.

    >>> in_order(["late", "heat 10", "heat 2"])
    ['heat 2', 'heat 10', 'late']
    """

    def place(heat: str) -> tuple[bool, int, str]:
        number = _ANY_NUMBER.search(heat)
        return (number is None, int(number[0]) if number else 0, heat)

    return sorted(heats, key=place)


def scheduled(pairs: Iterable[Pair]) -> dict[str, int]:
    """Heat numbers in the event already, of those who take part, by code; for ``kept``.

    >>> scheduled([Pair("P1", "Fernhollow", ("Ada", "Bo"), heat="heat 2")])
    {'P1': 2}

    Raises
    ------
    InputError : if a heat is written otherwise than ``heat 3`` or ``3``
    """
    return {p.code: _number(p) for p in pairs if p.heat.strip() and p.status in TAKES_PART}


def _number(pair: Pair) -> int:
    match = _NUMBER.fullmatch(pair.heat.strip())
    if match is None or not int(match[1]):
        raise InputError(
            "is no heat number",
            where=f"heat of pair {pair.code}",
            value=pair.heat,
            mend="Write it as heat 3, or plan all heats again",
        )
    return int(match[1])


def with_heats(pairs: Iterable[Pair], heats: Iterable[Heat]) -> tuple[Pair, ...]:
    """All pairs of an event, each with the heat and room it is in; empty for those in none.

    >>> pair = Pair("P1", "Fernhollow", ("Ada", "Bo"))
    >>> with_heats([pair], [Heat(2, (pair,))])[0].heat
    'heat 2'
    """
    at = {pair.code: (heat.name, pair.room) for heat in heats for pair in heat.pairs}
    places = [(pair, *at.get(pair.code, ("", ""))) for pair in pairs]
    return tuple(replace(pair, heat=heat, room=room) for pair, heat, room in places)


def split_schools(heats: Iterable[Heat]) -> dict[str, tuple[int, ...]]:
    """Schools in more than one heat, with the numbers of these.

    >>> ada, bo = Pair("P1", "Fernhollow", ("Ada",)), Pair("P2", "Fernhollow", ("Bo",))
    >>> split_schools([Heat(1, (ada,)), Heat(2, (bo,))])
    {'Fernhollow': (1, 2)}
    """
    numbers: dict[str, set[int]] = defaultdict(set)
    for heat in heats:
        for pair in heat.pairs:
            numbers[pair.school].add(heat.number)
    return {school: tuple(sorted(ns)) for school, ns in sorted(numbers.items()) if len(ns) > 1}


def n_cuts(heats: Iterable[Heat]) -> int:
    """How split the schools are: (school, heat) shares beyond one for each school.

    >>> ada, bo = Pair("P1", "Fernhollow", ("Ada",)), Pair("P2", "Fernhollow", ("Bo",))
    >>> n_cuts([Heat(1, (ada,)), Heat(2, (bo,))])
    1
    """
    return sum(len(numbers) - 1 for numbers in split_schools(heats).values())
