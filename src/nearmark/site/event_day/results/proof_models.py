"""What a release fixes so that anybody can check it."""

from django.db import models

from nearmark.site.event_day.results.models import Release


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
