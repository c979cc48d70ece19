"""What is said in a meeting of a club."""

from nearmark.coaching.acts import Act, Step
from nearmark.coaching.advice import Trial
from nearmark.coaching.meeting_plan import Partners, Refill
from nearmark.coaching.seen_truth import Thing
from nearmark.coaching.teaching_order import Lesson
from nearmark.coaching.timetable import Part, PartKind
from nearmark.station import Station
from nearmark.words import coaching_meeting
from sentence_examples.facts import Examples


def meeting_said() -> Examples:
    """Parts, lessons, stations, partners."""
    beans = Thing(Station.COUNT, "small", "jar of beans", 420)
    sure = Trial(Station.VOLUME, (Step(Act.HEIGHT, 0.75),), 8, 74.2, 93.1, 11.0)
    return {
        coaching_meeting.part_title: [
            *(Part(kind, 0, 4) for kind in PartKind if kind is not PartKind.LESSON),
            *(Part(PartKind.LESSON, 2, 4, lesson) for lesson in Lesson),
        ],
        coaching_meeting.lesson_words: list(Lesson),
        coaching_meeting.lesson_fetch_words: list(Lesson),
        coaching_meeting.warm_up_words: list(Station),
        coaching_meeting.station_words: [
            *((station,) for station in Station),
            (Station.VOLUME, sure),
        ],
        coaching_meeting.rest_words: [()],
        coaching_meeting.at_hand_words: [(1, 4), (2, 1)],
        coaching_meeting.partners_words: [
            Partners(("Ada", "Bo"), beans),
            Partners(("Ada", "Bo", "Cy"), None),
            Partners(("Ada",), None),
        ],
        coaching_meeting.refill_words: [
            *(Refill(station, "", 5) for station in Station),
            Refill(Station.COUNT, "small", 1),
        ],
        coaching_meeting.closing_words: [0, 12],
        coaching_meeting.places_missing: [1, 3],
    }
