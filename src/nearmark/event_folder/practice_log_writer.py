"""Attempts as the text of a practice log: what is written reads back equal."""

from collections.abc import Iterable
from decimal import Decimal

from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.event_folder.practice_log import LogRow, table_of
from nearmark.event_folder.writer import csv_text


def practice_log_text(attempts: Iterable[Attempt]) -> str:
    """A practice log.

    Returns: CSV; columns as ``docs/reference/coaching.md`` lists them.

    >>> from datetime import date
    >>> from nearmark.station import Station
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 380, 420, parts=Layers(38, 10))
    >>> print(practice_log_text([jar]).splitlines()[1])
    2027-02-03,Ada,,count,jar,,380,420,38,10,,,,,,,,,,
    """
    columns = table_of("log.csv").columns
    rows = (
        [
            "" if value is None else column.kind.show(value)
            for column, value in ((column, getattr(row, column.name)) for column in columns)
        ]
        for row in map(_row, attempts)
    )
    return csv_text([column.name for column in columns], rows)


def _row(attempt: Attempt) -> LogRow:
    return LogRow(
        day=attempt.day,
        pupil=attempt.pupil,
        pair=attempt.pair,
        station=attempt.station,
        thing=attempt.thing,
        size=attempt.size,
        estimate=_exact(attempt.estimate),
        true=_exact(attempt.true),
        **(dict.fromkeys(_PART_COLUMNS) | _parts(attempt)),
    )


_PART_COLUMNS = (
    *("layer", "layers", "layer_true", "layers_true"),
    *("length_cm", "width_cm", "height_cm"),
    *("length_true_cm", "width_true_cm", "height_true_cm"),
    *("cup_g", "density_g_cm3"),
)


def _parts(attempt: Attempt) -> dict[str, Decimal | None]:
    parts = attempt.parts
    if isinstance(parts, Layers):
        found: dict[str, float | None] = {
            "layer": parts.layer,
            "layers": parts.layers,
            "layer_true": parts.layer_true,
            "layers_true": parts.layers_true,
        }
    elif isinstance(parts, Sides):
        names = ("length", "width", "height")
        found = {f"{name}_cm": side for name, side in zip(names, parts.cm, strict=True)}
        true = parts.true_cm or (None, None, None)
        found |= {f"{name}_true_cm": side for name, side in zip(names, true, strict=True)}
    elif isinstance(parts, Scoop):
        found = {"cup_g": parts.cup_g, "density_g_cm3": parts.density_g_cm3}
    else:
        found = {}
    return {name: None if value is None else _exact(value) for name, value in found.items()}


def _exact(value: float) -> Decimal:
    """The shortest decimal number that reads back as this one."""
    exact = Decimal(repr(float(value)))
    return exact.to_integral() if exact == exact.to_integral() else exact
