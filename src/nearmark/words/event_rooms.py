"""The rooms of an event: which heat is where, and how far it is."""

from nearmark.contest.heat_times import HeatState
from nearmark.words.numbers import capital, plural
from nearmark.words.translation import say, say_count


def heat_in_room(heat: str, room: str) -> str:
    """A heat as it is named where rooms have heats of their own; empty room: there is one room.

    >>> heat_in_room("heat 2", "Hall B"), heat_in_room("heat 2", "")
    ('heat 2 in Hall B', 'heat 2')
    """
    return say("{heat} in {room}", heat=heat, room=room) if room else heat


def room_now(room: str, heat: str, state: HeatState, ends: str, next_heat: str) -> str:
    """What goes on in a room at this moment; empty room: there is one room only.

    ``ends``: time of day at which the heat ends. ``next_heat``: empty when every heat of the room
    has been started, and where it has none.

    >>> room_now("Hall B", "heat 1", HeatState.RUNNING, "10:30", "heat 2")
    'Hall B: heat 1 runs until 10:30.'
    >>> room_now("Hall B", "heat 1", HeatState.OVER, "", "")
    'Hall B: every heat was started.'
    >>> room_now("Hall B", "", HeatState.NOT_STARTED, "", "")
    'Hall B: no heat is planned here yet.'
    """
    words = _in_one_room(heat, state, ends, next_heat)
    return say("{room}: {words}", room=room, words=words) if room else capital(words)


def _in_one_room(heat: str, state: HeatState, ends: str, next_heat: str) -> str:
    if state is HeatState.PAUSED:
        return say("{heat} is paused.", heat=heat)
    if state not in {HeatState.NOT_STARTED, HeatState.OVER}:
        return say("{heat} runs until {ends}.", heat=heat, ends=ends)
    if next_heat:
        return say("no heat runs, {heat} comes next.", heat=next_heat)
    if state is HeatState.NOT_STARTED:
        return say("no heat is planned here yet.")
    return say("every heat was started.")


def goes_to_room(room: str) -> str:
    """True of a pair whose room is known; said when it is checked in.

    >>> goes_to_room("Hall B"), goes_to_room("")
    ('Its room is Hall B.', 'It has no room yet.')
    """
    if not room:
        return say("It has no room yet.")
    return say("Its room is {room}.", room=room)


def room_facts(places: int, accessible: int, n_pairs: int) -> str:
    """How many pairs a room can take in a heat, and how many are to come there.

    >>> room_facts(12, 4, 20)
    '12 places, 4 accessible; 20 pairs'
    """
    return say(
        "{places}, {accessible} accessible; {pairs}",
        places=plural(places, "place"),
        accessible=accessible,
        pairs=plural(n_pairs, "pair"),
    )


def clocks_paused(n: int) -> str:
    """True of the clocks that were stopped for a while in one act.

    >>> clocks_paused(2), clocks_paused(0)
    ('2 clocks are paused: the time does not run.', 'No clock runs.')
    """
    if not n:
        return say("No clock runs.")
    return say_count(
        "{n} clock is paused: the time does not run.",
        "{n} clocks are paused: the time does not run.",
        n,
    )


def clocks_go_on(n: int) -> str:
    """True of the paused clocks that were started again in one act.

    >>> clocks_go_on(2), clocks_go_on(0)
    ('2 clocks go on.', 'No clock is paused.')
    """
    if not n:
        return say("No clock is paused.")
    return say_count("{n} clock goes on.", "{n} clocks go on.", n)
