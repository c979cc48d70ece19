"""The forms of the kit room: readings at the scale, and things."""

from collections.abc import Sequence
from typing import Any, ClassVar

from django import forms
from django.core.exceptions import ValidationError

from nearmark.contest.event import SamplesFrom, Side
from nearmark.kit.box_faces import Faces
from nearmark.measurement.instruments import certified_gain_u
from nearmark.site.common.forms import STATION_WORDS, BaseForm, DecimalField, Pieces, choose
from nearmark.station import Station


class Share(DecimalField):
    """A part of a whole, written in percent and kept as a fraction."""

    def clean(self, value: Any) -> Any:
        """The fraction, or a refusal."""
        number = super().clean(value)
        if number is None:
            return None
        if number >= 100:
            raise ValidationError("Give it in percent, below 100.")
        return number / 100


class Wall(DecimalField):
    """Needed where it is taken off, and nowhere else."""

    when = "only where two walls are taken off"


class EmptyForm(BaseForm):
    """The empty container on the scale."""

    tare_g = DecimalField(label="Empty, g", zero_allowed=True)
    instrument = forms.ChoiceField(label="Scale")


class SampleForm(BaseForm):
    """A counted sample."""

    pieces = Pieces(label="Pieces counted")
    mass_g = DecimalField(label="Net mass, g", help_text="With the dish tared away.")
    instrument = forms.ChoiceField(label="Scale")


class FullForm(BaseForm):
    """The full container on the scale."""

    gross_g = DecimalField(label="Full, g")
    instrument = forms.ChoiceField(label="Scale")


class HandCountForm(BaseForm):
    """A complete count by hand."""

    pieces = Pieces(label="Pieces counted")
    counter = forms.CharField(label="Counted by", max_length=100)


class EdgeForm(BaseForm):
    """One reading of an edge."""

    side = forms.ChoiceField(label="Edge", choices=[(s.value, s.value) for s in Side])
    reading_cm = DecimalField(label="Reading, cm")
    instrument = forms.ChoiceField(label="Ruler")


class FacesForm(BaseForm):
    """Between which faces a box is read, and which volume is asked for."""

    INNER: ClassVar = "outside, less two walls"

    read = forms.ChoiceField(
        label="The ruler is held",
        widget=forms.RadioSelect,
        choices=[
            (Faces.INSIDE.value, "inside: the inner volume is asked for"),
            (Faces.OUTSIDE.value, "outside: the outer volume is asked for"),
            (INNER, "outside, but the inner volume is asked for: two walls are taken off"),
        ],
    )
    wall_cm = Wall(
        label="One wall, cm", required=False, help_text="Only where two walls are taken off."
    )

    def clean(self) -> dict[str, Any]:
        """A wall where it is taken off, and nowhere else."""
        given = super().clean() or {}
        takes_off, wall_cm = given.get("read") == self.INNER, given.get("wall_cm")
        if takes_off and wall_cm is None and "wall_cm" not in self.errors:
            self.add_error("wall_cm", "Measure one wall, with calipers if you can.")
        if not takes_off and wall_cm is not None:
            self.add_error("wall_cm", "Leave it empty, or choose that two walls are taken off.")
        return given

    def columns(self) -> dict[str, Any]:
        """The columns of the item that were stated."""
        given = self.checked()
        faces = Faces.OUTSIDE.value if given["read"] == self.INNER else given["read"]
        return {"faces": faces, "wall_cm": given["wall_cm"]}


class DecisionForm(BaseForm):
    """The lead's word on a key."""

    value = DecimalField(
        label="Another value", required=False, help_text="Empty: the measured value is used."
    )
    why = forms.CharField(label="Reason", max_length=200)
    withdraw = forms.BooleanField(label="Take the decision back", required=False)


class WhyForm(BaseForm):
    """Why something is changed."""

    why = forms.CharField(
        label="Reason", max_length=200, help_text="Shown in the history beside the old value."
    )


class ItemForm(BaseForm):
    """A thing to estimate."""

    code = forms.CharField(
        label="Code", max_length=12, help_text="On the label; must not give the key away."
    )
    name = forms.CharField(label="What it is", max_length=100)
    station = forms.ChoiceField(
        label="Station", choices=[(s.value, words_) for s, words_ in STATION_WORDS.items()]
    )
    material = forms.ChoiceField(label="Material", required=False)


