"""Readings, uncertainty budgets, drawing and coverage; knows nothing of contests."""

from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.coverage import coverage_factor, welch_satterthwaite
from nearmark.measurement.instruments import Instrument, Reading, checked_reading
from nearmark.measurement.monte_carlo import Drawn, propagate_distributions
from nearmark.measurement.robust import RobustMean, robust_mean
from nearmark.measurement.rounding import result_text, round_to
from nearmark.measurement.type_a import TypeA, type_a
from nearmark.measurement.type_b import from_expanded, resolution

__all__ = [
    "Budget",
    "Component",
    "Drawn",
    "Instrument",
    "Reading",
    "RobustMean",
    "TypeA",
    "checked_reading",
    "coverage_factor",
    "from_expanded",
    "propagate_distributions",
    "resolution",
    "result_text",
    "robust_mean",
    "round_to",
    "type_a",
    "welch_satterthwaite",
]
