"""From what the pour page asks to what the core says: materials, vessels, pours."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from nearmark.errors import InputError, NearmarkError, RuleError
from nearmark.kit import (
    CatalogueMaterial,
    Load,
    Pour,
    Prediction,
    Vessel,
    Walls,
    carried_mass,
    cautions,
    grams_to_pour,
    material,
    materials,
    predicted_count,
    vessels,
)
from nearmark.kit.cautions import without_local
from nearmark.kit.vessels import SIZES
from nearmark.site.event.models import EventRecord, MaterialRecord
from nearmark.site.kit.models import PourRow, VesselRecord
from nearmark.words.cautions import care_words, local_rules_words, near_codes

USUAL_STEP_G = 0.1
"""Step of a kitchen or bench scale, until the event has a scale."""


@dataclass(frozen=True, slots=True)
class PourView:
    """One pour as a page shows it."""

    row: PourRow | None  # ``None``: not kept yet
    material: CatalogueMaterial
    vessel: Vessel | None
    pour: Pour | None  # ``None``: refused, with the reason as trouble
    load: Load | None = None
    trouble: str = ""

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to be careful of with the material."""
        return cautions(self.material)


def own_vessel(row: VesselRecord) -> Vessel:
    """A vessel of the event as the core knows it."""
    return Vessel(row.code, row.name, row.shape, tuple(row.sizes_cm), row.tare_g)


def vessel_sizes(shape: str, sizes: Iterable[Decimal | None]) -> list[float]:
    """The inner sizes a shape has, in cm. Raises InputError if there are too few or too many."""
    given = [float(size) for size in sizes if size is not None]
    if len(given) != SIZES[shape]:
        raise InputError(
            f"a {shape} has {SIZES[shape]} inner sizes",
            where="third_cm",
            value=len(given),
            mend="Give diameter and height, or three sizes",
        )
    return given


def known_vessels(event: EventRecord) -> dict[str, Vessel]:
    """Vessels of the event first, then those of the catalogue."""
    own = {row.code: own_vessel(row) for row in event.vessels.all()}
    return own | {code: each for code, each in vessels().items() if code not in own}


def in_catalogue(code: str) -> CatalogueMaterial | None:
    """A material of the catalogue by its code; ``None`` where it is somebody's own."""
    return next((each for each in materials() if each.code == code), None)


def material_cautions(row: MaterialRecord) -> tuple[str, ...]:
    """Everything to be careful of: what the event says, then the usual."""
    try:
        return *care_words(row.code, row.name, row.cautions), local_rules_words()
    except RuleError as refused:  # from a folder of long ago: still shown, to be removed
        return f"{refused}.", local_rules_words()


def material_near(row: MaterialRecord) -> str:
    """Which codes of the catalogue an own material may be; empty where there is nothing to ask."""
    try:
        return near_codes(row.code, row.name)
    except RuleError:
        return ""


def said_once(lines: Sequence[str]) -> tuple[str, ...]:
    """Each caution once, and what ends every one of them at the end alone.

    >>> said_once(["Dusty. Follow your local rules.", "Heavy. Follow your local rules."])
    ('Dusty.', 'Heavy. Follow your local rules.')
    """
    once = list(dict.fromkeys(lines))
    short = (without_local(line) for line in once[:-1])
    return (*(line for line in short if line), *once[-1:])


def scale_step_g(event: EventRecord) -> float:
    """Step of the first scale of the event, in g."""
    scale = event.instruments.filter(unit="g").first()
    return scale.resolution if scale else USUAL_STEP_G


def view_of(
    event: EventRecord,
    pieces: int,
    code: str,
    *,
    vessel_code: str = "",
    piece_mass_g: Decimal | None = None,
    row: PourRow | None = None,
) -> PourView:
    """What to pour for a count of a material of the catalogue; a refusal becomes its trouble."""
    chosen, vessel = material(code), known_vessels(event).get(vessel_code)
    try:
        pour = grams_to_pour(
            pieces,
            chosen,
            scale_step_g=scale_step_g(event),
            piece_mass_g=None if piece_mass_g is None else float(piece_mass_g),
            vessel=vessel,
        )
    except NearmarkError as refused:
        return PourView(row, chosen, vessel, None, trouble=f"{refused}")
    load = carried_mass(float(pour.mass_g), vessel.tare_g if vessel else 0.0)
    return PourView(row, chosen, vessel, pour, load)


def view_of_given(event: EventRecord, pieces: int, given: Mapping[str, Any]) -> PourView:
    """What to pour for a count, by what was typed into ``PourForm``."""
    return view_of(
        event,
        pieces,
        given["material"],
        vessel_code=given["vessel"],
        piece_mass_g=given["piece_mass_g"],
    )


def kept_pours(event: EventRecord) -> list[PourView]:
    """The pours that are planned."""
    rows = PourRow.objects.filter(item__event=event, struck_at=None).select_related("item")
    return [
        view_of(
            event,
            row.pieces,
            row.material,
            vessel_code=row.vessel,
            piece_mass_g=row.piece_mass_g,
            row=row,
        )
        for row in rows
    ]


def planned_into(row_id: int) -> tuple[PourRow, Vessel]:
    """A planned pour and its container; RuleError if it was given up, or names no container."""
    rows = PourRow.objects.filter(struck_at=None).select_related("item__event")
    row = rows.filter(pk=row_id).first()
    vessel = known_vessels(row.item.event).get(row.vessel) if row else None
    if row is None or vessel is None:
        raise RuleError(
            "this plan was given up, or has no container", mend="Load the page again, or plan again"
        )
    return row, vessel


def brim_count(
    material_code: str,
    vessel: Vessel,
    *,
    piece_mass_g: Decimal | None = None,
    walls: Walls | None = None,
) -> Prediction:
    """About how many pieces a vessel holds to the brim.

    ``piece_mass_g``: of the event's own lot. ``walls``: of a trial pour.
    """
    own_g = None if piece_mass_g is None else float(piece_mass_g)
    lot = material(material_code).with_own(piece_mass_g=own_g)
    return predicted_count(lot, vessel.volume_cm3, walls=walls)
