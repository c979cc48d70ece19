"""The change history: who did what, when, why, and what stood there before."""

from django.db import models

from nearmark.site.event.models import EventRecord, ItemRecord


class Change(models.Model):
    """One act of one person; written in the same transaction as what it tells."""

    event = models.ForeignKey(EventRecord, models.CASCADE, null=True, related_name="changes")
    at = models.DateTimeField()
    who = models.CharField(max_length=60)
    what = models.CharField(max_length=200)
    old = models.CharField(max_length=300, blank=True)
    new = models.CharField(max_length=300, blank=True)
    why = models.CharField(max_length=200, blank=True)
    item = models.ForeignKey(ItemRecord, models.SET_NULL, null=True, related_name="changes")

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"{self.at:%H:%M} {self.who}: {self.what}"
