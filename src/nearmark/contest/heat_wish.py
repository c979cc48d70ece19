"""What a pair or a school asks of the plan of the heats."""

from dataclasses import dataclass
from datetime import time


@dataclass(frozen=True, slots=True)
class HeatWish:
    """One wish, of one pair or of all pairs of a school; what is empty is not asked for."""

    who: str  # code of a pair, or name of a school
    earliest: time | None = None  # their heat starts then or later (time of the day)
    latest: time | None = None  # their heat is over by then (time of the day)
    heat: int | None = None  # the heat they are in, such as one chosen by hand (heat number)
    room: str = ""  # the room they are in
    together: str = ""  # all who name the same group go in one heat
    apart: str = ""  # no two who name the same group go in one heat
    needs_accessible: bool = False  # whether each of their pairs needs an accessible place
    coach: str = ""  # schools of one coach go in the same or in neighbouring heats, in one room
