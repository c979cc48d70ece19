"""Sheets drawn to be read again, and what the paper showed."""

from django.db import models

from nearmark.site.event.models import EventRecord, ItemRecord, PairRecord


class AuditDraw(models.Model):
    """One draw by dice; a later one is beside it, with the reason."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="audits")
    rolls = models.CharField(max_length=40)  # the digits of the dice, as typed
    # Codes of the sheets to read, kept as drawn: a correction must not draw others.
    targeted = models.JSONField(default=list)
    sample = models.JSONField(default=list)
    # Codes that would have been named but for the number of sheets asked for.
    left_out = models.JSONField(default=list)
    n_others = models.PositiveIntegerField(default=0)
    words = models.JSONField(default=list)
    why = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField()
    by = models.CharField(max_length=60)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"audit by {self.rolls}"


class AuditCheck(models.Model):
    """One sheet read again; the newest of a sheet holds."""

    draw = models.ForeignKey(AuditDraw, models.CASCADE, related_name="checks")
    pair = models.ForeignKey(PairRecord, models.PROTECT, related_name="audit_checks")
    # The first that differs from what counted then; ``None``: everything agrees.
    item = models.ForeignKey(ItemRecord, models.PROTECT, null=True, related_name="audit_checks")
    # What the paper shows there, as typed; every answer of it is an ``AuditEntry``.
    shows = models.CharField(max_length=60, blank=True)
    at = models.DateTimeField()
    by = models.CharField(max_length=60)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.pair.code}: {'differs' if self.item_id else 'agrees'}"
