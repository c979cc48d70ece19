"""A heat by the clock of the hall."""

from datetime import datetime, timedelta

from django.db import models
from django.db.models import Q

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
