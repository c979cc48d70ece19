"""What to do next with an item of the kit, why, and what is there already."""

from functools import singledispatch
from typing import Final

from nearmark.contest.event import Side
from nearmark.contest.measuring_steps import (
    EDGE_READINGS,
    CloseIt,
    CountSample,
    LookAgain,
    MassSoFar,
    MeasureMore,
    MeasuringSteps,
    NothingToMeasure,
    ReadEdge,
    ReadingsInDoubt,
    ReadingsSoFar,
    SampleTotal,
    SoFar,
    Step,
    TakeStep,
    Todo,
    UsedByDecision,
)
from nearmark.kit import AssignedValue, percent_text
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.kit.counting import BY_HAND
from nearmark.kit.sampling_plan import MIN_PLANNED
from nearmark.words.doubts import doubt_question, what_is_odd
from nearmark.words.key_advice import advice_words
from nearmark.words.key_remarks import lack_words
from nearmark.words.keys import counts_as_exact, problem_words
from nearmark.words.numbers import plural
from nearmark.words.translation import message, say


def total_words(total: SampleTotal) -> str:
    """All counted samples of one item: how many, and of how many pieces.

    >>> from decimal import Decimal
    >>> total_words(SampleTotal(3, 300, Decimal("184.2"), 0.614, 100))
    '3 samples of 100'
    """
    samples = plural(total.n, "sample")
    if total.size:
        return say("{samples} of {size}", samples=samples, size=total.size)
    return say("{samples}, {pieces}", samples=samples, pieces=plural(total.pieces, "piece"))


_TITLES: Final = {
    "empty": message("Weigh it empty"),
    "sample": message("Count and weigh {samples} samples or more"),
    "full": message("Fill it, weigh it full"),
    "hand-count": message("Two people count all pieces"),
    "faces": message("Say: inside or outside"),
    "more": message("Measure more until the key is fit"),
}

_READ_TITLES: Final = {
    Side.LENGTH: message("Read the length three times"),
    Side.WIDTH: message("Read the width three times"),
    Side.HEIGHT: message("Read the height three times"),
}

_READ: Final = {
    Side.LENGTH: message("Read the length"),
    Side.WIDTH: message("Read the width"),
    Side.HEIGHT: message("Read the height"),
}


def step_title(step: Step) -> str:
    """What a step asks for, short."""
    if step.side is not None:
        return say(_READ_TITLES[step.side])
    return say(_TITLES[step.kind], samples=MIN_PLANNED)


def step_so_far(step: Step) -> str:
    """What is there already of a step; empty when nothing is."""
    return "" if step.so_far is None else _so_far(step.so_far)


def way_words(way: MeasuringSteps) -> str:
    """The next thing to do, as the headline of a page."""
    return _todo(way.todo)


def way_reason(way: MeasuringSteps) -> str:
    """The reason beneath the headline; may be empty."""
    return _reason(way.todo)


@singledispatch
def _so_far(so_far: SoFar) -> str:
    raise TypeError(type(so_far).__name__)


@singledispatch
def _todo(todo: Todo) -> str:
    raise TypeError(type(todo).__name__)


@singledispatch
def _reason(todo: Todo) -> str:
    raise TypeError(type(todo).__name__)


_so_far.register(total_words)


@_so_far.register
def mass_so_far(so_far: MassSoFar) -> str:
    """The newest mass of a container."""
    return f"{so_far.mass_g:f} g"


@_so_far.register
def readings_so_far(so_far: ReadingsSoFar) -> str:
    """How many readings there are, of how many; more than wanted are only counted."""
    if so_far.n <= so_far.wanted:
        return say("{n} of {wanted}", n=so_far.n, wanted=so_far.wanted)
    return plural(so_far.n, "reading")


_FACES: Final = {Faces.INSIDE: message("inside"), Faces.OUTSIDE: message("outside")}


@_so_far.register
def faces_so_far(box: BoxFaces) -> str:
    """Which faces of a box were read, and which wall is taken off."""
    faces = say(_FACES[box.faces]) if box.faces else ""
    if not box.wall_text:
        return faces
    return say("{faces}, less two walls of {wall} cm", faces=faces, wall=box.wall_text)


@_so_far.register
def not_fit(assigned: AssignedValue) -> str:
    """True of a key that is not fit: what is missing, else how large U is."""
    return lack_words(assigned) or u_and_limit(assigned)


def u_and_limit(assigned: AssignedValue) -> str:
    """The expanded uncertainty beside the limit of the rule set.  It has no full stop."""
    return say(
        "U is {u}, the limit {limit}",
        u=percent_text(assigned.relative_expanded_u),
        limit=percent_text(assigned.u_limit),
    )


