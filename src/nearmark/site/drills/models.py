"""Drills and mock contests: what is asked, who sits where, what was answered.

A seat belongs to one pupil (or one pair of a mock contest, or a guest of a room) and to one drill;
it opens nothing else.
The code of a seat is not kept: it is worked out from the seat's token and the site's secret.
"""

import uuid
from datetime import datetime

from django.db import models
from django.db.models import Q

from nearmark.site.common.fields import WrittenDecimal
from nearmark.site.jars.models import PracticeJar
from nearmark.site.season.models import Club, Parts, PracticeAttempt, PracticePair, Pupil, Thing
from nearmark.words.room import seat_title


class DrillKind(models.TextChoices):
    """What the answers are for."""

    DRILL = "drill", "drill"
    MOCK = "mock", "mock contest"
    ROOM = "room", "together, on a screen for the room"


class Drill(models.Model):
    """One drill or mock contest of a club."""

    club = models.ForeignKey(Club, models.CASCADE, related_name="drills")
    title = models.CharField(max_length=80)
    kind = models.CharField(max_length=10, choices=DrillKind.choices)
    # Whether the parts are asked for and a calculator is on the page.
    with_calculator = models.BooleanField(default=False)
    # Whether jars are shown by pictures that the server has drawn, and not sent to be turned.
    pictures_only = models.BooleanField(default=False)
    minutes = models.PositiveSmallIntegerField(default=30)  # of a mock contest
    made_by = models.CharField(max_length=60)
    opened_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    started_at = models.DateTimeField(null=True)  # when the clock of a mock contest was started
    # Closed by the coach; after ``expires_at`` it is closed by itself.
    closed_at = models.DateTimeField(null=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.title

    @property
    def is_mock(self) -> bool:
        """Whether it goes by the clock and is scored at the end."""
        return self.kind == DrillKind.MOCK

    @property
    def is_room(self) -> bool:
        """Whether all answer one thing at a time, as the coach goes on."""
        return self.kind == DrillKind.ROOM

    def is_open(self, now: datetime) -> bool:
        """Whether seats may still come in."""
        return self.closed_at is None and now < self.expires_at


class DrillItem(Parts):
    """One thing to estimate, as it stood when the drill was opened."""

    drill = models.ForeignKey(Drill, models.CASCADE, related_name="items")
    # Of the club, on the table.
    thing = models.ForeignKey(Thing, models.SET_NULL, null=True, related_name="+")
    # Of the shelf, on the screen.
    jar = models.ForeignKey(PracticeJar, models.SET_NULL, null=True, related_name="asked")
    place = models.PositiveSmallIntegerField()
    station = models.CharField(max_length=10)
    name = models.CharField(max_length=100)
    size = models.CharField(max_length=40, blank=True)
    true = models.FloatField()

    class Meta:
        ordering = ["place"]
        constraints = [models.UniqueConstraint(fields=["drill", "place"], name="drill_item_once")]

    def __str__(self) -> str:
        return self.name


class RoomPhase(models.TextChoices):
    """What happens with the thing on a screen for the room."""

    SHOWN = "shown"
    GUESSING = "guessing"
    CLOSED = "closed"


class RoomScreen(models.Model):
    """Where a drill on a screen for the room is, and the code of its guests."""

    drill = models.OneToOneField(Drill, models.CASCADE, related_name="room")
    seconds = models.PositiveSmallIntegerField()  # to guess one thing
    with_guests = models.BooleanField()  # whether anyone in the room may join it
    # Secret of the code that guests join by, and keyed hash of that code.
    token = models.UUIDField(unique=True)
    code_hash = models.CharField(max_length=64, unique=True)
    # Number of the thing; 0: people join; past the last: over.
    place = models.PositiveSmallIntegerField(default=0)
    phase = models.CharField(max_length=10, choices=RoomPhase.choices, default=RoomPhase.SHOWN)
    phase_began_at = models.DateTimeField(null=True)
    n_revealed = models.PositiveSmallIntegerField(default=0)  # steps of the reveal

    def __str__(self) -> str:
        return f"{self.drill}: thing {self.place}, {self.phase}"


class DrillSeat(models.Model):
    """Who answers: one pupil, in a mock contest one pair, in a room perhaps a guest."""

    drill = models.ForeignKey(Drill, models.CASCADE, related_name="seats")
    pupil = models.ForeignKey(Pupil, models.CASCADE, null=True, related_name="seats")
    pair = models.ForeignKey(PracticePair, models.CASCADE, null=True, related_name="seats")
    # On a screen for the room: drawn, so that it says nothing of a name.
    number = models.PositiveSmallIntegerField(null=True)
    table = models.PositiveSmallIntegerField(null=True)  # where tables play against each other
    # Secret of the seat; with the site's secret it gives the code.
    token = models.UUIDField(default=uuid.uuid4, unique=True)
    # Keyed hash of the code, to find the seat by.
    code_hash = models.CharField(max_length=64, unique=True)
    joined_at = models.DateTimeField(null=True)  # when the code was first typed in
    handed_in_at = models.DateTimeField(null=True)  # when a mock contest's answers became final

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["drill", "number"], name="drill_number_once"),
            models.UniqueConstraint(fields=["drill", "pupil"], name="drill_pupil_once"),
            models.UniqueConstraint(fields=["drill", "pair"], name="drill_pair_once"),
            models.CheckConstraint(
                condition=Q(pupil__isnull=False, pair__isnull=True)
                | Q(pupil__isnull=True, pair__isnull=False)
                | Q(pupil__isnull=True, pair__isnull=True, number__isnull=False),
                name="drill_seat_of_one",
            ),
        ]

    def __str__(self) -> str:
        return self.called

    @property
    def called(self) -> str:
        """First name or code of who sits here; a guest by number."""
        if self.pair:
            return self.pair.code
        return self.pupil.name if self.pupil else seat_title(self.number or 0)

    def key_of(self, item: DrillItem) -> uuid.UUID:
        """The key of the one answer this seat gives to an item: sent twice, it is kept once."""
        return uuid.uuid5(self.token, str(item.pk))


class DrillAnswer(Parts):
    """One answer; a drill's is final, a mock contest's until it is handed in."""

    seat = models.ForeignKey(DrillSeat, models.CASCADE, related_name="answers")
    item = models.ForeignKey(DrillItem, models.CASCADE, related_name="answers")
    estimate = WrittenDecimal()  # number as written
    layer = models.FloatField(null=True)
    layers = models.FloatField(null=True)
    length_cm = models.FloatField(null=True)
    width_cm = models.FloatField(null=True)
    height_cm = models.FloatField(null=True)
    # Whose number a pair wrote down; ``None``: they worked it out together.
    decided_by = models.ForeignKey(Pupil, models.CASCADE, null=True, related_name="+")
    # Its place in the log; what nobody alone decided says nothing of one pupil's habit.
    attempt = models.OneToOneField(
        PracticeAttempt, models.SET_NULL, null=True, related_name="drill_answer"
    )
    at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["seat", "item"], name="drill_answer_once")]

    def __str__(self) -> str:
        return f"{self.seat_id}, {self.item_id}: {self.estimate}"
