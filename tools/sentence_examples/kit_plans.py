"""What to know before something is poured, scooped or carried."""

from typing import cast

from nearmark.kit.batch_tare import BatchTare
from nearmark.kit.cup_fill import CupFill, CupWarning
from nearmark.kit.materials import material
from nearmark.kit.pour import (
    CatalogueMass,
    FillTrouble,
    FillWarning,
    MaterialNote,
    NarrowVessel,
    grams_to_pour,
)
from nearmark.kit.prediction import Walls, predicted_count
from nearmark.kit.purchase import Carrier, Load
from nearmark.kit.trial_pour import TrialPour
from nearmark.packing import Jar
from nearmark.packing.census import Grade
from nearmark.words import kit_plans
from sentence_examples.facts import Examples


def batch(*outlying: int, good: bool = False) -> BatchTare:
    """A batch of cups."""
    return BatchTare(
        mean_g=12.4,
        sd_g=0.1,
        n_cups=6,
        u_g=0.1,
        expanded_u_g=0.3,
        outlying=outlying,
        points=0.3,
        is_good_enough=good,
        median_g=12.4,
        first_outlying_g=15.1 if outlying else None,
        target_g=100.0,
    )


def trial(product: float, grade: Grade, *heights_cm: float) -> TrialPour:
    """Pours of 300 pieces."""
    return TrialPour(
        jars=tuple(cast("Jar", None) for _ in heights_cm),
        pieces=300,
        heights_cm=heights_cm,
        surface_pieces=38.0,
        layers=8.0,
        product=product,
        grade=grade,
        walls=Walls(0.95, 0.02),
    )


def kit_plans_said() -> Examples:
    """Plans of the kit."""
    fill = CupFill(42, 1.3, 0.65, "steel nuts", 12.0, tuple(CupWarning))
    return {
        kit_plans.batch_words: [batch(good=True), batch()],
        kit_plans.cups_do_not_belong: [batch(5), batch(5, 6)],
        kit_plans.cup_warning: [(fill, warning) for warning in CupWarning],
        kit_plans.catalogue_mass: [CatalogueMass(0.15)],
        kit_plans.material_note: [MaterialNote("a quarter weighs 5.67 g")],
        kit_plans.fill_warning: [FillWarning(t, "the jar", 0.97, 0.05) for t in FillTrouble],
        kit_plans.count_within: [grams_to_pour(300, material("chickpea"), scale_step_g=0.1)],
        kit_plans.brim_words: [predicted_count(material("chickpea"), 950.0)],
        kit_plans.place_load: [Load(9.42, Carrier.ADULT)],
        kit_plans.narrow_vessel: [NarrowVessel("the tube")],
        kit_plans.load_words: [
            Load(mass, who) for mass, who in zip((30.0, 9.4, 2.1), Carrier, strict=True)
        ],
        kit_plans.trial_height: [trial(300, "easy", 8.4), trial(300, "easy", 8.2, 8.6)],
        kit_plans.trial_method: [
            trial(300, "easy", 8.4),
            trial(240, "hard", 8.4),
            trial(340, "medium", 8.4, 8.5),
        ],
    }
