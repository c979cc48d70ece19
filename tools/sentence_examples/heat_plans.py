"""The plan of the heats: how good it is, and what would fit where nothing does."""

from datetime import time

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
from nearmark.contest.heat_wish import HeatWish
from nearmark.words import heat_plans
from sentence_examples.facts import Examples

_EARLY, _LATE = time(9, 20), time(9, 50)


def heat_plans_said() -> Examples:
    """Plans of the heats."""
    unplaced = [
        Unplaced("Brookside", 2, 8, (), _EARLY, _LATE),
        Unplaced("Brookside", 8, 8, (), earliest=_EARLY),
        Unplaced("Brookside", 2, 8, (), latest=_LATE),
        Unplaced("Brookside", 1, 8, ("P07",)),
    ]
    more = (MorePlaces(2, "", 2), MorePlaces(1, "Gym", 3))
    accessible = MorePlaces(1, "Gym", None, is_accessible=True)
    changes = (
        WishChange(Part.TIME, "Brookside", earliest=time(9)),
        WishChange(Part.TIME, "Quillbank", latest=time(10, 30)),
        WishChange(Part.TIME, "P07", time(9), time(10, 30)),
        WishChange(Part.HEAT, "P08"),
        WishChange(Part.ROOM, "P09"),
        WishChange(Part.TOGETHER, "siblings Fern"),
        WishChange(Part.APART, "twins Elm"),
    )
    return {
        heat_plans.aim_words: [
            *(Level(aim, value, 0) for aim in Aim for value in (0.0, 1.0, 3.0)),
            Level(Aim.UNEVEN, 14.4, 0),
            *((Level(Aim.COACHES, value, 0), False) for value in (0.0, 1.0, 3.0)),
        ],
        heat_plans.gap_words: [
            Level(Aim.CUTS, 2, 2),
            Level(Aim.CUTS, 2, 1),
            Level(Aim.UNEVEN, 2.4, 0.6),
        ],
        heat_plans.not_kept_words: [
            *(NotKept(fault, "Gym", ("P07", "P08")) for fault in Fault),
            NotKept(Fault.PLACES, "", tuple(f"P{n:02}" for n in range(1, 10))),
        ],
        heat_plans.wish_words: [
            HeatWish("P07", _EARLY, _LATE, 2, "Gym", "siblings", "twins", True, "Wren"),  # noqa: FBT003
            HeatWish("Brookside", latest=_LATE),
        ],
        heat_plans.move_words: [
            HeatMove("P07", "Brookside", ("", ""), ("heat 3", "")),
            HeatMove("P07", "Brookside", ("heat 2", "Gym"), ("heat 3", "Library")),
            HeatMove("P07", "Brookside", ("heat 2", ""), ("", "")),
        ],
        heat_plans.unplaced_words: unplaced,
        heat_plans.more_places_words: [(more,), ((accessible,),)],
        heat_plans.changes_words: [*(((change,),) for change in changes), ((), True)],
        heat_plans.no_fit_words: [
            NoFit(tuple(unplaced[:1]), more[:1], changes[:1]),
            NoFit(tuple(unplaced[3:]), n_heats=6),
        ],
    }
