"""What the picture of a simulated day shows, and the few words in it."""

from collections.abc import Sequence
from datetime import time
from typing import Final

from nearmark.contest.day_flow.over_time import RoomOverTime, Spot, SpotOverTime
from nearmark.words.day_flow import clock_text, end_words
from nearmark.words.translation import message, say

_SPOTS: Final = {
    Spot.PLACES: message("Places"),
    Spot.SCALES: message("Scales"),
    Spot.CONTAINERS: message("Containers"),
    Spot.BOXES: message("Boxes"),
}


def spot_name(spot: Spot) -> str:
    """A station of a room.

    >>> spot_name(Spot.SCALES)
    'Scales'
    """
    return say(_SPOTS[spot])


def at_work() -> str:
    """Beside what goes up from the line."""
    return say("at work")


def waiting() -> str:
    """Beside what goes down from the line."""
    return say("waiting")


def end_label() -> str:
    """Above the time in which the last pair leaves, in eight days of ten."""
    return say("end of the day")


def tick(minutes: int, start: time | None) -> str:
    """A time on the axis: of the day, or since the first start.

    >>> tick(90, time(9)), tick(90, None)
    ('10:30', '1:30')
    """
    if start is not None:
        return clock_text(start, minutes)
    return f"{minutes // 60}:{minutes % 60:02d}"


def course_words(course: RoomOverTime, start: time | None) -> tuple[str, ...]:
    """Each station of a room over the day, and its end."""
    spots = (spot_words(spot, course.times_min, start) for spot in course.spots)
    return (*spots, end_words(course.end_min, start))


def spot_words(spot: SpotOverTime, times_min: Sequence[float], start: time | None) -> str:
    """True of a station: how many work there at most, and when how many wait."""
    busy, queue = max(spot.busy.usual), max(spot.queue.usual)
    name = spot_name(spot.spot)
    if queue < 1:
        return say(
            "{name}: at most {busy} of {room} at work, and hardly anybody waits.",
            name=name,
            busy=round(busy),
            room=spot.room_for,
        )
    k = spot.queue.usual.index(queue)
    return say(
        "{name}: at most {busy} of {room} at work; most wait at {when}: {queue} ({low} to {high}).",
        name=name,
        busy=round(busy),
        room=spot.room_for,
        when=tick(round(times_min[k]), start),
        queue=round(queue),
        low=round(spot.queue.low[k]),
        high=round(spot.queue.high[k]),
    )
