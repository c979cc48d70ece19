"""The physical things: counts by weighing, tare and net mass, box volume, materials, pouring."""

from nearmark.kit.assigned_value import AssignedValue, percent_text
from nearmark.kit.batch_tare import BatchTare, batch_tare
from nearmark.kit.box_advice import ruler_outlook
from nearmark.kit.box_budget import BoxOptions, exact_product_variance
from nearmark.kit.box_volume import box_volume
from nearmark.kit.cautions import cautions
from nearmark.kit.combined_count import combined_count
from nearmark.kit.count_options import CountOptions
from nearmark.kit.counting import count_by_weighing
from nearmark.kit.cup_fill import cup_fill
from nearmark.kit.hand_count import agreement, hand_count
from nearmark.kit.materials import CatalogueMaterial, material, materials
from nearmark.kit.net_mass import net_mass
from nearmark.kit.next_sample import next_sample
from nearmark.kit.pour import Pour, grams_to_pour
from nearmark.kit.prediction import Prediction, Walls, predicted_count
from nearmark.kit.purchase import Load, Purchase, Scooping, carried_mass, purchase_list
from nearmark.kit.random_pour import BANDS, random_pour
from nearmark.kit.sampling_plan import PlanRow, plan_samples
from nearmark.kit.trial_pour import TrialPour, trial_pour
from nearmark.kit.unit_mass import Sample
from nearmark.kit.vessels import Vessel, cup_sizes, vessel, vessels

__all__ = [
    "BANDS",
    "AssignedValue",
    "BatchTare",
    "BoxOptions",
    "CatalogueMaterial",
    "CountOptions",
    "Load",
    "PlanRow",
    "Pour",
    "Prediction",
    "Purchase",
    "Sample",
    "Scooping",
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
    "grams_to_pour",
    "hand_count",
    "material",
    "materials",
    "net_mass",
    "next_sample",
    "percent_text",
    "plan_samples",
    "predicted_count",
    "purchase_list",
    "random_pour",
    "ruler_outlook",
    "trial_pour",
    "vessel",
    "vessels",
]
