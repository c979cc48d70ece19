"""The physical things: counts by weighing, tare and net mass, box volume, materials, pouring."""

from nearmark.kit.assigned_value import AssignedValue, percent_text
from nearmark.kit.batch_tare import BatchTare, batch_tare
from nearmark.kit.box_budget import BoxOptions, exact_product_variance
from nearmark.kit.box_volume import box_volume
from nearmark.kit.count_options import CountOptions
from nearmark.kit.counting import count_by_weighing
from nearmark.kit.hand_count import Agreement, agreement, hand_count
from nearmark.kit.net_mass import net_mass
from nearmark.kit.next_sample import NextSample, next_sample
from nearmark.kit.sampling_plan import PlanRow, plan_samples
from nearmark.kit.unit_mass import Sample

# Materials, cups, vessels and kit design: names added by their own modules below this line.

__all__ = [
    "Agreement",
    "AssignedValue",
    "BatchTare",
    "BoxOptions",
    "CountOptions",
    "NextSample",
    "PlanRow",
    "Sample",
    "agreement",
    "batch_tare",
    "box_volume",
    "count_by_weighing",
    "exact_product_variance",
    "hand_count",
    "net_mass",
    "next_sample",
    "percent_text",
    "plan_samples",
]
