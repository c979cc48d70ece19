"""Meetings of a club: who was here, and who goes to which thing in which slot."""

from django.db import models

from nearmark.coaching import Lesson, Part, PartKind, timetable
from nearmark.site.season.models import Club, Pupil, Thing


class Meeting(models.Model):
    """A planned meeting."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="meetings")
    pupils = models.ManyToManyField(Pupil, related_name="meetings")
    day = models.DateField()
    made_at = models.DateTimeField()
    minutes = models.PositiveSmallIntegerField()
    scales = models.PositiveSmallIntegerField()
    calculators = models.PositiveSmallIntegerField(null=True)
    # Still to be taught when it was planned; as many as fit are.
    lessons = models.JSONField(default=list)
    warm_up = models.CharField(max_length=10)  # station to warm up for
    # Number of the part that runs, from 0; ``None``: not begun; past the last: over.
    part = models.PositiveSmallIntegerField(null=True)
    part_began_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.minutes} minutes on {self.day}"

    def parts(self) -> tuple[Part, ...]:
        """The parts by the minute."""
        return timetable(self.minutes, [Lesson(lesson) for lesson in self.lessons])

    @property
    def n_lessons_held(self) -> int:
        """Lessons that were begun."""
        n = sum(part.kind is PartKind.LESSON for part in self.parts())
        return min(n, self.part or 0)

    @property
    def is_over(self) -> bool:
        """Whether the last part is past."""
        return self.part is not None and self.part >= len(self.parts())


class MeetingPlace(models.Model):
    """Where one pupil is in one slot."""

    meeting = models.ForeignKey(Meeting, models.CASCADE, related_name="places")
    pupil = models.ForeignKey(Pupil, models.CASCADE, related_name="meeting_places")
    # ``None``: rests.
    thing = models.ForeignKey(Thing, models.CASCADE, null=True, related_name="meeting_places")
    slot = models.PositiveSmallIntegerField()  # from 0
    key = models.UUIDField(unique=True)  # under which the attempt is kept

    class Meta:
        ordering = ["slot", "pupil__name"]
        constraints = [
            models.UniqueConstraint(fields=["meeting", "pupil", "slot"], name="place_once")
        ]

    def __str__(self) -> str:
        return f"slot {self.slot + 1}: {self.thing or 'rests'}"
