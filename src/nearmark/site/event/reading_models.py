"""What was weighed, counted and measured; a row is struck out with a reason, never changed."""

from typing import Any, ClassVar

from django.db import models

from nearmark.site.common.fields import WrittenDecimal
from nearmark.site.event.models import ItemRecord


class KitRow(models.Model):
    """One reading in the kit room."""

    item = models.ForeignKey(ItemRecord, models.CASCADE)
    at = models.DateTimeField()
    by = models.CharField(max_length=60)
    struck_at = models.DateTimeField(null=True)
    struck_by = models.CharField(max_length=60, blank=True)
    struck_why = models.CharField(max_length=1000, blank=True)

    objects: ClassVar[models.Manager[Any]] = models.Manager()

    class Meta:
        abstract = True
        ordering = ["pk"]


class SampleRow(KitRow):
    """A counted and weighed sample."""

    pieces = models.BigIntegerField()
    mass_g = WrittenDecimal()
    instrument = models.CharField(max_length=1000)

    def __str__(self) -> str:
        return f"sample of {self.pieces}: {self.mass_g} g"


class WeighingRow(KitRow):
    """The container filled, empty or both."""

    gross_g = WrittenDecimal(null=True)
    tare_g = WrittenDecimal(null=True)
    instrument = models.CharField(max_length=1000)

    def __str__(self) -> str:
        named = (("full", self.gross_g), ("empty", self.tare_g))
        return ", ".join(f"{name} {mass} g" for name, mass in named if mass is not None)


class HandCountRow(KitRow):
    """One complete count by hand."""

    pieces = models.BigIntegerField()
    counter = models.CharField(max_length=1000)

    def __str__(self) -> str:
        return f"{self.pieces} counted by {self.counter}"


class BoxRow(KitRow):
    """One reading of one edge of a box."""

    side = models.CharField(max_length=6)
    reading_cm = WrittenDecimal()
    instrument = models.CharField(max_length=1000)

    def __str__(self) -> str:
        return f"{self.side} {self.reading_cm} cm"
