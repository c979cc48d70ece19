"""A meeting of a club: what each part is, what to fetch, what to say to each child."""

from typing import Final

from nearmark.coaching.advice import Certainty, Trial
from nearmark.coaching.meeting_plan import MeetingPlan, Partners, Refill
from nearmark.coaching.teaching_order import Lesson
from nearmark.coaching.timetable import Part, PartKind
from nearmark.station import Station
from nearmark.words.coaching_advice import trial_words
from nearmark.words.numbers import both
from nearmark.words.sides import kind_words
from nearmark.words.translation import message, say, say_count

_PARTS: Final = {
    PartKind.WARM_UP: message("Warm-up"),
    PartKind.STATIONS: message("Stations"),
    PartKind.CLOSING: message("Closing"),
}
_LESSONS: Final = {
    Lesson.HOLD: message("Hold 100 g"),
    Lesson.LAYER: message("Count one layer"),
    Lesson.LAYERS: message("Count the layers"),
    Lesson.HAND: message("Measure with your own hand"),
    Lesson.CALCULATOR: message("Multiply on the calculator"),
    Lesson.PAIRS: message("Decide in pairs"),
}
_TAUGHT: Final = {
    Lesson.HOLD: message(
        "Each holds 100 g for ten seconds, puts it down, scoops as much by feel, and weighs it."
    ),
    Lesson.LAYER: message(
        "Each looks at a clear jar from above and counts the pieces of one layer, "
        "row by row; then pours that layer out and counts again."
    ),
    Lesson.LAYERS: message(
        "Each counts the layers at the side of a clear jar, at two places, "
        "and writes down the middle of both."
    ),
    Lesson.HAND: message(
        "Each lays palm and span on a ruler, writes both down, and takes a box with them."
    ),
    Lesson.CALCULATOR: message(
        "Each multiplies layer by layers, then three sides, twice; both answers must agree."
    ),
    Lesson.PAIRS: message(
        "Two look at one jar without talking, write a number each, then agree on one."
    ),
}
_FETCH: Final = {
    Lesson.HOLD: message("100 g in a bag, a scoop, a cup for each, a scale"),
    Lesson.LAYER: message("a clear jar with large pieces for each, a tray"),
    Lesson.LAYERS: message("a clear jar with large pieces for each"),
    Lesson.HAND: message("a ruler and a box for each"),
    Lesson.CALCULATOR: message("a calculator with four functions for each"),
    Lesson.PAIRS: message("a clear jar for each pair"),
}
_WARM_UPS: Final = {
    Station.MASS: message(
        "Pass 100 g round with eyes closed. Then pass round something else: is it more or less?"
    ),
    Station.COUNT: message(
        "Show a handful of pieces for three seconds. Each says a number; then count them together."
    ),
    Station.VOLUME: message(
        "Each shows 10 cm between two fingers, eyes closed. Go round with a ruler."
    ),
}
_SAY: Final = {
    Station.MASS: message("Hold the empty cup first, then scoop until it feels like 100 g more."),
    Station.COUNT: message("Count one layer, then the layers at the side, and multiply."),
    Station.VOLUME: message("Take the thinnest side twice: it matters most. Then multiply."),
}


def part_title(part: Part) -> str:
    """What a part of a meeting is called.

    >>> part_title(Part(PartKind.LESSON, 2, 4, Lesson.HAND))
    'Measure with your own hand'
    """
    return say(_PARTS[part.kind] if part.lesson is None else _LESSONS[part.lesson])


def lesson_words(lesson: Lesson) -> str:
    """What everybody does in a lesson.

    >>> lesson_words(Lesson.PAIRS)
    'Two look at one jar without talking, write a number each, then agree on one.'
    """
    return say(_TAUGHT[lesson])


def lesson_fetch_words(lesson: Lesson) -> str:
    """What to fetch for a lesson.

    >>> lesson_fetch_words(Lesson.HAND)
    'a ruler and a box for each'
    """
    return say(_FETCH[lesson])


def warm_up_words(station: Station) -> str:
    """What everybody does at the beginning.

    >>> warm_up_words(Station.VOLUME)
    'Each shows 10 cm between two fingers, eyes closed. Go round with a ruler.'
    """
    return say(_WARM_UPS[station])


