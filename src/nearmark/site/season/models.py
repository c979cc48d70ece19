"""The season: clubs, their pupils and meetings, what they practise with and estimated.

Of a child nothing is kept but a first name or a code, what was estimated, and readings of the hand.
Whatever tells of a pupil goes with the pupil.
"""

from typing import Final

from django.db import models

from nearmark.coaching import Lesson, Part, PartKind, timetable
from nearmark.site.door.models import Account
from nearmark.station import Station

_STATIONS = [(station.value, station.value) for station in Station]


class Source(models.TextChoices):
    """Where an attempt was made."""

    ROUND = "round"
    DRILL = "drill"
    JAR = "jar"
    PHOTO = "photo"
    BOX = "box"
    MOCK = "mock"
    IMPORT = "import"


class Club(models.Model):
    """Pupils who practise together; it lives over seasons and belongs to no event."""

    name = models.CharField(max_length=100, unique=True)
    # Who made it, or was given it; the lead opens it in any case (accounts).
    coaches = models.ManyToManyField(Account, related_name="clubs")
    # The last day on which the coach means to keep what is known of the pupils.
    keep_until = models.DateField()
    made_at = models.DateTimeField()

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Pupil(models.Model):
    """A child of a club, by first name or code."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="pupils")
    name = models.CharField(max_length=40)

    class Meta:
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["club", "name"], name="pupil_once")]

    def __str__(self) -> str:
        return self.name


class PracticePair(models.Model):
    """Two pupils of a club who will take part together."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="pairs")
    code = models.CharField(max_length=20)
    first = models.ForeignKey(Pupil, models.CASCADE, related_name="pairs_as_first")
    second = models.ForeignKey(Pupil, models.CASCADE, related_name="pairs_as_second")
    # Who decides today, as the pair has trained it; a station left out is not settled (mode by
    # station).
    trained = models.JSONField(default=dict)

    class Meta:
        ordering = ["code"]
        constraints = [models.UniqueConstraint(fields=["club", "code"], name="practice_pair_once")]

    def __str__(self) -> str:
        return self.code


class Parts(models.Model):
    """What is known of a thing beyond its true value; empty where it was not measured."""

    layer_true = models.FloatField(null=True)
    layers_true = models.FloatField(null=True)
    length_true_cm = models.FloatField(null=True)
    width_true_cm = models.FloatField(null=True)
    height_true_cm = models.FloatField(null=True)
    cup_g = models.FloatField(null=True)
    density_g_cm3 = models.FloatField(null=True)

    class Meta:
        abstract = True


PART_COLUMNS: Final = (
    *("layer_true", "layers_true", "length_true_cm", "width_true_cm", "height_true_cm"),
    *("cup_g", "density_g_cm3"),
)
"""The columns of ``Parts``."""


class Thing(Parts):
    """Something a club practises with."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="things")
    station = models.CharField(max_length=10, choices=_STATIONS)
    name = models.CharField(max_length=100)
    size = models.CharField(max_length=40, blank=True)
    true = models.FloatField()  # g asked for, pieces or cm3 (unit of the station)
    # U at 95 % of the true value, where it is known (unit of the station, or None).
    expanded_u = models.FloatField(null=True)
    # The item of an event whose key it is; empty: it was typed.
    key_of = models.CharField(max_length=200, blank=True)
    # Since when it is no longer offered; attempts at it stay.
    retired_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["station", "size", "name"]
        constraints = [models.UniqueConstraint(fields=["club", "name"], name="thing_once")]

    def __str__(self) -> str:
        return self.name


class ThingChange(models.Model):
    """One correction of what is known of a thing."""

    thing = models.ForeignKey(Thing, models.CASCADE, related_name="corrections")
    at = models.DateTimeField()
    by = models.CharField(max_length=60)
    # Only the columns that changed (number, or None by column).
    old = models.JSONField()
    new = models.JSONField()
    why = models.CharField(max_length=200)
    n_attempts = models.PositiveIntegerField(default=0)  # logged before and worked out again

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"{self.thing}: {self.why}"


class PracticeAttempt(Parts):
    """One estimate of one pupil; struck out with a reason, never changed."""

    # Made where it was typed: the same attempt sent twice is kept once.
    key = models.UUIDField(unique=True)
    # The pupil's, kept beside it so that a club is read at once.
    club = models.ForeignKey(Club, models.CASCADE, related_name="attempts")
    pupil = models.ForeignKey(Pupil, models.CASCADE, related_name="attempts")
    pair = models.ForeignKey(PracticePair, models.SET_NULL, null=True, related_name="attempts")
    day = models.DateField()
    at = models.DateTimeField()
    station = models.CharField(max_length=10, choices=_STATIONS)
    size = models.CharField(max_length=40, blank=True)
    thing = models.CharField(max_length=100)  # its name at that time
    estimate = models.FloatField()
    true = models.FloatField()
    layer = models.FloatField(null=True)
    layers = models.FloatField(null=True)
    length_cm = models.FloatField(null=True)
    width_cm = models.FloatField(null=True)
    height_cm = models.FloatField(null=True)
    source = models.CharField(max_length=10, choices=Source.choices)
    by = models.CharField(max_length=60)
    struck_at = models.DateTimeField(null=True)
    struck_by = models.CharField(max_length=60, blank=True)
    struck_why = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["day", "pk"]

    def __str__(self) -> str:
        return f"{self.thing}: {self.estimate:g} of {self.true:g}"


class BodyReading(models.Model):
    """One reading of a part of a pupil's hand, placed again; nothing is marked on a hand."""

    pupil = models.ForeignKey(Pupil, models.CASCADE, related_name="body_readings")
    reference = models.CharField(max_length=40)
    reading_cm = models.FloatField()
    day = models.DateField()

    class Meta:
        ordering = ["reference", "day", "pk"]

    def __str__(self) -> str:
        return f"{self.reference} {self.reading_cm:g} cm"


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
