"""Jars poured ahead, so that each club finds some whose count nobody has seen."""

from typing import Final

from django.db.models import QuerySet

from nearmark.site.jars.actions import MAX_JARS
from nearmark.site.jars.models import PracticeJar
from nearmark.site.season.models import Club

STOCK: Final = {"small": 2, "medium": 1, "large": 1}
"""Fresh jars of each size that a club finds at any time."""

KEPT_FREE: Final = 40
"""Places on the shelf that are left for what people pour themselves."""


def fresh_jars(club: Club) -> QuerySet[PracticeJar]:
    """Jars poured ahead that no drill of a club has asked; the oldest first."""
    ahead = PracticeJar.objects.filter(gone_at=None, is_ahead=True)
    return ahead.exclude(asked__drill__club=club)


def band_to_pour() -> str | None:
    """The size of which some club has too few fresh jars; ``None``: every club has enough."""
    if PracticeJar.objects.filter(gone_at=None).count() >= MAX_JARS - KEPT_FREE:
        return None
    clubs = list(Club.objects.filter(pupils__isnull=False).distinct())
    for band, n in STOCK.items():
        if any(fresh_jars(club).filter(band=band).count() < n for club in clubs):
            return band
    return None
