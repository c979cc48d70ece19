"""How good a plan of the heats is, which wishes it breaks, and what would fit."""

from collections.abc import Sequence

from nearmark.contest.heat_program import (
    Aim,
    Fault,
    HeatMove,
    Level,
    MorePlaces,
    NoFit,
    NotKept,
    Part,
    Unplaced,
    WishChange,
)
from nearmark.contest.heat_records import heat_name
from nearmark.contest.heat_wish import HeatWish
from nearmark.words.numbers import both, plural
from nearmark.words.translation import message, say, say_count

_MAX_NAMED = 6

_ALMOST_NONE = 0.05
"""Shown as 0."""


def aim_words(level: Level, has_coaches: bool = True) -> str:  # noqa: FBT001, FBT002
    """True of a plan: how far one aim is reached.

    ``has_coaches``: whether a wish names one; else a school counts for itself.
    """
    if level.aim is Aim.UNEVEN and level.value > _ALMOST_NONE:
        # Each pair that is too many in one place is missing in another.
        return say_count(
            "To fill rooms and heats evenly, about {n} pair would have to go elsewhere.",
            "To fill rooms and heats evenly, about {n} pairs would have to go elsewhere.",
            _elsewhere(level.value),
        )
    n = round(level.value)
    if level.aim is Aim.COACHES and not has_coaches:
        return _schools_near(n)
    if not n and level.aim in _NONE:
        return say(_NONE[level.aim])
    return _COUNTED[level.aim](n)


def _schools_near(n: int) -> str:
    if not n:
        return say("Every school is in one room and in neighbouring heats.")
    return say_count(
        "Schools have {n} room or heat too many between their pairs.",
        "Schools have {n} rooms or heats too many between their pairs.",
        n,
    )


_NONE = {
    Aim.CUTS: message("Every school is together."),
    Aim.COACHES: message("The schools of each coach are in one room and in neighbouring heats."),
    Aim.UNEVEN: message("Rooms and heats are evenly full."),
}

_COUNTED = {
    Aim.MOVES: lambda n: say_count("{n} pair moves.", "{n} pairs move.", n),
    Aim.HEATS: lambda n: say_count("{n} heat.", "{n} heats.", n),
    Aim.CUTS: lambda n: say_count("Schools are cut {n} time.", "Schools are cut {n} times.", n),
    Aim.COACHES: lambda n: say_count(
        "Coaches have {n} room or heat too many between their schools.",
        "Coaches have {n} rooms or heats too many between their schools.",
        n,
    ),
}


def gap_words(level: Level) -> str:
    """What is known of better plans, when the aims before this one stay as they are."""
    if level.is_proven:
        return say("No plan is better.")
    if level.aim is Aim.UNEVEN:
        return say("A plan with rooms and heats more evenly full is not ruled out.")
    return say("A plan with {bound} is not ruled out.", bound=str(round(level.bound)))


def _elsewhere(value: float) -> int:
    return max(1, round(value / 2))


def not_kept_words(found: NotKept) -> str:
    """True of a plan that does not look at the wishes: one thing that it does not keep."""
    who = found.who
    if found.fault in {Fault.ACCESSIBLE, Fault.PLACES} and who:
        who = say("in {room} ", room=who)
    return say(_NOT_KEPT[found.fault], who=who, pairs=_named(found.codes))


_NOT_KEPT = {
    Fault.TIME: message("{who}: outside the time asked for ({pairs})."),
    Fault.HEAT: message("{who}: not in the heat asked for ({pairs})."),
    Fault.ROOM: message("{who}: not in the room asked for ({pairs})."),
    Fault.TOGETHER: message("Group {who}: not in one heat ({pairs})."),
    Fault.APART: message("Group {who}: not in heats apart ({pairs})."),
    Fault.ACCESSIBLE: message("Too few accessible places {who}({pairs})."),
    Fault.PLACES: message("Too few places {who}({pairs})."),
    Fault.DIVISIONS: message("Divisions are mixed: {who} ({pairs})."),
    Fault.KEPT: message("Not where they should stay: {pairs}."),
}


def _named(codes: Sequence[str]) -> str:
    """Some codes, and how many more."""
    named = ", ".join(codes[:_MAX_NAMED])
    more = len(codes) - _MAX_NAMED
    return named if more <= 0 else say("{named} and {n} more", named=named, n=more)


