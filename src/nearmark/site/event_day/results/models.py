"""What came out, each time it came out, and what was put right in between."""

from django.db import models

from nearmark.site.event.models import EventRecord


class Release(models.Model):
    """The standings as everybody could see them; never changed, never taken away."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="releases")
    number = models.PositiveIntegerField()  # counted from 1 within the event
    at = models.DateTimeField()
    by = models.CharField(max_length=60)
    # As ``contest.place_changes.Standing.as_json`` gives them: codes and schools, no names.
    standings = models.JSONField(default=list)
    highest_total = models.CharField(max_length=60)  # exact, a fraction
    decimals = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["event", "number"], name="release_numbered_once")
        ]

    def __str__(self) -> str:
        return f"release {self.number}"


class CorrectionRecord(models.Model):
    """What was put right after a release; shown to everybody without the name of who did it."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="corrections")
    # The first one that holds it.
    release = models.ForeignKey(Release, models.CASCADE, related_name="corrections")
    what = models.CharField(max_length=200)  # such as ``P07, C2``, or ``the key of C2``
    old = models.CharField(max_length=300, blank=True)
    new = models.CharField(max_length=300, blank=True)
    why = models.CharField(max_length=200)
    moved = models.JSONField(default=list)  # what it changed, in words
    at = models.DateTimeField()
    by = models.CharField(max_length=60)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.what
