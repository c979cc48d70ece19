"""Long work: what was asked for, how far it is, what came of it."""

from django.db import models

from nearmark.site.event.models import EventRecord


class JobState(models.TextChoices):
    """How far a job is."""

    WAITING = "waiting"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    CANCELLED = "cancelled"
    INTERRUPTED = "interrupted"


class Job(models.Model):
    """One piece of long work."""

    # ``None``: it was asked for while there was no event.
    event = models.ForeignKey(EventRecord, models.CASCADE, null=True, related_name="jobs")
    kind = models.CharField(max_length=40)
    size = models.BigIntegerField(default=0)
    state = models.CharField(max_length=12, default=JobState.WAITING, choices=JobState.choices)
    asked_by = models.CharField(max_length=60)
    asked_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True)
    # How far it is.
    n_done = models.BigIntegerField(default=0)
    n_all = models.BigIntegerField(default=0)
    told = models.TextField(blank=True)  # the result in words, or why there is none
    cancel_asked = models.BooleanField(default=False)  # looked at after every step

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"{self.kind}: {self.state}"

    @property
    def is_done(self) -> bool:
        """Whether its result is there."""
        return self.state == JobState.DONE

    @property
    def is_open(self) -> bool:
        """Whether something will still happen by itself."""
        return self.state in {JobState.WAITING, JobState.RUNNING}


class JobFile(models.Model):
    """The file a job made; a table of its own, so that lists of jobs stay light."""

    job = models.OneToOneField(Job, models.CASCADE, related_name="file")
    name = models.CharField(max_length=80)
    content_type = models.CharField(max_length=80)
    content = models.BinaryField()

    def __str__(self) -> str:
        return self.name
