"""A pupil renamed, and readings of the pupil's own hand.

The history tells by number that a pupil was renamed.  It holds neither name: the old one may be
one that should never have been typed, and a deleted child is in no line of it.
"""

from datetime import date

from nearmark.errors import InputError
from nearmark.site.common.writing import writing
from nearmark.site.event.history import note
from nearmark.site.season.club_actions import check_pupil_name
from nearmark.site.season.models import BodyReading, Pupil
from nearmark.site.season.retention_actions import leave_nothing, overwrite_what_is_deleted


def rename_pupil(pupil: Pupil, name: str, *, by: str) -> None:
    """Give a pupil another name; attempts, pairs and open seats stay the pupil's.

    It is undone by renaming back.

    ``name``: first name or code. Raises InputError if it is empty, too long, the same, or somebody
    else's in the club.
    """
    plain = " ".join(name.split())
    if not plain:
        raise InputError("is empty", where="name", mend="Write a first name or a code")
    overwrite_what_is_deleted()
    with writing():
        pupil.refresh_from_db(fields=["name"])
        if plain == pupil.name:
            raise InputError("is the name already", where="name", value=plain, mend="Change it")
        others = pupil.club.pupils.exclude(pk=pupil.pk).values_list("name", flat=True)
        check_pupil_name(plain, {other.casefold() for other in others}, where="name")
        pupil.name = plain
        pupil.save(update_fields=["name"])
        note(None, by, f"club {pupil.club_id}: renamed pupil {pupil.pk}")
    leave_nothing()


def add_body_readings(pupil: Pupil, reference: str, readings_cm: list[float], day: date) -> None:
    """Keep readings of a part of the hand; InputError if one is no length of a hand or an arm."""
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
