"""Between the tables of the season and the attempts of the core."""

from typing import Any, Final

from nearmark.coaching import Attempt, Layers, Scoop, Sides
from nearmark.site.season.models import Club, PracticeAttempt
from nearmark.station import Station

Columns = dict[str, float | None]

_COLUMNS: Final = (
    *("pupil_id", "pair_id", "day", "station", "size", "thing", "estimate", "true"),
    *("layer", "layers", "layer_true", "layers_true"),
    *("length_cm", "width_cm", "height_cm"),
    *("length_true_cm", "width_true_cm", "height_true_cm"),
    *("cup_g", "density_g_cm3"),
)


def part_columns(parts: Layers | Sides | Scoop | None) -> Columns:
    """The parts of an attempt as columns of its row; those of other stations stay empty.

    >>> part_columns(Scoop(6.5, 0.8))
    {'cup_g': 6.5, 'density_g_cm3': 0.8}
    """
    if isinstance(parts, Layers):
        return {
            "layer": parts.layer,
            "layers": parts.layers,
            "layer_true": parts.layer_true,
            "layers_true": parts.layers_true,
        }
    if isinstance(parts, Sides):
        names = ("length", "width", "height")
        own: Columns = dict(zip((f"{name}_cm" for name in names), parts.cm, strict=True))
        true = parts.true_cm or (None, None, None)
        return own | dict(zip((f"{name}_true_cm" for name in names), true, strict=True))
    if isinstance(parts, Scoop):
        return {"cup_g": parts.cup_g, "density_g_cm3": parts.density_g_cm3}
    return {}


def attempt_of(row: PracticeAttempt | Any, *, pupil: str, pair: str = "") -> Attempt:
    """A kept attempt as the core knows it.

    ``row``: PracticeAttempt, or a row of its columns. ``pupil``: name, given so that it need not be
    asked for row by row. ``pair``: code; empty when there is none.
    """
    return Attempt(
        row.day,
        pupil,
        Station(row.station),
        row.thing,
        row.estimate,
        row.true,
        row.size,
        _parts(row),
        pair,
    )


def _parts(row: PracticeAttempt | Any) -> Layers | Sides | Scoop | None:
    if row.layer and row.layers:
        return Layers(row.layer, row.layers, row.layer_true, row.layers_true)
    if row.length_cm and row.width_cm and row.height_cm:
        true = (row.length_true_cm, row.width_true_cm, row.height_true_cm)
        known = tuple(side for side in true if side)
        sides = (known[0], known[1], known[2]) if len(known) == 3 else None
        return Sides(row.length_cm, row.width_cm, row.height_cm, sides)
    if row.cup_g and row.density_g_cm3:
        return Scoop(row.cup_g, row.density_g_cm3)
    return None


def attempts_of(club: Club) -> tuple[Attempt, ...]:
    """The log of a club: what its pupils estimated and nobody struck out.

    Returns: in the order of practice.
    """
    names = dict(club.pupils.values_list("pk", "name"))
    pairs = dict(club.pairs.values_list("pk", "code"))
    # Rows without the weight of model instances: a club of 30 has thousands.
    rows = club.attempts.filter(struck_at=None).values_list(*_COLUMNS, named=True)
    return tuple(
        attempt_of(row, pupil=names[row.pupil_id], pair=pairs.get(row.pair_id, "")) for row in rows
    )
