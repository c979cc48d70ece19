"""What is odd about samples, containers, cups and boxes, and the question what it might be."""

from functools import singledispatch
from typing import Final

from nearmark.kit.assigned_value import percent_text
from nearmark.kit.box_faces import Faces
from nearmark.kit.odd_records import (
    BoxSlip,
    DishLeftOn,
    FullNotHeavier,
    MassDiffers,
    OddCup,
    OddReading,
    OddSample,
    OddSide,
    OddSpread,
    OddVolume,
    OtherCount,
    OtherSample,
    SideDiffers,
)
from nearmark.kit.usual import UsualPiece
from nearmark.measurement.rounding import three_digits
from nearmark.measurement.slips import Meant
from nearmark.words.numbers import both, percent
from nearmark.words.slips import slip_question
from nearmark.words.translation import message, say


def reading_is_odd(odd: OddReading) -> str:
    """What is odd, and by how much."""
    return _found(odd)


def ask_about_reading(odd: OddReading) -> str:
    """The question to the person who typed it."""
    return _question(odd)


@singledispatch
def _found(odd: OddReading) -> str:
    raise TypeError(type(odd).__name__)


@singledispatch
def _question(odd: OddReading) -> str:
    raise TypeError(type(odd).__name__)


def ratio_words(ratio: float) -> str:
    """How much heavier or lighter one piece is.

    >>> [ratio_words(ratio) for ratio in (1.33, 10, 0.8, 0.1)]
    ['33 % heavier', '10 times heavier', '20 % lighter', '10 times lighter']
    """
    if ratio >= 2:
        return say("{number} times heavier", number=f"{ratio:.2g}")
    if ratio >= 1:
        return say("{percent} heavier", percent=percent(ratio - 1))
    if ratio > 0.5:
        return say("{percent} lighter", percent=percent(1 - ratio))
    return say("{number} times lighter", number=f"{1 / ratio:.2g}")


@_found.register
def odd_sample(odd: OddSample) -> str:
    """True of a sample of which a piece weighs too much or too little, beside others or usually."""
    facts = {
        "pieces": odd.pieces,
        "mass": f"{odd.mass_g:f}",
        "each": three_digits(odd.each_g),
        "off": ratio_words(odd.ratio),
    }
    if isinstance(odd.beside, OtherSample):
        return say(
            "{pieces} pieces, {mass} g: one piece weighs {each} g, {off} than in another sample "
            "of it ({other} g)",
            other=three_digits(odd.beside.each_g),
            **facts,
        )
    if odd.beside.items:
        return say(
            "{pieces} pieces, {mass} g: one piece weighs {each} g, {off} than usual ({usual} g, "
            "{items})",
            usual=three_digits(odd.beside.mass_g),
            items=both(odd.beside.items),
            **facts,
        )
    return say(
        "{pieces} pieces, {mass} g: one piece weighs {each} g, {off} than usual ({usual} g, "
        "catalogue)",
        usual=three_digits(odd.beside.mass_g),
        **facts,
    )


@_question.register
def ask_odd_sample(odd: OddSample) -> str:
    """The slip that explains the sample best; without one, what to look at."""
    if odd.slip is not None:
        return sample_slip(odd.slip)
    if isinstance(odd.beside, UsualPiece):
        if odd.ratio > 1:
            return say("Was the dish tared away? Is it this material?")
        return say("Are all pieces on the scale? Is it this material?")
    if odd.beside.is_unusual:
        return say("This one is near the usual: were the others counted and weighed right?")
    return say("Count it again, and weigh it again?")


def sample_slip(slip: OtherCount | Meant | DishLeftOn) -> str:
    """The slip of counting, of the pen or of the scale that would explain a sample."""
    if isinstance(slip, Meant):
        return slip_question(slip, "g")
    if isinstance(slip, OtherCount):
        return say("Did you count {pieces} pieces?", pieces=slip.pieces)
    if slip.cup:
        return say(
            "Was cup {cup} ({mass} g) left on the scale?", cup=slip.cup, mass=f"{slip.mass_g:f}"
        )
    return say("Was the empty container ({mass} g) left on the scale?", mass=f"{slip.mass_g:f}")


@_found.register
def odd_spread(odd: OddSpread) -> str:
    """True of a typed spread of pieces that the samples or the catalogue contradict."""
    facts = {"seen": percent_text(odd.seen), "typed": _three_figures(odd.typed)}
    if odd.is_of_catalogue:
        return say("the catalogue says that pieces differ by {seen}, {typed} was typed", **facts)
    return say("the samples scatter as if pieces differed by {seen}, {typed} was typed", **facts)


@_question.register
def ask_odd_spread(odd: OddSpread) -> str:
    """Whether percent were typed as a fraction, where that explains it."""
    if odd.meant is not None:
        return say("Did you mean {percent}?", percent=_three_figures(odd.meant))
    return say("Is the typed spread right?")