class KnownForm(WhyForm):
    """What is known of an item beside its readings."""

    OF_STATION: ClassVar = {
        Station.MASS: ("name", "material"),
        Station.COUNT: ("name", "material", "samples_from", "mixing_u"),
        Station.VOLUME: ("name", "faces", "wall_cm", "bulge_cm"),
    }
    field_order = (*OF_STATION[Station.COUNT], *OF_STATION[Station.VOLUME][1:], "divisions", "why")

    name = forms.CharField(label="What it is", max_length=100)
    material = forms.ChoiceField(label="Material", required=False)
    samples_from = forms.ChoiceField(
        label="Counted samples come from",
        required=False,
        choices=[
            ("", "the lot, before filling (usual)"),
            (SamplesFrom.LOT.value, "the lot, before filling"),
            (SamplesFrom.CONTAINER.value, "the container itself"),
        ],
    )
    mixing_u = Share(
        label="Samples from the top only? Allow, %",
        required=False,
        zero_allowed=True,
        help_text="Small pieces sink. 0: from all depths; 2: from the top; empty: not stated.",
    )
    faces = forms.ChoiceField(
        label="Edges are read",
        required=False,
        choices=[("", "not stated"), *((f.value, f.value) for f in Faces)],
    )
    wall_cm = DecimalField(
        label="One wall, cm",
        required=False,
        help_text="Only if read outside while the inner volume is asked for.",
    )
    bulge_cm = DecimalField(
        label="Faces bulge by, cm", required=False, help_text="How far a side may be off."
    )
    divisions = forms.MultipleChoiceField(
        label="Only these divisions estimate it",
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="None chosen: every pair.",
    )

    def __init__(
        self, *args: Any, station: str = "", divisions: Sequence[str] = (), **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        choose(self, "divisions", [(name, name) for name in divisions])
        if not divisions:
            del self.fields["divisions"]
        if station:
            kept = (*self.OF_STATION[Station(station)], "divisions", "why")
            self.fields = {name: self.fields[name] for name in self.fields if name in kept}


def known_of(row: Any) -> dict[str, Any]:
    """What is known of an item beside its readings, as the form shows it."""
    names = [name for name in KnownForm.field_order if name not in {"mixing_u", "why"}]
    share = "" if row.mixing_u is None else f"{(100 * row.mixing_u).normalize():f}"
    return {name: getattr(row, name) for name in names} | {"mixing_u": share}


class ScaleForm(WhyForm):
    """A scale or a ruler as its data sheet describes it."""

    field_order = (
        *("name", "unit", "resolution", "capacity"),
        *("certificate_u", "certificate_k", "certificate_at"),
        *("gain_u", "linearity_u", "zero_u", "why"),
    )

    name = forms.CharField(label="Name", max_length=100, help_text="What is written on it.")
    unit = forms.ChoiceField(
        label="Kind", choices=[("g", "scale, reads g"), ("cm", "ruler, reads cm")]
    )
    resolution = DecimalField(label="Smallest step", help_text="Such as 0.1.")
    capacity = DecimalField(
        label="Largest reading", required=False, help_text="Printed on it as max; empty: unknown."
    )
    certificate_u = DecimalField(
        label="U of its certificate, in its unit",
        required=False,
        help_text="Only if a calibration certificate is at hand.",
    )
    certificate_k = DecimalField(label="k beside U", required=False, help_text="Empty: 2.")
    certificate_at = DecimalField(
        label="U is stated for a reading of",
        required=False,
        help_text="The load or length, in its unit.",
    )
    gain_u = Share(
        label="Or: calibration, % of the reading",
        required=False,
        zero_allowed=True,
        help_text="Standard uncertainty; 0.02 if a check mass of 1000 g shows within 0.2 g.",
    )
    linearity_u = DecimalField(
        label="Linearity, in its unit",
        required=False,
        zero_allowed=True,
        help_text="Standard uncertainty that differs from reading to reading; empty: none stated.",
    )
    zero_u = DecimalField(
        label="Zero, in its unit",
        required=False,
        zero_allowed=True,
        help_text="Standard uncertainty of where it begins: 0.05 for the worn end of a ruler. "
        "0 if you read from the 10 cm mark.",
    )

    def clean(self) -> dict[str, Any]:
        """The calibration as the certificate states it, where there is one."""
        values = super().clean() or {}
        stated = [values.pop(f"certificate_{name}", None) for name in ("u", "k", "at")]
        u, k, at = stated
        if u and at:
            values["gain_u"] = certified_gain_u(float(u), float(k or 2), float(at))
        elif any(stated):
            missing = "certificate_at" if u else "certificate_u"
            self.add_error(missing, "Is needed beside the other figures of the certificate.")
        return values


class CupForm(WhyForm):
    """A numbered cup."""

    field_order = ("number", "tare_g", "instrument", "batch", "why")

    number = forms.CharField(label="Number on the cup", max_length=20)
    tare_g = DecimalField(label="Empty, g")
    instrument = forms.ChoiceField(label="Scale")
    batch = forms.CharField(
        label="Batch", max_length=40, required=False, help_text="Same make and size; may be empty."
    )


class MaterialForm(WhyForm):
    """A material as used at this event."""

    field_order = ("code", "name", "piece_cv", "moisture_u", "cautions", "why")

    code = forms.CharField(label="Code", max_length=40, help_text="Such as dried-maize.")
    name = forms.CharField(label="Name", max_length=100)
    piece_cv = Share(
        label="Pieces differ by, %",
        required=False,
        help_text="Standard deviation of single pieces, if you know it; empty: the samples tell.",
    )
    moisture_u = Share(
        label="Moisture and dust, %",
        required=False,
        zero_allowed=True,
        help_text="Allowance between sampling and filling; 0.1 is usual for rice.",
    )
    cautions = forms.CharField(
        label="Cautions, one a line",
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
