"""What the plan of the heats needs, and the plans that are not in force."""

from django.db import models

from nearmark.contest.heat_program import DivisionRule
from nearmark.contest.rules import HEAT_MINUTES
from nearmark.site.event.models import EventRecord


class HeatDay(models.Model):
    """What the day offers to the plan of the heats; an event without a row has the usual."""

    event = models.OneToOneField(EventRecord, models.CASCADE, related_name="heat_day")
    first_start = models.TimeField(null=True)  # of heat 1; ``None``: not known
    minutes = models.PositiveSmallIntegerField(default=HEAT_MINUTES)  # length of a heat
    interval_minutes = models.PositiveSmallIntegerField(null=True)  # ``None``: the length
    max_heats = models.PositiveSmallIntegerField(null=True)  # ``None``: as many as it takes
    divisions = models.CharField(max_length=12, default=DivisionRule.MIXED.value)

    def __str__(self) -> str:
        return f"day of {self.event}"


class HeatDraft(models.Model):
    """A plan that is not in force: one to look at before it is saved, or the one before."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="heat_drafts")
    is_old = models.BooleanField(default=False)  # whether it was in force and can be taken back
    made_at = models.DateTimeField()
    made_by = models.CharField(max_length=60)
    # Code -> [heat, room] as they are beside the pairs.
    places = models.JSONField()
    # Of the pairs when it was made, so that it is not saved over what was changed since.
    pairs_then = models.JSONField()
    # Aim, value and bound of each aim; empty: it was made at once.
    levels = models.JSONField(default=list)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"{'old plan' if self.is_old else 'draft'} of {self.event}"
