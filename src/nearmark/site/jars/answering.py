"""One estimate of a practice jar, scored; nothing is kept."""

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from functools import lru_cache
from typing import Final

from django.utils.translation import gettext as _

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.charts.jar_layers import peel
from nearmark.coaching.jar_reading import KnownJar, checked_estimate
from nearmark.contest.scoring import percent_accuracy
from nearmark.site.jars.actions import MAX_JARS, known_jar, pass_for, settled_jar
from nearmark.site.jars.models import PracticeJar
from nearmark.words.coaching_jars import jar_words, vessel_words
from nearmark.words.deviations import error_words
from nearmark.words.feedback_page import own_mark
from nearmark.words.translation import language_in_force

STRIP_PX: Final = 320
"""Beside the jar: its words stay readable."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of one estimate of a jar."""

    jar: PracticeJar
    estimate: int  # pieces
    points: Fraction  # exact, 0 to 100
    off: str  # how far off, in words
    strip: str  # SVG
    words: str  # what would have helped, or what surface times layers gives
    vessel: str  # what poured jars of this kind ask to leave out of a layer; empty for a photo
    # What one layer times the layers would have given, as the census sees them (pieces or None).
    product: float | None
    layer_counts: tuple[int, ...]  # from the top; empty for a photo (pieces, one a layer)
    whole_pass: str  # opens the whole jar; empty for a photo


def answer_jar(
    jar_id: int, estimate: int, layer: float | None = None, layers: float | None = None
) -> Outcome:
    """Score one estimate of pieces, with the pieces in one layer and the layers if counted."""
    jar = known_jar(jar_id)
    checked_estimate(estimate, layer, layers)
    ratio = estimate / jar.count
    mark = Mark(ratio, own_mark(), MarkKind.THIS)
    key = KnownJar(jar.count, jar.layer, jar.layers)
    counts = () if jar.is_photo else layer_counts(jar)
    return Outcome(
        jar=jar,
        estimate=estimate,
        points=percent_accuracy(estimate, jar.count),
        off=error_words(ratio),
        strip=strip_svg([mark], width_px=STRIP_PX, title=_("Your estimate against the count")),
        words=jar_words(key, estimate, layer, layers),
        vessel="" if jar.is_photo else _vessel_words(jar.pk, jar.made_at, language_in_force().code),
        product=None if jar.layer is None or jar.layers is None else jar.layer * jar.layers,
        layer_counts=counts,
        whole_pass="" if jar.is_photo else pass_for(jar, "whole"),
    )


@lru_cache(maxsize=MAX_JARS)
def _vessel_words(jar_id: int, made_at: datetime, _language: str) -> str:
    """What poured jars of the same shape and vessel ask for; kept once a language."""
    request = settled_jar(PracticeJar.objects.get(pk=jar_id, made_at=made_at)).request
    return vessel_words(request.shape.code, request.vessel.form)


def layer_counts(jar: PracticeJar) -> tuple[int, ...]:
    """Pieces of each layer of a poured jar, from the top."""
    return _layer_counts(jar.pk, jar.made_at)


@lru_cache(maxsize=MAX_JARS)
def _layer_counts(jar_id: int, made_at: datetime) -> tuple[int, ...]:
    """What each layer holds: the same for everybody who answers, and slow for some shapes."""
    jar = PracticeJar.objects.get(pk=jar_id, made_at=made_at)
    return peel(settled_jar(jar), jar.layers or 1.0).counts
