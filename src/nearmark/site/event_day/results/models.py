"""What came out and was put right, sheets read again, and what a release fixes to be checked."""

from django.db import models

from nearmark.site.event.models import EventRecord, ItemRecord, PairRecord


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


class AuditDraw(models.Model):
    """One draw by dice; a later one is beside it, with the reason."""

    event = models.ForeignKey(EventRecord, models.CASCADE, related_name="audits")
    rolls = models.CharField(max_length=40)  # the digits of the dice, as typed
    # Codes of the sheets to read, kept as drawn: a correction must not draw others.
    targeted = models.JSONField(default=list)
    sample = models.JSONField(default=list)
    # Codes that would have been named but for the number of sheets asked for.
    left_out = models.JSONField(default=list)
    n_others = models.PositiveIntegerField(default=0)
    words = models.JSONField(default=list)
    why = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField()
    by = models.CharField(max_length=60)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"audit by {self.rolls}"


class AuditCheck(models.Model):
    """One sheet read again; the newest of a sheet holds."""

    draw = models.ForeignKey(AuditDraw, models.CASCADE, related_name="checks")
    pair = models.ForeignKey(PairRecord, models.PROTECT, related_name="audit_checks")
    # The first that differs from what counted then; ``None``: everything agrees.
    item = models.ForeignKey(ItemRecord, models.PROTECT, null=True, related_name="audit_checks")
    # What the paper shows there, as typed; every answer of it is an ``AuditEntry``.
    shows = models.CharField(max_length=60, blank=True)
    at = models.DateTimeField()
    by = models.CharField(max_length=60)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.pair.code}: {'differs' if self.item_id else 'agrees'}"


class ReleaseProof(models.Model):
    """The proof of one release."""

    release = models.OneToOneField(Release, models.CASCADE, related_name="proof")
    record = models.JSONField()  # as ``contest.proof.release.ReleaseRecord.as_plain`` gives it
    head = models.CharField(max_length=64)  # its hash, printed with the standings
    # The released event folder without names, as a zip: what everybody may check.
    folder = models.BinaryField()
    # Hexadecimal digits; the second is the same for all releases of an event.
    leaf_salt = models.CharField(max_length=64)
    people_salt = models.CharField(max_length=64)

    def __str__(self) -> str:
        return self.head
