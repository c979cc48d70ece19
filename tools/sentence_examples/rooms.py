"""What a room is shown."""

from nearmark.coaching.room import MiddleResult, Spread
from nearmark.coaching.room_games import Relay
from nearmark.words import handout, room
from sentence_examples.facts import Examples


def room_said() -> Examples:
    """Middle, spread, games, reveal."""
    twelve = Spread(12, 200, 350, 402, 480, 900)
    one = Spread(1, 402, 402, 402, 402, 402)
    return {
        room.seat_title: [7],
        room.seats_words: [[4], [1, 7, 9], list(range(1, 12))],
        room.guessed_words: [(7, 12)],
        room.joined_words: [1, 12],
        room.spread_words: [(twelve, "200", "402", "900"), (one, "402", "402", "402")],
        room.half_words: [(twelve, 420)],
        room.middle_words: [
            MiddleResult(0.957, 95.7, 12, 9, 71.2),
            MiddleResult(0.957, 95.7, 1, 0, 95.7),
        ],
        room.total_words: [(934.2, 1200)],
        room.bests_words: [[3, 7]],
        room.closest_words: [(2, [5]), (0, [5, 6])],
        room.relay_words: [([Relay((3, 8), 181.0)], 2)],
        room.turn_words: [(8, 3), (8, 8)],
        room.layer_off_words: [(3, 11, 28, 83)],
        room.one_layer_words: ["28"],
        room.layers_words: ["11"],
        room.side_revealed_words: [(1, "12.4")],
        room.truth_words: ["303 pieces"],
        room.asked_mass_words: ["100 g"],
        room.own_words: [
            ([0.8, 0.92, 1.1],),
            ([1.2],),
            ([1.2, 1.1, 0.9],),
            ([0.8, 0.9, 0.95, 1.1],),
            ([0.8, 0.9, 1.2, 1.3],),
        ],
        handout.part_title: list(handout.HandoutPart),
        handout.line_words: [
            (part, number)
            for part in handout.HandoutPart
            for number in range(len(handout.part_lines(part)) - 2 * (part == "count"))
        ],
        handout.vessel_words: ["cup", "box"],
    }
