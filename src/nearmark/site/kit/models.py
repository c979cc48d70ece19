"""What is planned to be poured, and sealed keys; a key itself comes from weighing alone."""

from django.db import models

from nearmark.site.common.fields import WrittenDecimal
from nearmark.site.event.models import EventRecord
from nearmark.site.event.reading_models import KitRow


class PourRow(KitRow):
    """A container as it shall be filled."""

    material = models.CharField(max_length=1000)  # code in the catalogue
    # Code of a vessel, of the catalogue or of the event's own; empty: none chosen.
    vessel = models.CharField(max_length=1000, blank=True)
    pieces = models.BigIntegerField()  # the count aimed at
    # Band it was drawn from; ``None``: somebody chose it (pieces, or None).
    low = models.BigIntegerField(null=True)
    high = models.BigIntegerField(null=True)
    seed = models.BigIntegerField(null=True)  # of the draw, so that it can be made again
    mass_g = WrittenDecimal()  # what to weigh out
    # Of the event's own lot; ``None``: the catalogue's (g, or None).
    piece_mass_g = WrittenDecimal(null=True)

    def __str__(self) -> str:
        """Without the count: who pours need not know it."""
        return f"pour {self.mass_g} g of {self.material}"


class VesselRecord(models.Model):
    """A container of one's own, by its inner sizes; the catalogue has the usual ones."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="vessels")
    code = models.CharField(max_length=1000)
    name = models.CharField(max_length=1000)
    shape = models.CharField(max_length=8)
    sizes_cm = models.JSONField()  # as ``nearmark.kit.Vessel``
    tare_g = models.FloatField()

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["event", "code"], name="vessel_once")]

    def __str__(self) -> str:
        return self.name


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
