"""What is said of the rooms of an event."""

from nearmark.contest.heat_times import HeatState
from nearmark.words import event_rooms
from sentence_examples.facts import Examples


def event_rooms_said() -> Examples:
    """Which heat is where, and how far it is."""
    return {
        event_rooms.heat_in_room: [("heat 2", "Hall B"), ("heat 2", "")],
        event_rooms.room_now: [
            ("Hall B", "", HeatState.NOT_STARTED, "", "heat 1"),
            ("Hall B", "", HeatState.NOT_STARTED, "", ""),
            ("Hall B", "heat 1", HeatState.RUNNING, "10:30", "heat 2"),
            ("Hall B", "heat 1", HeatState.PAUSED, "", "heat 2"),
            ("Hall B", "heat 2", HeatState.OVER, "", ""),
            ("", "heat 1", HeatState.RUNNING, "10:30", "heat 2"),
        ],
        event_rooms.goes_to_room: ["Hall B", ""],
        event_rooms.clocks_paused: [0, 1, 2],
        event_rooms.clocks_go_on: [0, 1, 2],
        event_rooms.room_facts: [(12, 4, 20)],
    }
