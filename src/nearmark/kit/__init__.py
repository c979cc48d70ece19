"""The physical things: counts by weighing, tare and net mass, box volume, materials, pouring."""

from nearmark.kit.assigned_value import AssignedValue, percent_text
from nearmark.kit.count_budget import CountOptions
from nearmark.kit.counting import count_by_weighing
from nearmark.kit.sampling_plan import NextSample, PlanRow, next_sample, plan_samples
from nearmark.kit.unit_mass import Sample

# Materials, cups, vessels and kit design: names added by their own modules below this line.

__all__ = [
    "AssignedValue",
    "CountOptions",
    "NextSample",
    "PlanRow",
    "Sample",
    "count_by_weighing",
    "next_sample",
    "percent_text",
    "plan_samples",
]
