"""What was read off the sheets and what was decided; rows are added, never changed."""

from django.db import models
from django.db.models import Q

from nearmark.site.common.fields import WrittenDecimal
from nearmark.site.event.models import EventRecord, ItemRecord, PairRecord


class AnswerEntry(models.Model):
    """One person's reading of one answer."""

    # Made by the browser: the same reading sent twice is kept once.
    key = models.UUIDField(unique=True)
    pair = models.ForeignKey(PairRecord, models.PROTECT, related_name="entries")
    item = models.ForeignKey(ItemRecord, models.PROTECT, related_name="entries")
    reading = models.SmallIntegerField()
    clerk = models.CharField(max_length=1000)
    status = models.CharField(max_length=10)
    value = WrittenDecimal(null=True)
    cup = models.CharField(max_length=1000, blank=True)
    # Name of the scale that showed a gross mass; empty: the one that weighed the empty cup.
    scale = models.CharField(max_length=1000, blank=True, default="")
    at = models.DateTimeField()
    # A reading made by mistake is struck out with a reason, and its place is free again.
    struck_at = models.DateTimeField(null=True)
    struck_by = models.CharField(max_length=60, blank=True)
    struck_why = models.CharField(max_length=1000, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["pair", "item", "reading"],
                condition=Q(struck_at=None),
                name="reading_made_once",
            )
        ]

    def __str__(self) -> str:
        return f"{self.pair.code} {self.item.code} reading {self.reading}"


class AdjudicationEntry(models.Model):
    """A third person's reading; the newest of an answer decides."""

    pair = models.ForeignKey(PairRecord, models.PROTECT, related_name="adjudications")
    item = models.ForeignKey(ItemRecord, models.PROTECT, related_name="adjudications")
    clerk = models.CharField(max_length=1000)
    status = models.CharField(max_length=10)
    value = WrittenDecimal(null=True)
    cup = models.CharField(max_length=1000, blank=True)
    reason = models.CharField(max_length=1000)
    at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.pair.code} {self.item.code}"


class AuditEntry(models.Model):
    """What the paper showed when a sheet was read again; the newest of an answer holds."""

    pair = models.ForeignKey(PairRecord, models.PROTECT, related_name="audit_readings")
    item = models.ForeignKey(ItemRecord, models.PROTECT, related_name="audit_readings")
    clerk = models.CharField(max_length=1000)
    status = models.CharField(max_length=10)
    value = WrittenDecimal(null=True)
    cup = models.CharField(max_length=1000, blank=True)
    at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.pair.code} {self.item.code}"


class DecisionEntry(models.Model):
    """The lead's decision on a key; the newest of an item holds."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="decisions")
    item = models.ForeignKey(ItemRecord, models.CASCADE, related_name="decisions")
    value = WrittenDecimal(null=True)
    by = models.CharField(max_length=1000)
    reason = models.CharField(max_length=1000)
    is_withdrawal = models.BooleanField(default=False)  # the measured value holds again
    at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.item.code}: {self.reason}"


class ClosedPoint(models.Model):
    """The lead's word that an open point is settled; the newest of a point holds."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="closed_points")
    point = models.CharField(max_length=1000)  # id of the point, as the core makes it
    words = models.CharField(max_length=1000, blank=True)  # what the point said, for the history
    by = models.CharField(max_length=1000)
    reason = models.CharField(max_length=1000)
    is_open_again = models.BooleanField(default=False)  # the closing is taken back
    at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.point
