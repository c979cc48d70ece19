"""How to coach, on two pages: the method of each station, a meeting, and what spoils practice."""

from enum import StrEnum
from typing import Final

from nearmark.coaching.act_fits import plain_factor
from nearmark.coaching.layer_trims import usual_trim
from nearmark.words.coaching_steps import trim_words
from nearmark.words.translation import message, say


class HandoutPart(StrEnum):
    """What one part of the handout is about."""

    COUNT = "count"
    VOLUME = "volume"
    MASS = "mass"
    SUM = "sum"
    PAIR = "pair"
    MEETING = "meeting"
    TRUTH = "truth"
    PRAISE = "praise"


_TITLES: Final = {
    HandoutPart.COUNT: message("A jar: one layer, times the layers"),
    HandoutPart.VOLUME: message("A box: the hand is the ruler"),
    HandoutPart.MASS: message("The scoop, and the heavy cup"),
    HandoutPart.SUM: message("The sum"),
    HandoutPart.PAIR: message("Two decide"),
    HandoutPart.MEETING: message("A meeting of twenty minutes"),
    HandoutPart.TRUTH: message("Keep true values fresh"),
    HandoutPart.PRAISE: message("Praise what is better than before"),
}
_LINES: Final = {
    HandoutPart.COUNT: (
        message("Look straight down. Count the pieces of the top layer row by row."),
        message("Look at the side. Count the layers at two places and take the middle."),
        message("Multiply both. Then think of the layer beneath: its pieces show through gaps."),
        message("An example: 37 seen, one in five left out, is 30. 10 layers: 300 pieces."),
    ),
    HandoutPart.VOLUME: (
        message("Measure palm, span and thumb of each child once with a ruler. Write them down."),
        message("Lay the hand along each side. Say each side in palms and thumbs, then in cm."),
        message("Take the thinnest side twice: one thumb too much matters most there."),
        message(
            "An example: 12 cm, 8 cm and 5 cm give 480 cm³. A thinnest side of 6 cm gives 576."
        ),
        message("Measure the hands again every two months: children grow."),
    ),
    HandoutPart.MASS: (
        message("Hold 100 g in the hand for ten seconds. Put it down. Scoop as much. Weigh it."),
        message("Hold the empty cup first. With a glass the hand takes the glass for content."),
        message("Practise in turn with a light cup and a heavy one, and weigh after every scoop."),
        message("Beside the scale write down three numbers: cup, wanted, scooped."),
        message("An example: with a cup of 182 g the scale shows 282 g when 100 g are in it."),
    ),
    HandoutPart.SUM: (
        message("A calculator with four functions is enough. Do each sum twice."),
        message("Say the size of the answer before you press equals: tens, hundreds, thousands?"),
        message("Write the product with three figures. Do not round it to one."),
    ),
    HandoutPart.PAIR: (
        message("Each writes a number first, without a word. Talk only then."),
        message("Look for a slip when one number is more than double the other."),
        message("Without a slip, let the better one of this station decide, or take the middle."),
    ),
    HandoutPart.MEETING: (
        message("2 minutes: warm up. Pass 100 g round, eyes closed."),
        message("4 times 4 minutes: each child at another thing, nobody waits for a thing."),
        message("2 minutes: open the jars, say the true values, write down one thing to try."),
        message("Give each child one sentence at each thing, and not three."),
    ),
    HandoutPart.TRUTH: (
        message("A true value that was said is no practice any more: pour another jar."),
        message("Keep true values off the table and off the screen until all have written."),
        message("Count a jar twice, by two people, or weigh it. A wrong key teaches a wrong eye."),
    ),
    HandoutPart.PRAISE: (
        message("Ask each child to beat their own last answer, not the neighbour."),
        message("One attempt says little. Look at four or more before you name a habit."),
        message("Say what to do next time, such as to hold the cup first, and not how bad it was."),
    ),
}
_VESSELS: Final = {
    "cup": message("In a vessel that widens to the top: {what}."),
    "box": message("In a box with a flat front: {what}."),
}
"""Form of a vessel -> where to leave out a share of a layer; in a straight jar there is little."""


def part_title(part: HandoutPart) -> str:
    """What a part of the handout is called."""
    return say(_TITLES[part])


def part_lines(part: HandoutPart) -> tuple[str, ...]:
    """What a part of the handout says, sentence by sentence."""
    lines = tuple(line_words(part, number) for number in range(len(_LINES[part])))
    return (*lines, *_trim_lines()) if part is HandoutPart.COUNT else lines


def line_words(part: HandoutPart, number: int) -> str:
    """One line of a part of the handout, from 0."""
    return say(_LINES[part][number])


def vessel_words(form: str) -> str:
    """What to leave out of a layer of beans in a kind of vessel; empty: nothing.

    >>> vessel_words("cup")
    'In a vessel that widens to the top: leave out one in five of what is seen in a layer.'
    """
    factor = plain_factor(usual_trim("bean", form))
    if factor == 1:
        return ""
    what = trim_words(factor)
    return say(_VESSELS[form], what=what[:1].lower() + what[1:])


def _trim_lines() -> tuple[str, ...]:
    return tuple(filter(None, map(vessel_words, _VESSELS)))
