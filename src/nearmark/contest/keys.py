"""The key of every item of an event, from what was weighed, counted and measured."""

import math
from dataclasses import dataclass
from decimal import Decimal

from nearmark.contest.event import Event, Item, KeyDecision
from nearmark.contest.measured import measured
from nearmark.contest.rules import Station
from nearmark.kit import AssignedValue
from nearmark.measurement.budget import Component

UNITS = {Station.MASS: "g", Station.COUNT: "pieces", Station.VOLUME: "cm3"}


@dataclass(frozen=True, slots=True)
class ItemKey:
    """What the answers on one item are scored against.

    Attributes
    ----------
    item : Item
    assigned : AssignedValue or None
        What the readings give; ``None`` for a target mass, or when they give nothing.
    key : unit of the item, or None
        ``None``: the item cannot be scored.
    u : unit of the item
        Standard uncertainty of the key; 0 for a target, which is exact, and for a decided value
        that the readings do not give: nobody knows how sure that is.
    dof : dimensionless
    fit : bool
        Whether the readings bear the key within the rule set's limit.
    decision : KeyDecision or None
        The lead's decision, if there is one.
    problem : str
        What is wrong or missing; empty when nothing is.
    outlook : str
        What the instrument at hand cannot reach, told from the first reading on; also part of the
        problem.
    """

    item: Item
    assigned: AssignedValue | None
    key: Decimal | None
    u: float
    dof: float
    fit: bool
    decision: KeyDecision | None = None
    problem: str = ""
    outlook: str = ""

    @property
    def rests_on_a_word(self) -> bool:
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
    def whose_word(self) -> str:
        """Whose word the key is, and what the readings say instead; empty when they bear it."""
        if self.decision is None or not self.rests_on_a_word:
            return ""
        readings = "no reading bears it"
        if self.assigned is not None:
            readings = f"the readings give {self.assigned.key:f}"
        return f"{self.decision.by}'s word: {readings}"

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

    Parameters
    ----------
    event : Event

    Returns
    -------
    dict item code -> ItemKey
        Readings that cannot bear a key give an ``ItemKey`` with a problem, never an error.

    Examples
    --------
    >>> from datetime import date
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8),
    ...             items=(Item("M1", Station.MASS, "scoop of lentils"),))
    >>> event_keys(day)["M1"].key
    Decimal('100')
    """
    decisions = {decision.item: decision for decision in event.key_decisions}
    return {item.code: _item_key(event, item, decisions.get(item.code)) for item in event.items}


def key_as_json(key: ItemKey) -> dict[str, object]:
    """The stable keys of one item in JSON.

    Parameters
    ----------
    key : ItemKey

    Returns
    -------
    dict
        ``item``, ``station``, ``name``, ``unit``, ``key``, ``standard_uncertainty`` (``None`` when
        the key is somebody's word), ``fit``, ``decision``, ``problem``, ``assigned_value``.

    Examples
    --------
    >>> scoop = Item("M1", Station.MASS, "scoop")
    >>> told = key_as_json(ItemKey(scoop, None, Decimal(100), 0, 9, fit=True))
    >>> told["unit"], told["key"]
    ('g', 100)
    """
    decision = key.decision
    return {
        "item": key.item.code,
        "station": key.item.station.value,
        "name": key.item.name,
        "unit": key.unit,
        "key": None if key.key is None else _number(key.key),
        "standard_uncertainty": None if key.rests_on_a_word else key.u,
        "fit": key.fit,
        "decision": None
        if decision is None
        else {
            "value": None if decision.value is None else _number(decision.value),
            "by": decision.by,
            "reason": decision.reason,
        },
        "problem": key.problem,
        "assigned_value": None if key.assigned is None else key.assigned.as_json(),
    }


def _number(value: Decimal) -> int | float:
    return int(value) if value == value.to_integral_value() else float(value)


def _item_key(event: Event, item: Item, decision: KeyDecision | None) -> ItemKey:
    if item.station is Station.MASS:
        return _target_mass(event, item, decision)
    found = measured(event, item)
    assigned, problem = found.assigned, found.problem
    key = assigned.key if assigned else None
    if decision is not None and decision.value is not None:
        key = decision.value
    if key is not None and not (key.is_finite() and key > 0):
        key, problem = None, f"a key of {key} cannot be scored against: it must be above zero"
    u, dof, fit = 0.0, math.inf, False
    if assigned is not None and key == assigned.key:
        u, dof, fit = assigned.u, assigned.budget.dof, assigned.fit and not problem
    return ItemKey(item, assigned, key, u, dof, fit, decision, problem, found.outlook)


def _target_mass(event: Event, item: Item, decision: KeyDecision | None) -> ItemKey:
    """The target is the rule set's, exact; the scale's uncertainty is in each net mass."""
    target = event.rules.target_mass_g
    key = Decimal(target.numerator) / Decimal(target.denominator)
    problem = ""
    if decision is not None and decision.value is not None:
        problem = (
            f"{decision.by} decided a key of {decision.value}, but the target mass is set by the "
            "rule set: change it there"
        )
    return ItemKey(item, None, key, 0.0, math.inf, fit=True, problem=problem)
