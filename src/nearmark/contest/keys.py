"""The key of every item of an event, from what was weighed, counted and measured."""

import math
from dataclasses import dataclass
from decimal import Decimal

from nearmark.contest.event import Event, Item, KeyDecision
from nearmark.contest.measured import KeyNotAboveZero, KeyProblem, TargetIsFixed, measured
from nearmark.kit import AssignedValue
from nearmark.kit.key_advice import RulerOutlook
from nearmark.measurement.budget import Component
from nearmark.station import UNITS, Station


@dataclass(frozen=True, slots=True)
class ItemKey:
    """What the answers on one item are scored against."""

    item: Item
    # What the readings give; ``None`` for a target mass, or when they give nothing.
    assigned: AssignedValue | None
    key: Decimal | None  # ``None``: the item cannot be scored (unit of the item, or None)
    # Standard uncertainty of the key; 0 for a target, which is exact, and for a decided value that
    # the readings do not give: nobody knows how sure that is (unit of the item).
    u: float
    dof: float  # dimensionless
    fit: bool  # whether the readings bear the key within the rule set's limit
    decision: KeyDecision | None = None  # the lead's decision, if there is one
    problems: tuple[KeyProblem, ...] = ()  # what is wrong or missing
    # What the instrument at hand cannot reach, known from the first reading on.
    outlook: RulerOutlook | None = None

    @property
    def is_only_decided(self) -> bool:
        """Whether the key is the lead's decision and no reading bears it, nor says how sure.

        Readings that give another number do not bear it: their uncertainty belongs to that number.
        """
        decided = self.decision is not None and self.decision.value is not None
        return decided and self.key is not None and self.borne_by is None

    @property
    def borne_by(self) -> AssignedValue | None:
        """What the readings give, if that is the key; else its uncertainty is another number's."""
        is_borne = self.assigned is not None and self.assigned.key == self.key
        return self.assigned if is_borne else None

    @property
    def causes(self) -> tuple[Component, ...]:
        """What the key shares with other keys and with net masses; see ``Budget.causes``."""
        return () if self.borne_by is None else self.borne_by.budget.causes

    @property
    def unit(self) -> str:
        """``g``, ``pieces`` or ``cm3``."""
        return UNITS[self.item.station]


def event_keys(event: Event) -> dict[str, ItemKey]:
    """The key of every item, in the order of the items.

    Readings that cannot bear a key give an ``ItemKey`` with problems, never an error.

    >>> from datetime import date
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8),
    ...             items=(Item("M1", Station.MASS, "scoop of lentils"),))
    >>> event_keys(day)["M1"].key
    Decimal('100')
    """
    decisions = {decision.item: decision for decision in event.key_decisions}
    return {item.code: _item_key(event, item, decisions.get(item.code)) for item in event.items}


def _item_key(event: Event, item: Item, decision: KeyDecision | None) -> ItemKey:
    if item.station is Station.MASS:
        return _target_mass(event, item, decision)
    found = measured(event, item)
    assigned, problems = found.assigned, found.problems
    key = assigned.key if assigned else None
    if decision is not None and decision.value is not None:
        key = decision.value
    if key is not None and not (key.is_finite() and key > 0):
        problems, key = (KeyNotAboveZero(key),), None
    u, dof, fit = 0.0, math.inf, False
    if assigned is not None and key == assigned.key:
        u, dof, fit = assigned.u, assigned.budget.dof, assigned.fit and not problems
    return ItemKey(item, assigned, key, u, dof, fit, decision, problems, found.outlook)


def _target_mass(event: Event, item: Item, decision: KeyDecision | None) -> ItemKey:
    """The target is the rule set's, exact; the scale's uncertainty is in each net mass."""
    target = event.rules.target_mass_g
    key = Decimal(target.numerator) / Decimal(target.denominator)
    problems: tuple[KeyProblem, ...] = ()
    if decision is not None and decision.value is not None:
        problems = (TargetIsFixed(decision.by, decision.value),)
    return ItemKey(item, None, key, 0.0, math.inf, fit=True, problems=problems)
