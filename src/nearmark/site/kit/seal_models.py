"""Sealed keys."""

from django.db import models

from nearmark.site.event.models import EventRecord


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
