"""Sealed keys."""

from django.db import models

from nearmark.site.event.models import EventRecord


class KeySeal(models.Model):
    """One sealing of the keys; never changed, never taken away."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="seals")
    number = models.PositiveIntegerField()  # counted from 1 within the event
    at = models.DateTimeField()
    by = models.CharField(max_length=60)
    text = models.TextField()  # the key file with its salt: secret until the release
    # SHA-256 hash of the text: shown to everybody at once.
    commitment = models.CharField(max_length=64)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["event", "number"], name="seal_numbered_once")
        ]

    def __str__(self) -> str:
        return f"seal {self.number}"
