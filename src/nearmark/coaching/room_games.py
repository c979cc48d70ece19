"""Games of a room that reward being better than oneself; people are seats with a number."""

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from nearmark.coaching.acts import FULL


@dataclass(frozen=True, slots=True)
class Relay:
    """A pair that takes turns: the first seat counts at the first thing, the other at the next."""

    seats: tuple[int, int]  # numbers of two seats
    points: float  # a turn without a guess is worth nothing (points)


def team_total(rounds: Sequence[Mapping[int, float]]) -> tuple[float, float]:
    """Points a room has together, and the most that its guesses could have brought.

    >>> team_total([{1: 80, 2: 10}, {2: 70}])
    (160, 300.0)

    Parameters
    ----------
    rounds : one mapping a thing: seat -> points; who did not guess is not in it
    """
    n_guesses = sum(len(points) for points in rounds)
    return sum(sum(points.values()) for points in rounds), FULL * n_guesses


def personal_bests(
    now: Mapping[int, float], before: Mapping[int, Collection[float]]
) -> tuple[int, ...]:
    """Seats that are better than they ever were.

    >>> personal_bests({1: 90, 2: 90, 3: 90}, {1: [70, 88], 2: [95]})
    (1,)

    Parameters
    ----------
    now : seat -> points
    before : seat -> points
        Of every earlier guess at a thing of the same kind; a seat without one has no best.
    """
    return tuple(sorted(seat for seat, own in now.items() if own > max(before.get(seat, [own]))))


def closest_at_tables(
    guesses: Mapping[int, float], true: float, tables: Mapping[int, int]
) -> dict[int, tuple[int, ...]]:
    """Numbers of the seats that are closest at each table; several when they are equally close.

    >>> closest_at_tables({1: 380, 2: 460, 3: 900}, 420, {1: 1, 2: 1, 3: 2})
    {1: (1, 2), 2: (3,)}

    Parameters
    ----------
    guesses : seat -> unit of the true value
    true : > 0
    tables : seat -> number of its table; who sits at none plays at table 0, the room
    """
    at: dict[int, dict[int, float]] = defaultdict(dict)
    for seat, guess in guesses.items():
        at[tables.get(seat, 0)][seat] = abs(guess - true)
    return {
        table: tuple(sorted(seat for seat, off in own.items() if off == min(own.values())))
        for table, own in sorted(at.items())
    }


def whose_turn(seats: tuple[int, int], place: int) -> int:
    """Whose guess counts for a pair of a relay.

    >>> whose_turn((3, 8), 1), whose_turn((3, 8), 2)
    (3, 8)

    Parameters
    ----------
    seats : numbers of two seats
    place : number of the thing, from 1
    """
    return seats[(place - 1) % 2]


def relays(
    rounds: Sequence[Mapping[int, float]], pairs: Collection[tuple[int, int]]
) -> tuple[Relay, ...]:
    """The pairs of a relay, the one with most points first.

    >>> relays([{1: 80, 2: 10, 3: 90}, {2: 70, 4: 50}], [(1, 2), (3, 4)])[0]
    Relay(seats=(1, 2), points=150)

    Parameters
    ----------
    rounds : one mapping a thing, in their order: seat -> points
    pairs : numbers of two seats each
    """
    found = (
        Relay(
            pair, sum(own.get(whose_turn(pair, place), 0.0) for place, own in enumerate(rounds, 1))
        )
        for pair in pairs
    )
    return tuple(sorted(found, key=lambda relay: (-relay.points, relay.seats)))
