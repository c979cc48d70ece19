"""Answers, keys and rules of the placed pairs as arrays, for work over many drawn keys."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from nearmark.contest.rules import RuleSet
from nearmark.measurement.budget import Component
from nearmark.station import Station

Floats = NDArray[np.float64]


def _no_moves() -> Floats:
    return np.zeros((0, 0, 0))


@dataclass(frozen=True, slots=True)
class Slope:
    """The score as ``clip(top - steepness * |estimate / key - 1|, 0, cap)``, in points."""

    steepness: float
    top: float
    cap: float

    @classmethod
    def of(cls, rules: RuleSet) -> "Slope":
        """Slope of a rule set.

        >>> Slope.of(RuleSet())
        Slope(steepness=100.0, top=100.0, cap=100.0)
        """
        steepness = rules.full_score / (rules.zero_at - rules.free_within)
        top = steepness * rules.zero_at
        return cls(float(steepness), float(top), float(rules.best_score))


@dataclass(frozen=True, slots=True)
class AnswerTable:
    """Answers, keys and rules as arrays."""

    # ``nan`` where the answer is blank or illegible (unit of the item, shape (n_pairs, n_items)).
    estimates: Floats
    # Standard uncertainty of the pair's own value (a weighed net mass), without what it shares; 0
    # for a written answer (unit of the item, shape (n_pairs, n_items)).
    own_u: Floats
    keys: Floats  # unit of the item, shape (n_items,), > 0
    # Standard uncertainty of the key, without what it shares; 0 for a target (unit of the item,
    # shape (n_items,), >= 0).
    key_u: Floats
    key_dof: Floats  # dimensionless, shape (n_items,)
    weights: Floats  # dimensionless, shape (n_items,)
    stations: tuple[Station, ...]  # Station, shape (n_items,)
    rules: RuleSet
    # Errors that keys and net masses share, each one standardised variable (shape (n_causes,)).
    causes: tuple[Component, ...] = ()
    # What one standard uncertainty of a cause moves a key by, signed; not in ``key_u`` (unit of the
    # item, shape (n_items, n_causes)).
    key_moves: Floats = field(default_factory=_no_moves)
    # The same of a pair's own value; not in ``own_u`` (unit of the item, shape (n_pairs, n_items,
    # n_causes)).
    own_moves: Floats = field(default_factory=_no_moves)
    # Whether a pair estimates an item; ``None``: every pair every item (shape (n_pairs, n_items)).
    asked: NDArray[np.bool_] | None = None

    @property
    def is_asked(self) -> NDArray[np.bool_]:
        """Whether a pair estimates an item, of shape (n_pairs, n_items)."""
        return np.ones(self.estimates.shape, bool) if self.asked is None else self.asked

    @property
    def n_pairs(self) -> int:
        """Number of pairs."""
        return int(self.estimates.shape[0])

    @property
    def n_items(self) -> int:
        """Number of items."""
        return int(self.estimates.shape[1])

    def item_scores(self, item: int, estimates: Floats) -> Floats:
        """Weighted scores (points) of estimates of one item under its key as it is.

        Parameters
        ----------
        item : int; number of the item
        estimates : unit of the item, any shape; ``nan`` for a blank
        """
        slope = Slope.of(self.rules)
        error = np.abs(estimates / self.keys[item] - 1)
        score = np.clip(slope.top - slope.steepness * error, 0.0, slope.cap)
        blank = float(self.rules.blank_score)
        weighted: Floats = self.weights[item] * np.where(np.isnan(estimates), blank, score)
        return weighted
