"""The physical things: counts by weighing, tare and net mass, box volume, materials, pouring."""

from nearmark.kit.assigned_value import AssignedValue, percent_text
from nearmark.kit.batch_tare import BatchTare, batch_tare
from nearmark.kit.box_budget import BoxOptions, exact_product_variance
from nearmark.kit.box_volume import box_volume
from nearmark.kit.cautions import cautions, fits_small_parts_cylinder
from nearmark.kit.count_options import CountOptions
from nearmark.kit.counting import count_by_weighing
from nearmark.kit.cup_fill import CupFill, cup_fill
from nearmark.kit.hand_count import Agreement, agreement, hand_count
from nearmark.kit.materials import (
    CatalogueMaterial,
    material,
    materials,
    sources,
)
from nearmark.kit.net_mass import net_mass
from nearmark.kit.next_sample import NextSample, next_sample
from nearmark.kit.pour import BANDS, Pour, grams_to_pour, predicted_count, random_pour
from nearmark.kit.purchase import Load, Purchase, carried_mass, scoop_supply
from nearmark.kit.sampling_plan import PlanRow, plan_samples
from nearmark.kit.unit_mass import Sample
from nearmark.kit.vessels import CupSize, Vessel, cup_sizes, vessel, vessels

__all__ = [
    "BANDS",
    "Agreement",
    "AssignedValue",
    "BatchTare",
    "BoxOptions",
    "CatalogueMaterial",
    "CountOptions",
    "CupFill",
    "CupSize",
    "Load",
    "NextSample",
    "PlanRow",
    "Pour",
    "Purchase",
    "Sample",
    "Vessel",
    "agreement",
    "batch_tare",
    "box_volume",
    "carried_mass",
    "cautions",
    "count_by_weighing",
    "cup_fill",
    "cup_sizes",
    "exact_product_variance",
    "fits_small_parts_cylinder",
    "grams_to_pour",
    "hand_count",
    "material",
    "materials",
    "net_mass",
    "next_sample",
    "percent_text",
    "plan_samples",
    "predicted_count",
    "random_pour",
    "scoop_supply",
    "sources",
    "vessel",
    "vessels",
]
