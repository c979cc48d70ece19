"""The heats as an integer program: every wish kept, and the best plan, or why there is none."""

from nearmark.contest.heat_program.broken import Fault, NotKept, not_kept
from nearmark.contest.heat_program.frame import MAX_HEATS, DivisionRule, HeatFrame
from nearmark.contest.heat_program.groups import Field, Part, Place, check_names, make_field
from nearmark.contest.heat_program.levels import Aim, Level
from nearmark.contest.heat_program.measures import measures
from nearmark.contest.heat_program.moves import HeatMove, heat_moves
from nearmark.contest.heat_program.no_fit import MorePlaces, NoFit, Unplaced, WishChange
from nearmark.contest.heat_program.plan import TIME_LIMIT_S, HeatPlan, plan_heats
from nearmark.contest.heat_program.preview import preview_heats, with_rooms

__all__ = [
    "MAX_HEATS",
    "TIME_LIMIT_S",
    "Aim",
    "DivisionRule",
    "Fault",
    "Field",
    "HeatFrame",
    "HeatMove",
    "HeatPlan",
    "Level",
    "MorePlaces",
    "NoFit",
    "NotKept",
    "Part",
    "Place",
    "Unplaced",
    "WishChange",
    "check_names",
    "heat_moves",
    "make_field",
    "measures",
    "not_kept",
    "plan_heats",
    "preview_heats",
    "with_rooms",
]
