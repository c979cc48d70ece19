"""An event, what it is made of as in ``nearmark.contest.event``, and the history of its changes."""

from django.db import models

from nearmark.contest.heat_records import TAKES_PART
from nearmark.contest.rules import PLACES
from nearmark.site.common.fields import WrittenDecimal


class EventRecord(models.Model):
    """One event; the one that was opened last is the one the site works on."""

    name = models.CharField(max_length=1000)
    day = models.DateField()
    venue = models.CharField(max_length=1000, blank=True)
    seed = models.BigIntegerField(default=0)
    rules_toml = models.TextField()  # the rule set in full, as in an event folder
    # While set, standings are public and nothing of the event can be changed.
    released_at = models.DateTimeField(null=True)
    released_by = models.CharField(max_length=60, blank=True)
    # Whether the public page shows children's names beside the codes.
    shows_names = models.BooleanField(default=False)
    heat_places = models.PositiveSmallIntegerField(default=PLACES)  # pairs per heat
    # Whether everybody may open the page of a pair by its code.
    shows_feedback = models.BooleanField(default=False)
    # The last place on the public page, shared ones whole; ``None``: all places.
    public_places = models.PositiveSmallIntegerField(null=True)
    opened_at = models.DateTimeField(null=True)  # when it was opened last
    is_practice = models.BooleanField(default=False)  # to try things: nothing of it counts

    def __str__(self) -> str:
        return self.name


class RuleSetRecord(models.Model):
    """One version of a rule set made here; never changed, so that a result can name it."""

    name = models.CharField(max_length=200)
    version = models.PositiveIntegerField()
    rules_toml = models.TextField()  # the rule set in full, as in an event folder
    made_at = models.DateTimeField()
    made_by = models.CharField(max_length=60)

    class Meta:
        ordering = ["name", "version"]
        constraints = [
            models.UniqueConstraint(fields=["name", "version"], name="rule_set_version_once")
        ]

    def __str__(self) -> str:
        return f"{self.name}, version {self.version}"


class InstrumentRecord(models.Model):
    """A scale or a ruler."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="instruments")
    name = models.CharField(max_length=1000)
    unit = models.CharField(max_length=2)
    resolution = models.FloatField()
    gain_u = models.FloatField(default=0.0)
    linearity_u = models.FloatField(default=0.0)
    zero_u = models.FloatField(default=0.0)
    capacity = models.FloatField(null=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["event", "name"], name="instrument_named_once")
        ]

    def __str__(self) -> str:
        return self.name


class MaterialRecord(models.Model):
    """A dry material as used at this event."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="materials")
    code = models.CharField(max_length=1000)
    name = models.CharField(max_length=1000)
    piece_cv = WrittenDecimal(null=True)
    moisture_u = WrittenDecimal(default="0")
    cautions = models.JSONField(default=list)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["event", "code"], name="material_once")]

    def __str__(self) -> str:
        return self.name


class DivisionRecord(models.Model):
    """Pairs ranked among themselves."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="divisions")
    name = models.CharField(max_length=1000)
    awarded_places = models.PositiveSmallIntegerField(default=3)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["event", "name"], name="division_once")]

    def __str__(self) -> str:
        return self.name


class RoomRecord(models.Model):
    """A room with places and a clock of its own."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="rooms")
    name = models.CharField(max_length=1000)
    places = models.PositiveSmallIntegerField()
    accessible_places = models.PositiveSmallIntegerField(null=True)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["event", "name"], name="room_once")]

    def __str__(self) -> str:
        return self.name


class HeatWishRecord(models.Model):
    """What a pair or a school asks of the plan of the heats."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="heat_wishes")
    who = models.CharField(max_length=1000)
    earliest = models.TimeField(null=True)
    latest = models.TimeField(null=True)
    heat = models.PositiveSmallIntegerField(null=True)
    room = models.CharField(max_length=1000, blank=True)
    together = models.CharField(max_length=1000, blank=True)
    apart = models.CharField(max_length=1000, blank=True)
    needs_accessible = models.BooleanField(default=False)
    coach = models.CharField(max_length=1000, blank=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.who


class ItemRecord(models.Model):
    """One thing to estimate."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="items")
    code = models.CharField(max_length=1000)
    station = models.CharField(max_length=10)
    name = models.CharField(max_length=1000)
    material = models.CharField(max_length=1000, blank=True)
    weight = WrittenDecimal(null=True)
    samples_from = models.CharField(max_length=9, blank=True, default="")
    faces = models.CharField(max_length=7, blank=True, default="")
    wall_cm = WrittenDecimal(null=True)
    bulge_cm = WrittenDecimal(null=True)
    mixing_u = WrittenDecimal(null=True)
    divisions = models.JSONField(default=list)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["event", "code"], name="item_once")]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"


class CupRecord(models.Model):
    """A numbered cup with its tare."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="cups")
    number = models.CharField(max_length=1000)
    tare_g = WrittenDecimal()
    instrument = models.CharField(max_length=1000)
    batch = models.CharField(max_length=1000, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["event", "number"], name="cup_once")]

    def __str__(self) -> str:
        return f"cup {self.number}"


class PairRecord(models.Model):
    """Two children, or one alone, under one code."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="pairs")
    code = models.CharField(max_length=1000)
    school = models.CharField(max_length=1000)
    members = models.JSONField(default=list)
    status = models.CharField(max_length=10, default="entered")
    heat = models.CharField(max_length=1000, blank=True)
    room = models.CharField(max_length=1000, blank=True)
    division = models.CharField(max_length=1000, blank=True)
    arrived_at = models.DateTimeField(null=True)  # when somebody at the desk saw them

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["event", "code"], name="pair_once")]

    def __str__(self) -> str:
        return self.code

    @property
    def takes_part(self) -> bool:
        """Whether it is entered, or a guest."""
        return self.status in TAKES_PART


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
