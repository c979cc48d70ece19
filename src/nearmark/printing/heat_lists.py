"""Who goes together: the pairs of each heat, in the order in which paper is handed out."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import count, groupby, islice

from nearmark.contest.event import Event, Pair, PairStatus
from nearmark.contest.heat_records import heat_name
from nearmark.contest.pair_code import check_character
from nearmark.errors import InputError
from nearmark.printing.words import wrappable
from nearmark.words.heats import heat_words
from nearmark.words.numbers import capital

SPARE_CODES = 2
"""Codes kept ready in every heat for pairs that come unannounced."""

UNCLEAR_BY_HAND = "01IOSZ5*"
"""Signs that a hand writes alike (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class HeatList:
    """The pairs of one heat, by code."""

    title: str  # as printed; says so when the pairs have no heat yet
    pairs: tuple[Pair, ...]
    spare_codes: tuple[str, ...]  # not in use, for pairs that come unannounced


def heat_lists(event: Event) -> tuple[HeatList, ...]:
    """The heats of an event, in their order; pairs without a heat come last.

    In an event with rooms each room of a heat has a list of its own. A pair that has withdrawn is
    left out; one marked absent is not, for it may still come.

    Raises InputError if there is nobody.
    """
    coming = [pair for pair in event.pairs if pair.status is not PairStatus.WITHDRAWN]
    if not coming:
        raise InputError(
            "has no pairs to print for", where="pairs.csv", mend="Enter the pairs first"
        )
    coming.sort(
        key=lambda pair: (
            not pair.heat,
            counted_order(pair.heat),
            pair.room,
            counted_order(pair.code),
        )
    )
    spares = _spare_codes(pair.code for pair in event.pairs)
    return tuple(
        HeatList(_title(heat, room), tuple(pairs), tuple(islice(spares, SPARE_CODES)))
        for (heat, room), pairs in groupby(coming, key=lambda pair: (pair.heat, pair.room))
    )


def _title(heat: str, room: str) -> str:
    return f"{heat_title(heat)}, {wrappable(room, 40)}" if room else heat_title(heat)


def heat_title(heat: str) -> str:
    """A heat as printed.

    >>> heat_title("heat 2"), heat_title("2"), heat_title("morning"), heat_title("")
    ('Heat 2', 'Heat 2', 'Morning', 'No heat yet')
    """
    named = heat_name(int(heat)) if heat.isdigit() else heat
    return capital(wrappable(heat_words(named), 40))


def _spare_codes(used: Iterable[str]) -> Iterator[str]:
    """Codes to copy by hand: none in use, none with a check character that reads as another."""
    taken = {code.upper() for code in used}
    return (
        code
        for n in count(1)
        if (code := f"N{n}") not in taken and check_character(code) not in UNCLEAR_BY_HAND
    )


def counted_order(text: str) -> tuple[tuple[bool, int, str], ...]:
    """A sorting key in which heat 2 comes before heat 10."""
    return tuple(
        (True, int(part), "") if part.isdecimal() else (False, 0, part)
        for part in re.findall(r"\d+|\D+", text)
    )