def _three_figures(share: float) -> str:
    return say("{number} %", number=f"{100 * share:.3g}")


@_found.register
def full_not_heavier(odd: FullNotHeavier) -> str:
    """Said of a container that is not heavier when it is full."""
    return say(
        "full, {full} g, is not heavier than empty, {empty} g",
        full=f"{odd.full_g:f}",
        empty=f"{odd.empty_g:f}",
    )


@_question.register
def ask_full_not_heavier(_: FullNotHeavier) -> str:
    """Asked about a container that is not heavier when it is full."""
    return say("Are full and empty exchanged, or is it another container?")


@_found.register
def mass_differs(odd: MassDiffers) -> str:
    """True of a container that weighed another mass before, further off than a scale repeats."""
    facts = {"mass": f"{odd.mass_g:f}", "before": f"{odd.before_g:f}"}
    if odd.is_full:
        return say("full, {mass} g, was {before} g before", **facts)
    return say("empty, {mass} g, was {before} g before", **facts)


@_question.register
def ask_mass_differs(odd: MassDiffers) -> str:
    """The slip that makes one mass of the other, else whether it is the same container."""
    if odd.meant is not None:
        return slip_question(odd.meant, "g")
    return say("Is it the same container? Weigh it again?")


@_found.register
def odd_cup(odd: OddCup) -> str:
    """True of an empty cup far from the others of its batch, or from what cups weigh."""
    if odd.other_g is not None:
        return say(
            "{tare} g, another cup of its batch weighs {other} g",
            tare=f"{odd.tare_g:f}",
            other=f"{odd.other_g:f}",
        )
    return say(
        "{tare} g, an empty cup weighs {lowest} to {highest} g",
        tare=f"{odd.tare_g:f}",
        lowest=f"{odd.lowest_g:g}",
        highest=f"{odd.highest_g:g}",
    )


@_question.register
def ask_odd_cup(odd: OddCup) -> str:
    """The slip after which the mass is usual, else whether the cup is empty."""
    if odd.meant is not None:
        return slip_question(odd.meant, "g")
    return say("Is it empty, and of this batch?")


_SIDES: Final = {
    "length": message("length"),
    "width": message("width"),
    "height": message("height"),
}


@_found.register
def odd_side(odd: OddSide) -> str:
    """True of a side that no box of the contest has."""
    return say(
        "{side} {reading} cm, sides of a box here are {lowest} to {highest} cm",
        side=say(_SIDES[odd.edge]),
        reading=f"{odd.reading_cm:f}",
        lowest=f"{odd.lowest_cm:g}",
        highest=f"{odd.highest_cm:g}",
    )


@_question.register
def ask_odd_side(odd: OddSide) -> str:
    """The slip after which the side is usual, else whether it is in cm."""
    return slip_question(odd.meant, "cm") if odd.meant else say("Is it in cm?")


@_found.register
def side_differs(odd: SideDiffers) -> str:
    """True of a side that was read differently before, further off than a ruler repeats."""
    return say(
        "{side} {reading} cm, it was {before} cm before",
        side=say(_SIDES[odd.edge]),
        reading=f"{odd.reading_cm:f}",
        before=f"{odd.before_cm:f}",
    )


_IS_IT: Final = {
    "length": message("Is it the length?"),
    "width": message("Is it the width?"),
    "height": message("Is it the height?"),
    Faces.OUTSIDE: message("Was this one read outside, with the walls?"),
    Faces.INSIDE: message("Was this one read inside, without the walls?"),
}


@_question.register
def ask_side_differs(odd: SideDiffers) -> str:
    """The slip, the faces or the other edge that would explain it."""
    if odd.slip is None:
        return say("Read it again?")
    return slip_question(odd.slip, "cm") if isinstance(odd.slip, Meant) else say(_IS_IT[odd.slip])


@_found.register
def odd_volume(odd: OddVolume) -> str:
    """True of three sides whose product no box of the contest has."""
    return say(
        "length times width times height is {volume} cm3, boxes here hold {lowest} to {highest} "
        "cm3",
        volume=three_digits(odd.volume_cm3),
        lowest=f"{odd.lowest_cm3:g}",
        highest=f"{odd.highest_cm3:g}",
    )


_BOX_SLIPS: Final = {
    None: message("Is a decimal point missing, or a side wrong?"),
    BoxSlip.INCHES: message("Was the ruler read in inches? That would be {meant} cm3."),
    BoxSlip.MILLIMETRES: message("Was it read in millimetres? That would be {meant} cm3."),
}


@_question.register
def ask_odd_volume(odd: OddVolume) -> str:
    """The unit after which the volume is usual, else what else may be wrong."""
    meant = three_digits(odd.meant_cm3) if odd.slip else ""
    return say(_BOX_SLIPS[odd.slip], meant=meant)
