"""Jars to practise on: simulated ones, and photos of a coach's own containers."""

from django.db import models


class JarKind(models.TextChoices):
    """Where a jar comes from."""

    POURED = "poured"
    PHOTO = "photo"


class PracticeJar(models.Model):
    """One container whose count is known to the server, and to nobody else until it is answered."""

    # On cards and lists; says nothing of the count.
    code = models.CharField(max_length=8, unique=True)
    kind = models.CharField(max_length=8, choices=JarKind.choices)
    band = models.CharField(max_length=8)
    what = models.CharField(max_length=80)  # what is in it, in words
    count = models.PositiveIntegerField()  # pieces
    # As the census sees them; empty for a photo (pieces, layers).
    layer = models.PositiveIntegerField(null=True)
    layers = models.FloatField(null=True)
    fill_height_cm = models.FloatField(null=True)
    is_open = models.BooleanField(default=True)  # whether it may be practised on
    is_ahead = models.BooleanField(default=False)  # poured by the site: nobody has seen it
    checked_by = models.CharField(max_length=60, blank=True)  # who answers for the count of a photo
    made_by = models.CharField(max_length=60)
    made_at = models.DateTimeField()
    gone_at = models.DateTimeField(null=True)  # when it was taken off the shelf

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.code}: {self.what}"

    @property
    def is_photo(self) -> bool:
        """Whether there is a photo instead of a jar to turn."""
        return self.kind == JarKind.PHOTO


class JarPart(models.Model):
    """A file of a jar; a table of its own, so that lists of jars stay light."""

    jar = models.ForeignKey(PracticeJar, models.CASCADE, related_name="parts")
    name = models.CharField(max_length=8)  # jar, shell, top, side or photo
    content_type = models.CharField(max_length=40)
    content = models.BinaryField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["jar", "name"], name="one_part_of_a_jar")]

    def __str__(self) -> str:
        return f"{self.jar.code} {self.name}"


class JarSwitch(models.Model):
    """What the lead has switched on; one row at most."""

    # Whether everybody on this network may practise, without an account.
    open_to_all = models.BooleanField(default=False)

    def __str__(self) -> str:
        return "open to everybody" if self.open_to_all else "for signed-in people"