@_todo.register
def nothing_to_measure(_: NothingToMeasure) -> str:
    """True of the mass station."""
    return say("Nothing to measure here")


@_reason.register
def why_nothing_to_measure(_: NothingToMeasure) -> str:
    """True of the mass station."""
    return say("The target mass is set by the rule set and is exact.")


@_todo.register
def look_again(_: LookAgain) -> str:
    """True of an item with a reading in doubt, when all steps are done."""
    return say("Look at one reading once more")


@_reason.register
def why_look_again(todo: LookAgain) -> str:
    """What is odd about the reading, and what it might be."""
    return f"{what_is_odd(todo.doubt)}. {doubt_question(todo.doubt)}"


@_todo.register
def close_it(_: CloseIt) -> str:
    """True of a key that is fit and of which no reading is in doubt."""
    return say("This key is fit: close and seal it")


@_reason.register
def why_close_it(todo: CloseIt) -> str:
    """True of a key that is fit."""
    return say("{u_and_limit}. Print the certificate.", u_and_limit=u_and_limit(todo.assigned))


@_todo.register
def used_by_decision(todo: UsedByDecision) -> str:
    """True of a key that the lead has decided about."""
    return say("Used by decision of {person}", person=todo.decision.by)


@_reason.register
def why_used_by_decision(todo: UsedByDecision) -> str:
    """The reason of the lead, and whether the key counts as exact."""
    if not todo.key.is_only_decided:
        return todo.decision.reason
    return f"{todo.decision.reason}. {counts_as_exact(todo.key)}"


_STEPS: Final = {
    "empty": message("Weigh the container empty"),
    "full": message("Fill it, then weigh it full"),
    "hand-count": message("Let a second person count all pieces"),
    "faces": message("Inside or outside?"),
}

_STEP_REASONS: Final = {
    "empty": message(
        "With the lid it will have. Under {pieces} pieces, two people count them all instead."
    ),
    "full": message("All pieces in, nothing else: on the scale that weighed it empty."),
    "hand-count": message(
        "Without knowing the first count: two counts that agree are enough for a key."
    ),
    "faces": message(
        "The volume a child judges and the volume the ruler gives must be the same one."
    ),
}


@_todo.register
def take_step(todo: TakeStep) -> str:
    """The first step that is not done."""
    return say(_STEPS[todo.kind])


@_reason.register
def why_take_step(todo: TakeStep) -> str:
    """How the step is done."""
    return say(_STEP_REASONS[todo.kind], pieces=BY_HAND)


@_todo.register
def count_sample(_: CountSample) -> str:
    """True while there are too few counted samples."""
    return say("Count pieces and weigh them")


@_reason.register
def how_to_sample(todo: CountSample) -> str:
    """Which sample this is, what the plan asks for, and how pieces are taken."""
    return say(
        "Sample {number}, at least {fewest}. The plan is about {samples} of {pieces} pieces, "
        "{minutes} minutes in all. Set the scale to zero with the empty dish on it; take the "
        "pieces from all depths, as they come, broken ones too.",
        number=todo.number,
        fewest=MIN_PLANNED,
        samples=todo.plan.n_samples,
        pieces=todo.plan.pieces_per_sample,
        minutes=todo.plan.minutes,
    )


@_todo.register
def read_edge(todo: ReadEdge) -> str:
    """True while an edge has too few readings."""
    return say(_READ[todo.side])


@_reason.register
def how_to_read_edge(todo: ReadEdge) -> str:
    """Which reading this is, and how to read; of a new box, what to look at first."""
    facts = {"number": todo.number, "wanted": EDGE_READINGS}
    if not todo.is_first:
        return say(
            "Reading {number} of {wanted}. Lay the ruler at another place each time, and read it "
            "again.",
            **facts,
        )
    return say(
        "Reading {number} of {wanted}. Lay the ruler at another place each time, and read it "
        "again. Is the end of the ruler worn? Then read from its 10 cm mark.",
        **facts,
    )


@_todo.register
def readings_in_doubt(_: ReadingsInDoubt) -> str:
    """True when all steps are done and the readings bear no key."""
    return say("Look at the readings once more")


@_reason.register
def why_readings_in_doubt(todo: ReadingsInDoubt) -> str:
    """What is wrong with the key."""
    return problem_words(todo.key)


@_todo.register
def measure_more(todo: MeasureMore) -> str:
    """The advice of the readings that brings most, when the key is not fit."""
    return _advice(todo)[0]


@_reason.register
def why_measure_more(todo: MeasureMore) -> str:
    """What else the readings advise."""
    return ". ".join(_advice(todo)[1:])


def _advice(todo: MeasureMore) -> list[str]:
    """What brings most first."""
    return [advice_words(one) for one in todo.advice] or [say("Measure it once more")]
