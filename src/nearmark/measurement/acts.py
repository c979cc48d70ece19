"""What a person can do about an influence on a result: facts only."""

from dataclasses import dataclass
from enum import StrEnum


class ActKind(StrEnum):
    """What is done."""

    CHECK_SCALE = "check the scale"
    CHECK_RULER = "check the ruler"
    READ_FROM_MARK = "read from a mark"
    READ_TO = "read to a finer step"
    READ_TO_HALF_MARKS = "read to half marks"
    READ_WITH_CALIPERS = "read with calipers"
    REPLACE_BY_CALIPERS = "replace the ruler by calipers"
    READ_MORE = "read more often"
    MEASURE_WALL = "measure the wall"
    WEIGH_EACH_CUP = "weigh each cup"
    WEIGH_MORE_CUPS = "weigh more cups"
    WEIGH_CUPS_FINER = "weigh the cups on a finer scale"
    MIX = "mix the lot"


@dataclass(frozen=True, slots=True)
class Act:
    """One thing to do."""

    kind: ActKind
    name: str = ""  # of the scale, the ruler, the batch of cups or the lot; may be empty
    n: int = 0  # of ``READ_MORE``: how many more of each side (readings)
    step_cm: float = 0.0  # of the kinds that read to a step
