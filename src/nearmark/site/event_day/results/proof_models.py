"""What a release fixes so that anybody can check it."""

from django.db import models

from nearmark.site.event_day.results.models import Release


class ReleaseProof(models.Model):
    """The proof of one release.

    Attributes
    ----------
    record : dict
        As ``contest.proof.release.ReleaseRecord.as_plain`` gives it.
    head : str
        Its hash, printed with the standings.
    folder : bytes
        The released event folder without names, as a zip: what everybody may check.
    leaf_salt, people_salt : str
        Hexadecimal digits; the second is the same for all releases of an event.
    """

    release = models.OneToOneField(Release, models.CASCADE, related_name="proof")
    record = models.JSONField()
    head = models.CharField(max_length=64)
    folder = models.BinaryField()
    leaf_salt = models.CharField(max_length=64)
    people_salt = models.CharField(max_length=64)

    def __str__(self) -> str:
        return self.head
