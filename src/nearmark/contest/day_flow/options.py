"""The numbers a lead chooses for a day, and the rooms that follow from them."""

from dataclasses import dataclass, replace
from typing import Final

from nearmark.contest.day_flow.day import MAX_ROOMS, Late, RoomDay, shared_out
from nearmark.contest.day_flow.room import (
    Break,
    Choice,
    Overrun,
    RoomPlan,
    Stop,
    check_whole,
    usual_stops,
)
from nearmark.contest.day_flow.times import ARRIVE, COUNT, MEASURE, PUT_BACK, SCOOP, WEIGH, Minutes
from nearmark.contest.rules import HEAT_MINUTES, PLACES
from nearmark.station import Station

MAX_ITEMS: Final = 20


@dataclass(frozen=True, slots=True)
class DayOptions:
    """A day in few numbers; those of a room hold for each room."""

    pairs: int = 80  # of the whole day
    rooms: int = 1
    places: int = PLACES  # pairs that scoop at once in a room
    # Places of each room where rooms differ; empty: all have ``places`` (shape (n_rooms,)).
    places_of_rooms: tuple[int, ...] = ()
    names_of_rooms: tuple[str, ...] = ()
    scales: int = 1  # in a room
    helpers: int = 1  # at the scales of a room
    containers: int = 3  # to count, each in every room
    boxes: int = 2
    at_container: int = 2  # pairs that have room at one container: 2 a copy is usual
    at_box: int = 2
    minutes: float = float(HEAT_MINUTES)  # of a pair
    interval_min: float = float(HEAT_MINUTES)  # min from one planned start to the next
    choice: Choice = Choice.SHORTEST
    overrun: Overrun = Overrun.UNDONE
    is_returned: bool = True  # whether a scoop goes back into its bucket
    late: tuple[Late, ...] = ()  # of the first room
    breaks: tuple[Break, ...] = ()  # of one helper in each room
    arrive: Minutes = ARRIVE
    scoop: Minutes = SCOOP
    weigh: Minutes = WEIGH
    put_back: Minutes = PUT_BACK
    count: Minutes = COUNT
    measure: Minutes = MEASURE

    def __post_init__(self) -> None:
        check_whole("rooms", self.rooms, 1, MAX_ROOMS)
        check_whole("containers", self.containers, 0, MAX_ITEMS)
        check_whole("boxes", self.boxes, 0, MAX_ITEMS)

    def planned(self) -> tuple[RoomDay, ...]:
        """The rooms of the day, with their pairs shared out.

        >>> [each.day.heats for each in DayOptions(pairs=40, rooms=2).planned()]
        [(10, 10), (10, 10)]
        """
        room = RoomPlan(
            tuple(map(self._with_time, usual_stops(self.containers, self.boxes))),
            places=self.places,
            scales=self.scales,
            helpers=self.helpers,
            minutes=self.minutes,
            arrive=self.arrive,
            scoop=self.scoop,
            weigh=self.weigh,
            put_back=self.put_back,
            choice=self.choice,
            overrun=self.overrun,
            is_returned=self.is_returned,
            breaks=self.breaks,
        )
        places = self.places_of_rooms or (self.places,) * self.rooms
        names = self.names_of_rooms or tuple(str(n) for n in range(1, len(places) + 1))
        rooms = [replace(room, places=n, name=name) for n, name in zip(places, names, strict=True)]
        return shared_out(self.pairs, rooms, interval_min=self.interval_min, late=self.late)

    def _with_time(self, stop: Stop) -> Stop:
        if stop.station is Station.COUNT:
            return replace(stop, minutes=self.count, at_once=self.at_container)
        return replace(stop, minutes=self.measure, at_once=self.at_box)
