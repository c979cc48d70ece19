"""What tells whether anything computed before still holds."""

from django.db import models


class RevisionRow(models.Model):
    """The one row that the database itself rewrites at every change: see ``revision_triggers``.

    Each column holds a new random number, not a count: a change taken back, a table emptied or a
    database restored can never bring an old value back.

    Attributes
    ----------
    event : str
        A new number when the event, its kit, its pairs or its heats change.
    readings : str
        When a reading of a sheet or a decision between two is added or struck out.
    doors : str
        When a device or an account changes.
    """

    event = models.CharField(max_length=32)
    readings = models.CharField(max_length=32)
    doors = models.CharField(max_length=32)

    def __str__(self) -> str:
        return f"{self.event[:8]} {self.readings[:8]} {self.doors[:8]}"
