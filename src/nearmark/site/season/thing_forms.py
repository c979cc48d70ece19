"""The forms of a thing to practise with: add one, correct one."""

from typing import Any, Final

from django import forms

from nearmark.coaching.true_value import agreed_volume, check_layers
from nearmark.errors import InputError
from nearmark.site.common.forms import STATION_WORDS, BaseForm, DecimalField, words
from nearmark.station import Station

TRUE_PARTS: dict[Station, tuple[str, ...]] = {
    Station.MASS: ("cup_g", "density_g_cm3"),
    Station.COUNT: ("layer_true", "layers_true"),
    Station.VOLUME: ("length_true_cm", "width_true_cm", "height_true_cm"),
}
"""What is known of a thing of each station beyond its true value."""

TRUE_UNITS: Final = {Station.MASS: "The g asked for.", Station.COUNT: "Pieces."}

MAIN: Final = ("station", "name", "size", "true", "expanded_u")
NUMBERS: Final = ("true", "expanded_u", *(n for names in TRUE_PARTS.values() for n in names))


class ThingForm(BaseForm):
    """Something to practise with."""

    station = forms.ChoiceField(
        label="Station", choices=[(s.value, words_) for s, words_ in STATION_WORDS.items()]
    )
    name = forms.CharField(label="What it is", max_length=100, help_text="Such as: jar of beans.")
    size = forms.CharField(
        label="Size class",
        max_length=40,
        required=False,
        help_text="Such as hundreds or thousands; things of one class are learnt together.",
    )
    true = DecimalField(
        label="True value",
        required=False,
        help_text="g asked for, pieces, or cm3. Of a box the three sides do.",
    )
    expanded_u = DecimalField(
        label="Give or take",
        required=False,
        help_text="In the same unit, 95 of 100 times; empty where you do not know.",
    )
    layer_true = DecimalField(label="Pieces in one layer", required=False)
    layers_true = DecimalField(label="Layers", required=False)
    length_true_cm = DecimalField(label="Length, cm", required=False)
    width_true_cm = DecimalField(label="Width, cm", required=False)
    height_true_cm = DecimalField(label="Height, cm", required=False)
    cup_g = DecimalField(label="Empty cup, g", required=False)
    density_g_cm3 = DecimalField(
        label="Bulk density, g/cm3",
        required=False,
        help_text="Net mass of a level cup by its volume.",
    )

    def clean(self) -> dict[str, Any]:
        """Parts belong to their station, come together, and agree with the true value."""
        given: dict[str, Any] = super().clean() or {}
        station = self.station_of(given)
        for each, names in TRUE_PARTS.items():
            written = [name for name in names if given.get(name) is not None]
            if not written:
                continue
            if each is not station:
                self.add_error(written[0], f"Belongs to the {each} station: empty it.")
            elif len(written) < len(names):
                lost = next(name for name in names if given.get(name) is None)
                self.add_error(lost, "Write it too, or empty the others.")
        if not self.errors:
            try:
                given["true"] = _agreed(station, given)
            except InputError as refusal:
                self.add_error("true", words(refusal))
        return given

    def station_of(self, given: dict[str, Any]) -> Station | None:
        """The station that was chosen."""
        return Station(given["station"]) if given.get("station") else None

    @property
    def values(self) -> dict[str, float | None]:
        """Column -> number or None, of the fields there are; only after ``is_valid``."""
        given = self.cleaned_data
        own = (name for name in NUMBERS if name in self.fields)
        return {name: None if given[name] is None else float(given[name]) for name in own}

    def main_fields(self) -> list[forms.BoundField]:
        """What every thing has."""
        return [self[name] for name in MAIN if name in self.fields]

    def part_groups(self) -> list[tuple[str, list[forms.BoundField]]]:
        """What may be known besides, by station."""
        return [
            (str(s), [self[name] for name in names])
            for s, names in TRUE_PARTS.items()
            if names[0] in self.fields
        ]


def _agreed(station: Station | None, given: dict[str, Any]) -> float:
    """The true value that the parts do not contradict."""
    true = None if given["true"] is None else float(given["true"])
    names = TRUE_PARTS[station] if station else ()
    parts = [float(given[name]) for name in names if given.get(name) is not None]
    if station is Station.VOLUME:
        return agreed_volume(true, parts or None)
    if true is None:
        raise InputError("is missing", mend="Write it")
    if station is Station.COUNT and parts:
        check_layers(true, *parts)
    return true


class CorrectionForm(ThingForm):
    """Other numbers for a thing that is there; only the parts of its station are asked for."""

    why = forms.CharField(
        label="Reason", max_length=200, help_text="Such as: misread, counted again."
    )

    def __init__(self, station: Station, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._station = station
        for other, names in TRUE_PARTS.items():
            if other is not station:
                for name in names:
                    del self.fields[name]
        for name in ("station", "name", "size"):
            del self.fields[name]
        if station is not Station.VOLUME:  # only of a box the sides do instead
            self.fields["true"].required = True
            self.fields["true"].help_text = TRUE_UNITS[station]

    def station_of(self, given: dict[str, Any]) -> Station:
        """The station that the thing has."""
        del given
        return self._station
