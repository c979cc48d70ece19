"""A heat by the clock of the hall, what the plan of the heats needs, and plans not in force."""

from datetime import datetime, timedelta

from django.db import models
from django.db.models import Q

from nearmark.contest.heat_program import DivisionRule
from nearmark.contest.rules import HEAT_MINUTES
from nearmark.site.event.models import EventRecord
from nearmark.words.event_rooms import heat_in_room
from nearmark.words.heats import heat_text


class HeatRun(models.Model):
    """One start of one heat; the newest of a room is what this room sees."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="heat_runs")
    heat = models.CharField(max_length=1000)  # as it is beside the pairs
    room = models.CharField(max_length=1000, blank=True)  # empty: the event has no rooms
    started_at = models.DateTimeField()  # by ``clock.steady_now``
    minutes = models.PositiveSmallIntegerField()  # length, with what was added
    # Stopped by hand, or closed by the start of the next heat.
    stopped_at = models.DateTimeField(null=True)
    # While the clock is stopped, since when; by ``clock.steady_now``.
    paused_at = models.DateTimeField(null=True)
    paused_for = models.DurationField(default=timedelta)  # all pauses that are over, together

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["event", "room"],
                condition=Q(stopped_at=None),
                name="one_heat_at_a_time_in_a_room",
            )
        ]

    def __str__(self) -> str:
        return f"{self.called}, {self.minutes} min"

    @property
    def called(self) -> str:
        """The heat, and the room if the event has rooms."""
        return heat_in_room(heat_text(self.heat), self.room)

    @property
    def ends_at(self) -> datetime | None:
        """When its time is up; ``None`` while the clock is stopped."""
        if self.paused_at is not None and self.stopped_at is None:
            return None
        return self.started_at + self.paused_for + timedelta(minutes=self.minutes)


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
