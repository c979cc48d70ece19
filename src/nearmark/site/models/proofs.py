"""Sealed keys, and what a release fixes so that anybody can check it."""

from django.db import models

from nearmark.site.models.event import EventRecord
from nearmark.site.models.releases import Release


class KeySeal(models.Model):
    """One sealing of the keys; never changed, never taken away.

    Attributes
    ----------
    number : int
        Counted from 1 within the event.
    text : str
        The key file with its salt: secret until the release.
    commitment : str
        SHA-256 hash of the text: shown to everybody at once.
    """

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="seals")
    number = models.PositiveIntegerField()
    at = models.DateTimeField()
    by = models.CharField(max_length=60)
    text = models.TextField()
    commitment = models.CharField(max_length=64)

    class Meta:
        """Newest first."""

        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["event", "number"], name="seal_numbered_once")
        ]

    def __str__(self) -> str:
        return f"seal {self.number}"


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
