"""Facts that several examples need."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

from nearmark.contest.doubt import Doubt, DoubtKind
from nearmark.contest.event import (
    AnswerStatus,
    Item,
    KeyDecision,
)
from nearmark.contest.keys import ItemKey
from nearmark.contest.measured import KeyProblem
from nearmark.contest.odd_records import (
    Odd,
)
from nearmark.contest.questions import (
    SaidValue,
)
from nearmark.kit import AssignedValue, hand_count
from nearmark.station import Station

Examples = dict[Callable[..., Any], list[Any]]
"""Function -> facts to say it with: one argument, or a tuple of several."""


JAR = Item("C1", Station.COUNT, "jar of pasta")
FIT = hand_count([412, 412], counters=["Rowan", "Sorrel"])
UNFIT = hand_count([412], counters=["Rowan"])
DECIDED = KeyDecision("C1", Decimal(400), "Ana", "label of the bag")
SAID = SaidValue(AnswerStatus.ANSWERED, Decimal(417))
OTHER = SaidValue(AnswerStatus.ANSWERED, Decimal(471))


def key(
    number: int | None,
    *,
    assigned: AssignedValue | None = None,
    decided: bool = False,
    problems: tuple[KeyProblem, ...] = (),
) -> ItemKey:
    """A key of the jar."""
    value = None if number is None else Decimal(number)
    decision = DECIDED if decided else None
    return ItemKey(JAR, assigned, value, 0.0, 9.0, fit=False, decision=decision, problems=problems)


def doubt(odd: Odd, kind: DoubtKind = DoubtKind.SAMPLE, cup: str = "") -> Doubt:
    """A doubt about the jar, or about a cup."""
    return Doubt("id", kind, "" if cup else "C1", "" if cup else "P07", cup, odd)
