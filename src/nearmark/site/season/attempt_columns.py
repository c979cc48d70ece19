"""Between the tables of the season and the attempts of the core."""

from typing import Any, Final

from nearmark.coaching.attempt import STATION_PARTS, Attempt, parts_from
from nearmark.site.season.models import Club, PracticeAttempt
from nearmark.station import Station

_COLUMNS: Final = ("pupil_id", "pair_id", "day", "station", "size", "thing", "estimate", "true")
_PARTS: Final = tuple(name for own, true in STATION_PARTS.values() for name in (*own, *true))


def attempt_of(row: PracticeAttempt | Any, *, pupil: str, pair: str = "") -> Attempt:
    """A row of an attempt as the core knows it; the names are given, not asked row by row."""
    return Attempt(
        row.day,
        pupil,
        Station(row.station),
        row.thing,
        row.estimate,
        row.true,
        row.size,
        parts_from(Station(row.station), {name: getattr(row, name) for name in _PARTS}),
        pair,
    )


def attempts_of(club: Club) -> tuple[Attempt, ...]:
    """The log of a club, in the order of practice, without what was struck out."""
    names = dict(club.pupils.values_list("pk", "name"))
    pairs = dict(club.pairs.values_list("pk", "code"))
    # Rows without the weight of model instances: a club of 30 has thousands.
    rows = club.attempts.filter(struck_at=None).values_list(*_COLUMNS, *_PARTS, named=True)
    return tuple(
        attempt_of(row, pupil=names[row.pupil_id], pair=pairs.get(row.pair_id, "")) for row in rows
    )
