"""What tells whether anything computed before still holds."""

from django.db import models


class RevisionRow(models.Model):
    """The one row that the database itself rewrites at every change: see ``revision_triggers``.

    Each column holds a new random number, not a count: a change taken back, a table emptied or a
    database restored can never bring an old value back.
    """

    # A new number when the event, its kit, its pairs or its heats change.
    event = models.CharField(max_length=32)
    # When a reading of a sheet or a decision between two is added or struck out.
    readings = models.CharField(max_length=32)
    doors = models.CharField(max_length=32)  # when a device or an account changes

    def __str__(self) -> str:
        return f"{self.event[:8]} {self.readings[:8]} {self.doors[:8]}"
