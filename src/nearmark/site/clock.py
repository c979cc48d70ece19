"""The one place where the site asks the time; tests set it."""

from datetime import datetime

from django.utils import timezone


def now() -> datetime:
    """The present, with its time zone (UTC)."""
    return timezone.now()
