"""Which jars of the shelf a drill asks: chosen by hand, drawn by chance, or poured ahead."""

from collections.abc import Collection, Mapping
from typing import Any, Final

import numpy as np
from django.db.models import Count, Q, QuerySet

from nearmark.errors import InputError
from nearmark.packing import grade_of
from nearmark.site.jars.actions import MAX_JARS
from nearmark.site.jars.models import PracticeJar
from nearmark.site.season.models import Club
from nearmark.station import Station

ANY_GRADE: Final = ""


def shelf() -> QuerySet[PracticeJar]:
    """All that may be asked, those kept back from free practice too: few have seen them."""
    return PracticeJar.objects.filter(gone_at=None)


def grade_words(jar: PracticeJar) -> str:
    """Easy, medium or hard, as far as the layers of a jar are known; empty for a photo."""
    if jar.layer is None or jar.layers is None:
        return ""
    return grade_of(jar.layer * jar.layers, jar.count)


def draw_jars(
    club: Club,
    wanted: Mapping[str, int],
    *,
    grade: str = ANY_GRADE,
    but: Collection[int] = (),
    rng: np.random.Generator,
) -> list[PracticeJar]:
    """Draw open jars and those poured ahead; those the club was asked least often come first.

    ``wanted``: jars by band. ``grade``: easy, medium, hard or ANY_GRADE. ``but`` (numbers of jars):
    chosen by hand already. ``rng`` (numpy Generator): the only source of chance. Returns: small
    ones first. Raises InputError if the shelf has fewer.
    """
    drawn: list[PracticeJar] = []
    for band, n in wanted.items():
        asked = Count("asked", filter=Q(asked__drill__club=club))
        may_ask = Q(is_open=True) | Q(is_ahead=True)
        open_jars = shelf().filter(may_ask, band=band).exclude(pk__in=but)
        found = [
            jar
            for jar in open_jars.annotate(n_asked=asked)
            if grade == ANY_GRADE or grade_words(jar) == grade
        ]
        if len(found) < n:
            kind = " ".join(filter(None, (grade, band)))
            raise InputError(
                f"open {kind} jars left on the shelf: {len(found)}",
                where=f"{band} jars by chance",
                value=n,
                mend="Draw fewer, or put more on the shelf",
            )
        by_chance = [found[k] for k in rng.permutation(len(found))]
        # Of those never asked, the ones nobody could look at.
        drawn += sorted(by_chance, key=lambda jar: (jar.n_asked, not jar.is_ahead))[:n]
    return drawn


def item_columns(jar: PracticeJar) -> dict[str, Any]:
    """A jar as it is when a drill is opened."""
    return {
        "jar": jar,
        "station": Station.COUNT.value,
        "name": f"{jar.code}: {jar.what}",
        "size": jar.band,
        "true": jar.count,
        "layer_true": jar.layer,
        "layers_true": jar.layers,
    }


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
