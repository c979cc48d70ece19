"""Readings of a pupil's own hand; nothing is ever marked on it."""

from datetime import date

from nearmark.errors import InputError
from nearmark.site.common.writing import writing
from nearmark.site.season.models import BodyReading, Pupil


def add_body_readings(pupil: Pupil, reference: str, readings_cm: list[float], day: date) -> None:
    """Keep readings of a part of the hand, each with the hand placed again.

    ``reference``: such as ``palm``. Raises InputError if one is no length of a hand or an arm.
    """
    for reading in readings_cm:
        if not 0.2 <= reading <= 300:  # the limits of coaching.body_reference
            raise InputError(
                "must be from 0.2 to 300", where="readings", value=f"{reading:g}", mend="Write cm"
            )
    with writing():
        BodyReading.objects.bulk_create(
            BodyReading(pupil=pupil, reference=reference, reading_cm=reading, day=day)
            for reading in readings_cm
        )


def drop_body_reading(reading: BodyReading) -> None:
    """Take a wrong reading of a hand away; nobody needs to keep it."""
    with writing():
        reading.delete()
