"""Attempts as the text of a practice log: what is written reads back equal."""

from collections.abc import Iterable
from decimal import Decimal

from nearmark.coaching.attempt import Attempt, part_columns
from nearmark.event_folder.practice_log import table_of
from nearmark.event_folder.writer import csv_text


def practice_log_text(attempts: Iterable[Attempt]) -> str:
    """A practice log.

    Returns: CSV; columns as ``docs/reference/coaching.md`` lists them.

    >>> from datetime import date
    >>> from nearmark.coaching.attempt import Layers
    >>> from nearmark.station import Station
    >>> jar = Attempt(date(2027, 2, 3), "Ada", Station.COUNT, "jar", 380, 420, parts=Layers(38, 10))
    >>> print(practice_log_text([jar]).splitlines()[1])
    2027-02-03,Ada,,count,jar,,380,420,38,10,,,,,,,,,,
    """
    columns = table_of("log.csv").columns
    rows = (
        [
            "" if value is None else column.kind.show(value)
            for column, value in ((column, row.get(column.name)) for column in columns)
        ]
        for row in map(_row, attempts)
    )
    return csv_text([column.name for column in columns], rows)


def _row(attempt: Attempt) -> dict[str, object]:
    names = ("day", "pupil", "pair", "station", "thing", "size")
    numbers = {"estimate": attempt.estimate, "true": attempt.true, **part_columns(attempt.parts)}
    written = {name: None if n is None else _exact(n) for name, n in numbers.items()}
    return {name: getattr(attempt, name) for name in names} | written


def _exact(value: float) -> Decimal:
    """The shortest decimal number that reads back as this one."""
    exact = Decimal(repr(float(value)))
    return exact.to_integral() if exact == exact.to_integral() else exact
