"""What to know before something is poured, scooped or carried."""

from functools import singledispatch
from typing import Final

from nearmark.kit.assigned_value import percent_text
from nearmark.kit.batch_tare import BatchTare
from nearmark.kit.cup_fill import CupFill, CupWarning
from nearmark.kit.pour import (
    CatalogueMass,
    FillTrouble,
    FillWarning,
    MaterialNote,
    NarrowVessel,
    Pour,
    PourWarning,
)
from nearmark.kit.prediction import Prediction
from nearmark.kit.purchase import LIFTING_LIMIT_KG, Carrier, Load
from nearmark.kit.trial_pour import TrialPour
from nearmark.words.numbers import percent
from nearmark.words.translation import message, say, say_count


def batch_words(batch: BatchTare) -> str:
    """Which cups do not belong to a batch; else what one tare for all of them does to a score."""
    if batch.first_outlying_g is not None:
        return cups_do_not_belong(batch)
    points = f"{100 * batch.expanded_u_g / batch.target_g:.1f}"
    target = f"{batch.target_g:g}"
    if batch.is_good_enough:
        return say(
            "one tare for the batch can move the score of a {target} g cup by {points} points: "
            "good enough",
            target=target,
            points=points,
        )
    return say(
        "one tare for the batch can move the score of a {target} g cup by {points} points: weigh "
        "each cup",
        target=target,
        points=points,
    )


def cups_do_not_belong(batch: BatchTare) -> str:
    """True of a batch with a cup far from the median of all."""
    facts = {
        "cup": batch.outlying[0],
        "tare": f"{batch.first_outlying_g:g}",
        "median": f"{batch.median_g:g}",
    }
    more = len(batch.outlying) - 1
    if not more:
        return say(
            "Cup {cup} ({tare} g) does not belong to the batch (median {median} g): weigh it again "
            "empty",
            **facts,
        )
    return say(
        "Cup {cup} ({tare} g) and {n} more do not belong to the batch (median {median} g): weigh "
        "them again empty",
        n=more,
        **facts,
    )


_CUP_WARNINGS: Final = {
    CupWarning.DOES_NOT_FIT: message(
        "does not fit: the wanted mass of {material} fills a cup of {size} fl oz {times} times"
    ),
    CupWarning.SPILLS: message(
        "{material} fill a cup of {size} fl oz to {fill}: it spills, and the brim gives it away"
    ),
    CupWarning.HARDLY_COVERS: message(
        "{material} fill a cup of {size} fl oz to {fill} only: the eye has little to go by"
    ),
    CupWarning.HIDES_NET: message(
        "a cup of {size} fl oz is {share} of the gross mass: it hides the net mass"
    ),
}


def cup_warnings(fill: CupFill) -> tuple[str, ...]:
    """What follows from the wanted mass in one cup for the children who scoop it."""
    return tuple(cup_warning(fill, warning) for warning in fill.warnings)


def cup_warning(fill: CupFill, warning: CupWarning) -> str:
    """True of a cup that is too full, too empty, or heavy beside what is in it."""
    return say(
        _CUP_WARNINGS[warning],
        material=fill.material,
        size=f"{fill.us_fl_oz:g}",
        times=f"{fill.fill:.1f}",
        fill=percent(fill.fill),
        share=percent(fill.tare_share),
    )


def pour_warning(warning: PourWarning) -> str:
    """What to look at before a count is poured."""
    return _pour_warning(warning)


@singledispatch
def _pour_warning(warning: PourWarning) -> str:
    raise TypeError(type(warning).__name__)


@_pour_warning.register
def catalogue_mass(warning: CatalogueMass) -> str:
    """True of a material whose pieces nobody has weighed here."""
    return say(
        "the mass of a piece is the catalogue's, sure to {u} only: weigh 100 of your own first",
        u=percent(warning.relative_u),
    )


@_pour_warning.register
def material_note(warning: MaterialNote) -> str:
    """What the catalogue notes about the material, in its own words."""
    return warning.text


