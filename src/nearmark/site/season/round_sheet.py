"""A round as one form: one thing, a row for each pupil; read back row by row."""

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Final

from nearmark.coaching.attempt import STATION_PARTS, Attempt, Layers, Parts, Sides, parts_from
from nearmark.errors import InputError, NearmarkError
from nearmark.site.common.forms import words, written_number
from nearmark.site.season.attempt_actions import NewAttempt, check_estimate
from nearmark.site.season.models import Club, PracticePair, Pupil, Thing
from nearmark.station import Station
from nearmark.words.numbers import capital

MAX_SIGNS: Final = 30
MAX_SLIP: Final = 200
"""A factor of a hundred, doubled; the area of a box for its volume is a factor of thirty."""

OWN_PARTS: Final[dict[Station, dict[str, str]]] = {
    Station.MASS: {},
    Station.COUNT: {"layer": "pieces in one layer", "layers": "layers"},
    Station.VOLUME: {"length_cm": "length, cm", "width_cm": "width, cm", "height_cm": "height, cm"},
}
"""What a pupil may say besides the estimate, by station: column -> words."""


@dataclass(slots=True)
class RoundRow:
    """One pupil's row."""

    pupil: Pupil
    key: uuid.UUID  # made with the page: a round sent twice is kept once
    # As typed, to be shown again (str by column).
    typed: dict[str, str] = field(default_factory=dict)
    refusal: str = ""  # why it cannot be kept; empty when it can

    @property
    def estimate(self) -> str:
        """As typed."""
        return self.typed.get("estimate", "")


@dataclass(frozen=True, slots=True)
class RoundSheet:
    """All rows of a round."""

    thing: Thing
    day: date
    rows: list[RoundRow]
    tries: list[NewAttempt]  # of the rows with an estimate that can be kept

    @property
    def n_refused(self) -> int:
        """How many rows cannot be kept as they are."""
        return sum(bool(row.refusal) for row in self.rows)

    @property
    def focus(self) -> RoundRow | None:
        """Where to type first: the first row to correct, else the first of all."""
        refused = (row for row in self.rows if row.refusal)
        return next(refused, self.rows[0] if self.rows else None)

    @property
    def parts(self) -> dict[str, str]:
        """Columns of the optional parts, with their words."""
        return OWN_PARTS[Station(self.thing.station)]


def empty_sheet(thing: Thing, pupils: Iterable[Pupil], day: date) -> RoundSheet:
    """A round to be filled in."""
    return RoundSheet(thing, day, [RoundRow(pupil, uuid.uuid4()) for pupil in pupils], [])


def read_sheet(
    post: Mapping[str, str], thing: Thing, pupils: Iterable[Pupil], day: date
) -> RoundSheet:
    """What was typed in ``estimate-PUPIL`` and so on; a row that cannot be kept says why."""
    sheet = RoundSheet(thing, day, [], [])
    pair_of = pair_of_each(thing.club)
    for pupil in pupils:
        typed = {
            name: post.get(f"{name}-{pupil.pk}", "").strip() for name in ("estimate", *sheet.parts)
        }
        row = RoundRow(pupil, _key(post.get(f"key-{pupil.pk}", "")), typed)
        sheet.rows.append(row)
        if not any(typed.values()):
            continue
        try:
            attempt = typed_attempt(pupil, typed, thing, day)
            sheet.tries.append(NewAttempt(row.key, pupil, attempt, pair_of.get(pupil.pk)))
        except NearmarkError as refusal:
            row.refusal = row_refusal(refusal)
    return sheet


def _key(text: str) -> uuid.UUID:
    try:
        return uuid.UUID(text)
    except ValueError:
        return uuid.uuid4()


def pair_of_each(club: Club) -> dict[int, PracticePair]:
    """The pair of each pupil who is in exactly one."""
    found: dict[int, list[PracticePair]] = {}
    for pair in club.pairs.all():
        for pupil_id in (pair.first_id, pair.second_id):
            found.setdefault(pupil_id, []).append(pair)
    return {pupil_id: pairs[0] for pupil_id, pairs in found.items() if len(pairs) == 1}


def typed_attempt(pupil: Pupil, typed: Mapping[str, str], thing: Thing, day: date) -> Attempt:
    """An attempt as it was typed; what cannot be kept is refused by column."""
    if not typed["estimate"]:
        raise InputError("is empty though parts are given", where="estimate", mend="Write it")
    attempt = Attempt(
        day,
        pupil.name,
        Station(thing.station),
        thing.name,
        _number(typed["estimate"], "estimate"),
        thing.true,
        thing.size,
        _parts(typed, thing),
    )
    check_estimate(attempt)
    _check_parts(attempt)
    return attempt


def _check_parts(attempt: Attempt) -> None:
    """Refuse parts that no slip of a sum brings to the estimate: a key must have stuck."""
    if not isinstance(attempt.parts, Layers | Sides):
        return
    product = attempt.parts.product
    if not 1 / MAX_SLIP <= product / attempt.estimate <= MAX_SLIP:
        raise InputError(
            f"the product is {product:,.0f}, the estimate {attempt.estimate:,.0f}",
            where="parts",
            mend="Check them, or empty them",
        )


def row_refusal(refusal: NearmarkError) -> str:
    """A refusal as it is shown beneath its row."""
    return f"{capital(refusal.where)}: {words(refusal)}"


def _number(text: str, where: str) -> float:
    if len(text) > MAX_SIGNS:
        raise InputError("is longer than any number", where=where, mend="Check it")
    try:
        number: Decimal = written_number(text)
    except InputError as refusal:
        refusal.where = where
        raise
    if number <= 0:
        raise InputError("must be above zero", where=where, value=text, mend="Leave a blank empty")
    return float(number)


def _parts(typed: Mapping[str, str], thing: Thing) -> Parts | None:
    station = Station(thing.station)
    own = OWN_PARTS[station]
    lost = next((name for name in own if not typed.get(name)), "")
    if lost and any(typed.get(name) for name in own):
        raise InputError(
            "is empty though others are given",
            where=own[lost],
            mend="Write it, or empty the others",
        )
    given = {name: _number(typed[name], own[name]) for name in own if not lost}
    names = (name for each in STATION_PARTS[station] for name in each)
    return parts_from(station, {n: given.get(n, getattr(thing, n, None)) for n in names})
