"""Heats filled school by school: who goes when."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from nearmark.contest.event import Pair
from nearmark.contest.heat_levels import levelled
from nearmark.contest.heat_packing import Shares, shares
from nearmark.contest.heat_records import TAKES_PART, Heat, heat_name
from nearmark.contest.rules import PLACES
from nearmark.errors import InputError, RuleError

MAX_PAIRS = 2_000


def fill_heats(
    pairs: Sequence[Pair], *, places: int = PLACES, kept: Mapping[str, int] | None = None
) -> tuple[Heat, ...]:
    """Heats for every pair that takes part: as few as possible, schools together where they fit.

    By number, without empty ones.  The same pairs in another order give the same number of each
    school in each heat.

    First the number of heats, then the number of (school, heat) shares is made small, then the
    heats are made equally full as far as that cuts no further school.

    >>> field = [Pair(f"P{n}", s, ("Ada", "Bo")) for n, s in enumerate("EEEEEFFFGGG", start=1)]
    >>> [heat.codes for heat in fill_heats(field, places=6)]
    [('P6', 'P7', 'P8', 'P9', 'P10', 'P11'), ('P1', 'P2', 'P3', 'P4', 'P5')]

    Parameters
    ----------
    pairs : shape (n_pairs,)
    places : pairs per heat, >= 1
    kept : heat number by code, optional; placed already: they stay where they are

    Raises
    ------
    InputError
        If two pairs have one code, a kept code or number makes no sense, or ``places`` is not
        above zero.
    RuleError : if more pairs are kept in a heat than it has places
    """
    placed = _checked(pairs, places, kept or {})
    here = [pair for pair in pairs if pair.status in TAKES_PART]
    at = {p.code: placed[p.code] for p in here if p.code in placed}
    _refuse_overfull(at, places)
    by_school: dict[str, list[Pair]] = defaultdict(list)
    for pair in here:
        by_school[pair.school].append(pair)
    schools = [by_school[name] for name in sorted(by_school)]
    numbers = _numbers(at, len(here), places)
    fixed = [[sum(at.get(p.code) == n for p in school) for n in numbers] for school in schools]
    dealt = _dealt(fixed, [len(school) for school in schools], places)
    return _heats(schools, numbers, at, dealt)


def _checked(pairs: Sequence[Pair], places: int, kept: Mapping[str, int]) -> Mapping[str, int]:
    if places < 1:
        raise InputError("must be above zero", where="places", value=places, mend="12 is usual")
    if len(pairs) > MAX_PAIRS:
        raise InputError(
            f"are more than {MAX_PAIRS:,}",
            where="pairs",
            value=len(pairs),
            mend="Plan one day at a time",
        )
    codes = Counter(pair.code for pair in pairs)
    twice = [code for code, n in codes.items() if n > 1]
    if twice:
        raise InputError(
            "is there twice; nobody goes in two heats",
            where="code of a pair",
            value=twice[0],
            mend="Give each pair its own code",
        )
    for code, number in kept.items():
        if code not in codes:
            raise InputError(
                "is no pair of this event", where="kept", value=code, mend="Check the code"
            )
        _check_number(number, len(pairs))
    return kept


def _check_number(number: int, n_pairs: int) -> None:
    # Every pair in a heat of its own would need n_pairs heats; 99 leaves room for a small event.
    most = max(n_pairs, 99)
    if not 1 <= number <= most:
        raise InputError(
            f"must be from 1 to {most}", where="heat", value=number, mend="Check the heat"
        )


def _refuse_overfull(at: Mapping[str, int], places: int) -> None:
    for number, n in sorted(Counter(at.values()).items()):
        if n > places:
            raise RuleError(
                f"has {places} places, {n} pairs are to stay in it",
                where=heat_name(number),
                mend=f"Take {n - places} of them elsewhere, or plan all heats again",
            )


def _numbers(at: Mapping[str, int], n_pairs: int, places: int) -> list[int]:
    """Heats in use: those with a kept pair, and the first others until all pairs have a place."""
    used = set(at.values())
    number = 0
    while len(used) * places < n_pairs:
        number += 1
        used.add(number)
    return sorted(used)


def _dealt(fixed: Shares, sizes: Sequence[int], places: int) -> Shares:
    """Pairs of each school to put into each heat beside those fixed there."""
    n_heats = len(fixed[0]) if fixed else 0
    free = [places - sum(school[h] for school in fixed) for h in range(n_heats)]
    joined = [[0] * n_heats for _ in sizes]
    left = [size - sum(school) for size, school in zip(sizes, fixed, strict=True)]
    # Who can join all of the school's kept pairs does so, the smallest group first.
    for s in sorted(range(len(sizes)), key=lambda s: (left[s], s)):
        fitting = [h for h in range(n_heats) if fixed[s][h] and free[h] >= left[s] > 0]
        if fitting:
            heat = min(fitting, key=lambda h: (free[h], h))
            joined[s][heat] = left[s]
            free[heat] -= left[s]
            left[s] = 0
    packed = shares(free, left)
    both = [
        [a + b for a, b in zip(*rows, strict=True)] for rows in zip(joined, packed, strict=True)
    ]
    return levelled(both, fixed)


def _heats(
    schools: list[list[Pair]], numbers: Sequence[int], at: Mapping[str, int], dealt: Shares
) -> tuple[Heat, ...]:
    """Deal the pairs of each school, in the order given, to its heats."""
    members: dict[int, list[Pair]] = {number: [] for number in numbers}
    for school, amounts in zip(schools, dealt, strict=True):
        turns = iter([n for n, amount in zip(numbers, amounts, strict=True) for _ in range(amount)])
        for pair in school:
            number = at[pair.code] if pair.code in at else next(turns)
            members[number].append(replace(pair, heat=heat_name(number)))
    return tuple(Heat(number, tuple(pairs)) for number, pairs in members.items() if pairs)