_FILL_TROUBLES: Final = {
    FillTrouble.MAY_NOT_FIT: message(
        "fills {vessel} to about {fill} (bulk density sure to {u}): it may not fit"
    ),
    FillTrouble.MAY_NOT_CLOSE: message(
        "fills {vessel} to about {fill} (bulk density sure to {u}): it may not close"
    ),
    FillTrouble.TOO_SHALLOW: message(
        "fills {vessel} to about {fill} (bulk density sure to {u}): too few layers to see"
    ),
}


@_pour_warning.register
def fill_warning(warning: FillWarning) -> str:
    """True of a vessel that is filled too much, or too little to see layers."""
    return say(
        _FILL_TROUBLES[warning.trouble],
        vessel=warning.vessel,
        fill=percent(warning.fill),
        u=percent(warning.density_u),
    )


@_pour_warning.register
def narrow_vessel(warning: NarrowVessel) -> str:
    """True of a vessel a few pieces wide."""
    return say(
        "{vessel} is narrow for these pieces: its walls loosen the heap, so it is higher than "
        "computed",
        vessel=warning.vessel,
    )


_CARRIERS: Final = {
    Carrier.NOBODY: message(
        "{mass} kg: above {limit} kg, split it into smaller buckets. Follow your local rules."
    ),
    Carrier.ADULT: message(
        "{mass} kg: an adult carries it, never a child. Follow your local rules."
    ),
    Carrier.ANYBODY: message(
        "{mass} kg: light, but full glass and buckets are for adults to carry. Follow your local "
        "rules."
    ),
}


def load_words(load: Load) -> str:
    """What a filled container weighs, and who may carry it."""
    return say(_CARRIERS[load.carrier], mass=f"{load.mass_kg:.1f}", limit=f"{LIFTING_LIMIT_KG:g}")


_GRADES: Final = {
    "easy": message("easy"),
    "medium": message("medium"),
    "hard": message("hard"),
}


def trial_words(tried: TrialPour) -> str:
    """What pours on the computer show, in two sentences that do not give the count away."""
    return f"{trial_height(tried)} {trial_method(tried)}"


def trial_height(tried: TrialPour) -> str:
    """How high the pieces come, and how far the pours differ."""
    height = f"{tried.height_cm:.1f}"
    if len(tried.jars) == 1:
        return say("Poured on the computer: {height} cm high.", height=height)
    return say(
        "Poured on the computer: {height} cm high ({low} to {high}).",
        height=height,
        low=f"{min(tried.heights_cm):.1f}",
        high=f"{max(tried.heights_cm):.1f}",
    )


def trial_method(tried: TrialPour) -> str:
    """How far one layer times layers is off in these pours."""
    off = round(100 * tried.off)
    facts = {
        "grade": say(_GRADES[tried.grade]),
        "pours": say_count("one pour", "{n} pours", len(tried.jars)),
        "percent": percent(abs(off) / 100),
    }
    if not off:
        return say("One layer times layers reads right: {grade} ({pours}).", **facts)
    if off < 0:
        return say("One layer times layers reads {percent} low: {grade} ({pours}).", **facts)
    return say("One layer times layers reads {percent} high: {grade} ({pours}).", **facts)


def count_within(pour: Pour) -> str:
    """True of a pour that is planned: how near its count will be."""
    return say(
        "The count will be within {within} of it (95 %).", within=percent_text(2 * pour.relative_u)
    )


def brim_words(brim: Prediction) -> str:
    """True of a vessel and a material: how many pieces would fill it."""
    low, high = brim.between
    return say(
        "To the brim it would hold about {pieces} pieces, between {low} and {high}.",
        pieces=f"{brim.pieces:,}",
        low=f"{low:,}",
        high=f"{high:,}",
    )


def place_load(load: Load) -> str:
    """True of a scooping place that is filled for the day."""
    return say("A full place: {load}", load=load_words(load))
