"""A pupil's own hand as a ruler: how long, until when, and how to take a length with it."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from nearmark.coaching import BodyReference, calibrated, measuring_routine, remeasure_by
from nearmark.coaching.measure_plan import measure_plan
from nearmark.measurement.instruments import Instrument
from nearmark.site.common.local_time import today
from nearmark.site.common.responses import refusals_on
from nearmark.site.season.forms import LengthForm
from nearmark.site.season.models import BodyReading, Pupil
from nearmark.words.measuring import plan_words, routine_words

RULER: Final = Instrument("ruler", "cm", 0.1)
"""A school ruler in millimetres."""

USUAL_READINGS: Final = 3


@dataclass(frozen=True, slots=True)
class HandLine:
    """One part of the hand as a ruler."""

    reference: BodyReference
    readings: list[BodyReading]
    day: date
    again_by: date
    is_due: bool

    @property
    def missing(self) -> int:
        """Readings to the usual three."""
        return max(0, USUAL_READINGS - len(self.readings))


def hand_lines(pupil: Pupil) -> list[HandLine]:
    """The newest day's readings of each reference: hands grow, older ones would pull it short."""
    readings: dict[str, list[BodyReading]] = defaultdict(list)
    for reading in pupil.body_readings.all():
        readings[reading.reference].append(reading)
    lines = []
    for name, every in readings.items():
        day = max(each.day for each in every)
        own = [each for each in every if each.day == day]
        again_by = remeasure_by(day)
        reference = calibrated(name, [each.reading_cm for each in own], RULER)
        lines.append(HandLine(reference, own, day, again_by, is_due=again_by < today()))
    return lines


def teach_words(hand: Sequence[HandLine]) -> str:
    """One way to take every length with the two references that serve best; empty without two."""
    routine = measuring_routine([line.reference for line in hand])
    return routine_words(routine) if routine else ""


def length_words(form: LengthForm, hand: Sequence[HandLine]) -> str:
    """How to take the length that was asked for; what cannot be taken is refused on the form."""
    said = ""
    if form.is_bound and form.is_valid() and hand:
        references = [line.reference for line in hand]
        with refusals_on(form):
            said = plan_words(measure_plan(float(form.cleaned_data["length"]), references))
    return said
