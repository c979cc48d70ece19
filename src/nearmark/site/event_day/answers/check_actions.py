"""Checks of the day: a scale against a known mass, the buckets of a heat against its cups."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from nearmark.contest.answers import AcceptedAnswer
from nearmark.errors import InputError
from nearmark.kit.bucket_balance import BucketBalance, BucketWeighing, CupContents, bucket_balance
from nearmark.kit.check_weight import CheckWeight, check_weight
from nearmark.measurement.instruments import Instrument
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.models import EventRecord, InstrumentRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event.rows import record_of
from nearmark.site.event_day.heats.state import pairs_of_heat
from nearmark.words.event_rooms import heat_in_room
from nearmark.words.material import balance_words, check_weight_words
from nearmark.words.translation import ENGLISH, spoken_in

CHECK: Final = "check weight on "
BALANCE: Final = "weighed the buckets of "
"""How the lines of the history begin that keep these checks."""

BucketText = tuple[Decimal, Decimal, Decimal]
"""Before, after and refilled, in g."""


def check_scale(
    scale: str, known_g: Decimal, shown_g: Decimal, known_u_g: Decimal | None, *, by: str
) -> CheckWeight:
    """Hold a scale against a known mass and its standard uncertainty, and keep what it showed."""
    with writing():
        event = open_event()
        instrument = _scale(event, scale)
        found = check_weight(
            float(shown_g), float(known_g), instrument, known_u_g=float(known_u_g or 0)
        )
        note(event, by, f"{CHECK}{scale}", new=_kept_words(found))
    return found


def balance_heat(  # noqa: PLR0913 - what is weighed, and what it is held against
    heat: str,
    room: str,
    item: str,
    scale: str,
    buckets: Sequence[BucketText],
    *,
    spill_g: Decimal | None,
    by: str,
) -> BucketBalance:
    """Hold the buckets of a heat against its recorded cups, and keep the outcome in the history.

    ``room``: empty in an event without rooms. ``item``: code of an item of the mass station.
    ``scale``: that weighed the buckets. ``spill_g``: what at most fell beside; ``None``: nothing.
    """
    with writing():
        event = open_event()
        instrument = _scale(event, scale)
        found = bucket_balance(
            [
                BucketWeighing(float(before), float(after), instrument, float(added))
                for before, after, added in buckets
            ],
            [_contents(answer) for answer in _cups(event, heat, room, item)],
            spill_g=float(spill_g or 0),
        )
        note(event, by, f"{BALANCE}{heat_in_room(heat, room)}, {item}", new=balance_words(found))
    return found


def _kept_words(found: CheckWeight) -> str:
    """As the history keeps it: in the language of no visitor."""
    with spoken_in(ENGLISH):
        return check_weight_words(found)


def _cups(event: EventRecord, heat: str, room: str, item: str) -> list[AcceptedAnswer]:
    codes = {pair.code for pair in pairs_of_heat(event, heat, room)}
    answers = current_results(event).answers.values()
    return [
        answer
        for answer in answers
        if answer.item == item and answer.pair in codes and answer.estimate is not None
    ]


def _contents(answer: AcceptedAnswer) -> CupContents:
    return CupContents(float(answer.estimate or 0), answer.u, answer.causes)


def _scale(event: EventRecord, name: str) -> Instrument:
    row = InstrumentRecord.objects.filter(event=event, name=name, unit="g").first()
    if row is None:
        raise InputError(
            "is no scale of this event", where="scale", value=name[:60], mend="Choose from the list"
        )
    return record_of(Instrument, row)
