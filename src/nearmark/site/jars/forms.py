"""The forms of the practice jars."""

from django import forms

from nearmark.coaching.jar_choice import BANDS
from nearmark.packing import SHAPES
from nearmark.site.common.forms import BaseForm, DecimalField, Pieces
from nearmark.station import Station
from nearmark.words.rules import question

ANY_SHAPE = "0"
BAND_WORDS = {name: f"{band.least:,} to {band.most:,}" for name, band in BANDS.items()}
"""How many pieces a jar of a size holds."""


class JarAnswerForm(BaseForm):
    """How many pieces, and how they were counted, if somebody wants to know why."""

    estimate = Pieces(label=question(Station.COUNT), max_length=9)
    layer = DecimalField(
        label="Pieces in one layer", required=False, max_length=9, help_text="If you counted one."
    )
    layers = DecimalField(label="Layers", required=False, max_length=9, help_text="Up the side.")


class PourForm(BaseForm):
    """Which jar to pour; the count is drawn."""

    band = forms.ChoiceField(
        label="Size", choices=[(b, f"{b}: {n}") for b, n in BAND_WORDS.items()]
    )
    shape = forms.ChoiceField(
        label="Pieces",
        choices=[
            (ANY_SHAPE, "drawn by chance"),
            *((str(k), shape.name) for k, shape in enumerate(SHAPES.values(), start=1)),
        ],
    )


class PhotoForm(BaseForm):
    """A photo of an own container with its count."""

    photo = forms.FileField(
        label="Photo", help_text="JPEG, PNG or WebP, up to 12 MB.", max_length=200
    )
    what = forms.CharField(label="What is in it", max_length=80)
    count = Pieces(label="Pieces, counted", max_length=9)
    checked_by = forms.CharField(
        label="Who answers for the count", max_length=60, help_text="Counted twice, or weighed."
    )
    no_faces = forms.BooleanField(label="No child, no face and no name is in the picture")