def station_words(station: Station, trial: Trial | None = None) -> str:
    """What to say to a child at a station: its own advice when it is sure, else what helps all.

    >>> station_words(Station.COUNT)
    'Count one layer, then the layers at the side, and multiply.'
    """
    if trial is not None and trial.sureness is Certainty.SURE:
        return trial_words(trial)
    return say(_SAY[station])


def rest_words() -> str:
    """What a child does that rests in a slot.

    >>> rest_words()
    'helps: keeps the time and reads the scale'
    """
    return say("helps: keeps the time and reads the scale")


def at_hand_words(n_scales: int, n_calculators: int) -> str:
    """What a rota needs besides its things; empty when it needs nothing.

    >>> at_hand_words(1, 4), at_hand_words(0, 1)
    ('1 scale and 4 calculators', '1 calculator')
    """
    said = []
    if n_scales:
        said.append(say_count("{n} scale", "{n} scales", n_scales))
    if n_calculators:
        said.append(say_count("{n} calculator", "{n} calculators", n_calculators))
    return both(said)


def partners_words(partners: Partners) -> str:
    """Who sits with whom at the closing, and what they compare.

    >>> from nearmark.coaching.seen_truth import Thing
    >>> partners_words(Partners(("Ada", "Bo"), Thing(Station.COUNT, "", "jar of beans", 420)))
    'Ada and Bo: compare jar of beans, and agree on one number.'
    >>> partners_words(Partners(("Ada", "Bo"), None))
    'Ada and Bo: each says how the best number was found.'
    """
    if len(partners.names) == 1:
        return say("{who}: sits with you.", who=partners.names[0])
    who = both(partners.names)
    if partners.thing is None:
        return say("{who}: each says how the best number was found.", who=who)
    return say(
        "{who}: compare {thing}, and agree on one number.", who=who, thing=partners.thing.name
    )


def refill_words(refill: Refill) -> str:
    """True of a kind of which nothing is fresh for some who are here: what to do about it.

    Examples
    --------
    >>> refill_words(Refill(Station.COUNT, "small", 5))
    'count, small: nothing is fresh for 5 children. Pour a new jar of this size and count it, or \
turn to a simulated jar.'
    """
    kind = kind_words(refill.station, refill.size)
    head = say_count(
        "{kind}: nothing is fresh for {n} child.",
        "{kind}: nothing is fresh for {n} children.",
        refill.n_pupils,
        kind=kind,
    )
    return f"{head} {say(_NEW[refill.station])}"


_NEW: Final = {
    Station.MASS: message("Add something to scoop, with its cup."),
    Station.COUNT: message("Pour a new jar of this size and count it, or turn to a simulated jar."),
    Station.VOLUME: message("Bring another box and measure its sides."),
}


def places_missing(n: int) -> str:
    """True of a meeting that ended before each child's number at each place was typed."""
    return say_count(
        "{n} place is still without a number.", "{n} places are still without a number.", n
    )


def closing_words(n_things: int) -> str:
    """What happens at the end.

    >>> closing_words(0)
    'Each says one thing that was new today.'
    """
    if n_things == 0:
        return say("Each says one thing that was new today.")
    return say("Pairs compare first. Then show the true values: each child finds its best number.")


def part_words(part: Part, plan: MeetingPlan) -> tuple[str, ...]:
    """What is said to all in one part; nothing at the stations: there each child hears its own.

    >>> from nearmark.coaching import Learner, plan_meeting
    >>> plan = plan_meeting([Learner("Ada")], [], minutes=12, lessons=[Lesson.HAND])
    >>> part_words(plan.parts[-1], plan)[0]
    'Each says one thing that was new today.'
    """
    if part.lesson is not None:
        return (lesson_words(part.lesson),)
    if part.kind is PartKind.WARM_UP:
        return (warm_up_words(plan.warm_up),)
    if part.kind is PartKind.CLOSING:
        return (closing_words(len(plan.fetch)), *map(partners_words, plan.partners))
    return ()


def fetch_words(plan: MeetingPlan) -> tuple[str, ...]:
    """What a meeting needs besides the things of its rota.

    >>> from nearmark.coaching import Learner, plan_meeting
    >>> fetch_words(plan_meeting([Learner("Ada")], [], minutes=12, lessons=[Lesson.HAND]))
    ('a ruler and a box for each',)
    """
    at_hand = at_hand_words(plan.most_scales, plan.most_calculators)
    lessons = [lesson_fetch_words(part.lesson) for part in plan.parts if part.lesson is not None]
    return (*([at_hand] if at_hand else []), *lessons)
