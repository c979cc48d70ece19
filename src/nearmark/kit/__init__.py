"""The physical things: counts by weighing, tare and net mass, box volume, materials, pouring."""

from nearmark.kit.assigned_value import AssignedValue, percent_text
from nearmark.kit.batch_tare import BatchTare, batch_tare
from nearmark.kit.box_advice import ruler_outlook
from nearmark.kit.box_budget import BoxOptions, exact_product_variance
from nearmark.kit.box_volume import box_volume
from nearmark.kit.cautions import cautions, fits_small_parts_cylinder
from nearmark.kit.combined_count import combined_count
from nearmark.kit.count_options import CountOptions
from nearmark.kit.counting import count_by_weighing
from nearmark.kit.cup_fill import CupFill, cup_fill
from nearmark.kit.figures import Figure, Source, sources
from nearmark.kit.hand_count import Agreement, agreement, hand_count
from nearmark.kit.materials import (
    CatalogueMaterial,
    material,
    material_from,
    materials,
)
from nearmark.kit.net_mass import net_mass
from nearmark.kit.next_sample import NextSample, next_sample
from nearmark.kit.pour import Pour, grams_to_pour
from nearmark.kit.prediction import Prediction, Walls, predicted_count
from nearmark.kit.purchase import Load, Purchase, Scooping, carried_mass, purchase_list
from nearmark.kit.random_pour import BANDS, random_pour
from nearmark.kit.sampling_plan import PlanRow, plan_samples
from nearmark.kit.trial_pour import TrialPour, trial_pour
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
    "Figure",
    "Load",
    "NextSample",
    "PlanRow",
    "Pour",
    "Prediction",
    "Purchase",
    "Sample",
    "Scooping",
    "Source",
    "TrialPour",
    "Vessel",
    "Walls",
    "agreement",
    "batch_tare",
    "box_volume",
    "carried_mass",
    "cautions",
    "combined_count",
    "count_by_weighing",
    "cup_fill",
    "cup_sizes",
    "exact_product_variance",
    "fits_small_parts_cylinder",
    "grams_to_pour",
    "hand_count",
    "material",
    "material_from",
    "materials",
    "net_mass",
    "next_sample",
    "percent_text",
    "plan_samples",
    "predicted_count",
    "purchase_list",
    "random_pour",
    "ruler_outlook",
    "sources",
    "trial_pour",
    "vessel",
    "vessels",
]
