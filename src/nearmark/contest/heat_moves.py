"""A pair moved to another heat by hand, or two pairs that change places."""

from collections.abc import Sequence
from dataclasses import replace
from difflib import get_close_matches

from nearmark.contest.event import Pair
from nearmark.contest.heat_records import Heat, heat_name, n_cuts
from nearmark.contest.rules import PLACES
from nearmark.errors import InputError, RuleError

_MAX_NAMED = 3


def move_pair(
    heats: Sequence[Heat], code: str, to: int, *, places: int = PLACES
) -> tuple[Heat, ...]:
    """The heats after one pair has moved.

    Heats by number; one left empty stays, so that the others keep their times.

    >>> one, two = Pair("P1", "Fernhollow", ("Ada",)), Pair("P2", "Quillbank", ("Bo",))
    >>> heats = move_pair([Heat(1, (one, two))], "P2", 2)
    >>> [(heat.name, heat.codes) for heat in heats]
    [('heat 1', ('P1',)), ('heat 2', ('P2',))]

    Parameters
    ----------
    heats : any number
    code : of the pair
    to : heat number; one of the heats, or the number after the last one, which opens a new heat
    places : pairs per heat, >= 1

    Raises
    ------
    InputError : if there is no such pair or heat
    RuleError
        If the heat is full; the message names pairs to swap with, those first that leave schools
        least split.
    """
    members = _members(heats)
    origin = _heat_of(heats, code)
    if to not in members:
        _check_next(members, to)
    if to == origin:
        return tuple(heats)
    if len(members.get(to, [])) >= places:
        raise _full(heats, code, to, places)
    members.setdefault(to, []).append(_take(members[origin], code))
    return _as_heats(members)


def swap_pairs(heats: Sequence[Heat], code: str, other: str) -> tuple[Heat, ...]:
    """The heats after two pairs have changed places, by number.

    >>> one, two = Pair("P1", "Fernhollow", ("Ada",)), Pair("P2", "Quillbank", ("Bo",))
    >>> swap_pairs([Heat(1, (one,)), Heat(2, (two,))], "P1", "P2")[0].codes
    ('P2',)

    Raises
    ------
    InputError : if one of them is in no heat
    """
    members = _members(heats)
    first, second = _heat_of(heats, code), _heat_of(heats, other)
    if first == second:
        return tuple(heats)
    pair, other_pair = _take(members[first], code), _take(members[second], other)
    members[first].append(other_pair)
    members[second].append(pair)
    return _as_heats(members)


def _members(heats: Sequence[Heat]) -> dict[int, list[Pair]]:
    return {heat.number: list(heat.pairs) for heat in heats}


def _as_heats(members: dict[int, list[Pair]]) -> tuple[Heat, ...]:
    return tuple(
        Heat(number, tuple(replace(pair, heat=heat_name(number)) for pair in pairs))
        for number, pairs in sorted(members.items())
    )


def _take(pairs: list[Pair], code: str) -> Pair:
    return pairs.pop(next(i for i, pair in enumerate(pairs) if pair.code == code))


def _heat_of(heats: Sequence[Heat], code: str) -> int:
    for heat in heats:
        if code in heat.codes:
            return heat.number
    known = [known for heat in heats for known in heat.codes]
    close = get_close_matches(code[:60], known, n=1)
    mend = f"Did you mean {close[0]}?" if close else "Check the code; absent pairs are in no heat"
    raise InputError("is in no heat", where="pair", value=code, mend=mend)


def _check_next(members: dict[int, list[Pair]], to: int) -> None:
    following = max(members, default=0) + 1
    if to != following:
        raise InputError(
            "is no heat of this plan",
            where="heat",
            value=to,
            mend=f"Choose one of {', '.join(map(str, sorted(members)))}, or {following} for a new "
            "one",
        )


def _full(heats: Sequence[Heat], code: str, to: int, places: int) -> RuleError:
    """The refusal, with those whose swap splits schools least."""
    (full,) = (heat for heat in heats if heat.number == to)
    others = sorted(full.codes, key=lambda other: n_cuts(swap_pairs(heats, code, other)))
    names = others[:_MAX_NAMED]
    return RuleError(
        f"is full: all {places} places are taken",
        where=heat_name(to),
        mend=f"Swap {code} with {' or '.join(names)}, or choose a heat with a free place",
    )
