"""How a day flows through the room: queues, minutes lost and the end of the day, simulated."""

from nearmark.contest.day_flow.changes import Change, ChangeKind, worth_of_changes
from nearmark.contest.day_flow.room import Break, Choice, Day, Late, Minutes, Room, Stop, usual_room
from nearmark.contest.day_flow.summary import Band, DayBands, day_bands

__all__ = [
    "Band",
    "Break",
    "Change",
    "ChangeKind",
    "Choice",
    "Day",
    "DayBands",
    "Late",
    "Minutes",
    "Room",
    "Stop",
    "day_bands",
    "usual_room",
    "worth_of_changes",
]