def wish_words(wish: HeatWish) -> str:
    """What a pair or a school asks for.

    >>> from datetime import time
    >>> wish_words(HeatWish("P07", earliest=time(9, 20), needs_accessible=True))
    'not before 09:20, accessible place'
    """
    parts = []
    if wish.earliest:
        parts.append(say("not before {start}", start=f"{wish.earliest:%H:%M}"))
    if wish.latest:
        parts.append(say("over by {end}", end=f"{wish.latest:%H:%M}"))
    if wish.heat is not None:
        parts.append(heat_name(wish.heat))
    if wish.room:
        parts.append(wish.room)
    if wish.needs_accessible:
        parts.append(say("accessible place"))
    if wish.together:
        parts.append(say("together with {group}", group=wish.together))
    if wish.apart:
        parts.append(say("apart from {group}", group=wish.apart))
    if wish.coach:
        parts.append(say("coach {coach}", coach=wish.coach))
    return ", ".join(parts)


def move_words(move: HeatMove) -> str:
    """A pair that goes elsewhere than before.

    >>> move_words(HeatMove("P07", "Brookside", ("heat 2", ""), ("heat 3", "")))
    'P07, Brookside: heat 2, now heat 3'
    """
    old, new = (", ".join(part for part in place if part) for place in (move.old, move.new))
    if not old:
        return say("{pair}, {school}: now {new}", pair=move.code, school=move.school, new=new)
    return say(
        "{pair}, {school}: {old}, now {new}",
        pair=move.code,
        school=move.school,
        old=old,
        new=new or say("no heat"),
    )


def no_fit_words(found: NoFit) -> tuple[str, ...]:
    """Why no plan keeps everything, then each change that alone would fit."""
    words = [" ".join(map(unplaced_words, found.unplaced))] if found.unplaced else []
    if found.more_places:
        words.append(more_places_words(found.more_places))
    if found.changes or found.mixes_divisions:
        words.append(changes_words(found.changes, found.mixes_divisions))
    if found.n_heats is not None:
        words.append(say("It would fit with {heats}.", heats=plural(found.n_heats, "heat")))
    return tuple(words)


def unplaced_words(found: Unplaced) -> str:
    """Pairs of one school that find no place, with the times they ask for."""
    who = _who(found)
    if found.earliest and found.latest:
        return say(
            "No place for {who}, who cannot come before {start} and have to be done by {end}.",
            who=who,
            start=f"{found.earliest:%H:%M}",
            end=f"{found.latest:%H:%M}",
        )
    if found.earliest:
        start = f"{found.earliest:%H:%M}"
        return say("No place for {who}, who cannot come before {start}.", who=who, start=start)
    if found.latest:
        end = f"{found.latest:%H:%M}"
        return say("No place for {who}, who have to be done by {end}.", who=who, end=end)
    return say("No place for {who}.", who=who)


def _who(found: Unplaced) -> str:
    if len(found.codes) == 1:
        return say("pair {code} ({school})", code=found.codes[0], school=found.school)
    if found.n == found.n_of_school:
        return say("{school} ({pairs})", school=found.school, pairs=plural(found.n, "pair"))
    return say(
        "{n} of the {all} pairs of {school}",
        n=found.n,
        all=found.n_of_school,
        school=found.school,
    )


def more_places_words(found: Sequence[MorePlaces]) -> str:
    """Places that are not there, with which everybody would fit, all wishes kept."""
    return say("It would fit with {places}.", places=both([_more(each) for each in found]))


def _more(found: MorePlaces) -> str:
    if found.is_accessible:
        return say_count(
            "{n} more accessible place{room}",
            "{n} more accessible places{room}",
            found.n,
            room=say(" in {room}", room=found.room) if found.room else "",
        )
    where = ", ".join([heat_name(found.heat or 1), *([found.room] if found.room else [])])
    return say_count(
        "{n} more place in {where}", "{n} more places in {where}", found.n, where=where
    )


def changes_words(found: Sequence[WishChange], mixes_divisions: bool = False) -> str:  # noqa: FBT001, FBT002
    """Wishes that would have to be given up, all of them, with the places there are."""
    parts = [_change(each) for each in found]
    if mixes_divisions:
        parts.append(say("divisions may go together"))
    return say("It would fit with the places there are if {changes}.", changes=both(parts))


def _change(found: WishChange) -> str:
    if found.part is Part.TIME:
        return _time_change(found)
    if found.part is Part.HEAT:
        return say("{who} may go in another heat", who=found.who)
    if found.part is Part.ROOM:
        return say("{who} may go in another room", who=found.who)
    if found.part is Part.TOGETHER:
        return say("group {who} need not be together", who=found.who)
    return say("group {who} need not be apart", who=found.who)


def _time_change(found: WishChange) -> str:
    start = f"{found.earliest:%H:%M}" if found.earliest else ""
    end = f"{found.latest:%H:%M}" if found.latest else ""
    if start and end:
        return say(
            "{who} can start at {start} and stay to {end}", who=found.who, start=start, end=end
        )
    if start:
        return say("{who} can start at {start}", who=found.who, start=start)
    return say("{who} can stay to {end}", who=found.who, end=end)
