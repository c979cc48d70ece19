"""What is asked about a day before it happens: each number with its unit and a usual value."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import time
from typing import Any, Final

from django import forms
from django.core.exceptions import ValidationError
from django.forms.boundfield import BoundField

from nearmark.contest.day_flow.day import MAX_PAIRS, MAX_ROOMS, Late
from nearmark.contest.day_flow.options import MAX_ITEMS, DayOptions
from nearmark.contest.day_flow.room import MAX_AT_ONCE, Break, Choice, Overrun
from nearmark.contest.day_flow.times import Minutes
from nearmark.contest.event import Room
from nearmark.errors import InputError, NearmarkError
from nearmark.site.common.forms import BaseForm, words

_USUAL: Final = DayOptions()

FIRST_START: Final = time(9)

CHOICES: Final = {
    "shortest": (Choice.SHORTEST, "to the shortest queue"),
    "printed": (Choice.ORDER, "in the printed order"),
    "any": (Choice.RANDOM, "in any order"),
    "habit": (Choice.HABIT, "by habit: own station first"),
}
OVERRUNS: Final = {
    "undone": (Overrun.UNDONE, "it stops: the rest is left undone"),
    "later": (Overrun.LATER, "it goes on: the next heat waits"),
}
RETURNED: Final = {"back": "back into the bucket", "kept": "stays in its cup"}
TIMES: Final = ("arrive", "scoop", "weigh", "put_back", "count", "measure")


class MinutesField(forms.CharField):
    """Three times in minutes: the shortest, the usual, the longest."""

    def __init__(self, label: str, usual: Minutes) -> None:
        self.usual = usual
        text = f"{usual.low:g} - {usual.usual:g} - {usual.high:g}"
        super().__init__(label=label, initial=text, max_length=40, required=False)

    def clean(self, value: Any) -> Any:
        """The spread; an empty field is the usual one."""
        text = super().clean(value)
        if not text:
            return self.usual
        try:
            low, usual, high = (float(part.replace(",", ".")) for part in text.split("-"))
            return Minutes(low, usual, high)
        except ValueError as error:
            raise ValidationError("Write three numbers, such as 2 - 3 - 5.") from error
        except InputError as refusal:
            raise ValidationError(words(refusal)) from refusal


def _whole(label: str, low: int, high: int, usual: int, help_text: str = "") -> forms.IntegerField:
    field = forms.IntegerField(
        label=label, min_value=low, max_value=high, initial=usual, help_text=help_text
    )
    field.widget.attrs["class"] = "number"
    return field


def _slider(
    label: str, low: int, high: int, usual: int, help_text: str = "", *, slides_to: int = 0
) -> forms.IntegerField:
    """A number with a slider beside it, which may end before the number does."""
    field = _whole(label, low, high, usual, help_text)
    field.widget.attrs |= {"data-slider": "", "data-slides-to": slides_to or high}
    return field


class DayPlanForm(BaseForm):
    """What a day is planned with."""

    pairs = _slider("Pairs", 1, MAX_PAIRS, _USUAL.pairs, slides_to=200)
    rooms = _slider("Rooms", 1, MAX_ROOMS, 1, "The pairs are shared out.")
    places = _slider(
        "Places in a room", 1, MAX_AT_ONCE, _USUAL.places, "Pairs in a heat.", slides_to=30
    )
    minutes = _slider("Minutes of a heat", 1, 120, int(_USUAL.minutes), slides_to=60)
    gap = _slider("Minutes between heats", -60, 60, 0, "Below 0: heats overlap.", slides_to=30)
    scales = _slider("Scales in a room", 1, MAX_AT_ONCE, 1, "Each needs a helper.", slides_to=6)
    helpers = _slider(
        "Helpers at the scales of a room",
        1,
        MAX_AT_ONCE,
        1,
        "Each weighs a cup and puts it away.",
        slides_to=6,
    )
    at_container = _slider(
        "Pairs at one container", 1, MAX_AT_ONCE, 2, "2 for each copy is usual.", slides_to=10
    )
    at_box = _slider("Pairs at one box", 1, MAX_AT_ONCE, 2, "2 for each copy.", slides_to=10)
    late_pairs = _slider(
        "Pairs that come late", 0, MAX_AT_ONCE, 0, "A late school; 0: none.", slides_to=12
    )
    late_minutes = _slider("Minutes they are late", 0, 120, 10, slides_to=40)
    late_heat = _whole("Heat they belong to", 1, 99, 1, "In the first room.")
    break_minutes = _slider(
        "Minutes one helper is away", 0, 240, 0, "A break; 0: none.", slides_to=60
    )
    break_start = _whole("Break begins after, minutes", 0, 1000, 60, "After the first start.")
    containers = _whole("Containers to count", 0, MAX_ITEMS, _USUAL.containers)
    boxes = _whole("Boxes to measure", 0, MAX_ITEMS, _USUAL.boxes)
    start = forms.TimeField(
        label="First start",
        initial=FIRST_START,
        widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
    )
    choice = forms.ChoiceField(
        label="Pairs go", choices=[(key, text) for key, (_, text) in CHOICES.items()]
    )
    overrun = forms.ChoiceField(
        label="A pair that is not ready",
        choices=[(key, text) for key, (_, text) in OVERRUNS.items()],
    )
    returned = forms.ChoiceField(label="A scoop goes", choices=list(RETURNED.items()))
    arrive = MinutesField("After the start of its heat", _USUAL.arrive)
    scoop = MinutesField("At a place", _USUAL.scoop)
    weigh = MinutesField("On the scale", _USUAL.weigh)
    put_back = MinutesField("A helper puts a cup away", _USUAL.put_back)
    count = MinutesField("At a container", _USUAL.count)
    measure = MinutesField("At a box", _USUAL.measure)

    def __init__(
        self, asked: Mapping[str, str], usual: Mapping[str, Any], rooms: Sequence[Room] = ()
    ) -> None:
        """``asked``: from the address; ``usual``: where it says nothing.

        ``rooms``: of the event.
        """
        shown = {name: field.initial for name, field in self.base_fields.items()} | dict(usual)
        shown |= {"choice": "shortest", "overrun": "undone", "returned": "back"}
        shown |= {name: asked[name] for name in self.base_fields if name in asked}
        clock = {name: f"{at:%H:%M}" for name, at in shown.items() if isinstance(at, time)}
        super().__init__({name: str(value) for name, value in shown.items()} | clock)
        self.event_rooms = tuple(rooms)
        if self.event_rooms:
            for name in ("rooms", "places"):
                del self.fields[name]
        self.options: DayOptions | None = None

    def clean(self) -> dict[str, Any]:
        """The numbers, and the day that they make."""
        given = super().clean() or {}
        if not self.errors and given["minutes"] + given["gap"] < 1:
            least = 1 - given["minutes"]
            self.add_error("gap", f"Must be {least} or more: a heat begins after the last one.")
        if not self.errors:
            try:
                self.options = self._options(given)
                self.options.planned()
            except NearmarkError as refusal:
                self.options = None
                field = "late_pairs" if refusal.where == "late pairs" else None
                self.add_error(field, words(refusal))
        return given

    def _options(self, given: Mapping[str, Any]) -> DayOptions:
        late = (Late(given["late_heat"], given["late_pairs"], given["late_minutes"]),)
        away = given["break_minutes"]
        start = given["break_start"]
        return DayOptions(
            **{name: given[name] for name in ("pairs", "scales", "helpers", *TIMES)},
            **self._room_options(given),
            containers=given["containers"],
            boxes=given["boxes"],
            at_container=given["at_container"],
            at_box=given["at_box"],
            minutes=float(given["minutes"]),
            interval_min=float(given["minutes"] + given["gap"]),
            choice=CHOICES[given["choice"]][0],
            overrun=OVERRUNS[given["overrun"]][0],
            is_returned=given["returned"] == "back",
            late=late if given["late_pairs"] else (),
            breaks=(Break(start, start + away),) if away else (),
        )

    def _room_options(self, given: Mapping[str, Any]) -> dict[str, Any]:
        if self.event_rooms:
            return {
                "rooms": len(self.event_rooms),
                "places_of_rooms": tuple(room.places for room in self.event_rooms),
                "names_of_rooms": tuple(room.name for room in self.event_rooms),
            }
        return {"rooms": given["rooms"], "places": given["places"]}

    @property
    def sliders(self) -> Iterable[BoundField]:
        """The cheap questions, shown at once."""
        first = ("pairs", "rooms", "places", "minutes", "gap", "scales", "helpers")
        return self._shown(*first, "at_container", "at_box")

    @property
    def troubles(self) -> Iterable[BoundField]:
        """What may go wrong on the day."""
        names = ("late_pairs", "late_minutes", "late_heat", "break_minutes", "break_start")
        return self._shown(*names, "overrun")

    @property
    def others(self) -> Iterable[BoundField]:
        """What is seldom changed."""
        return self._shown("start", "choice", "returned", "containers", "boxes")

    @property
    def times(self) -> Iterable[BoundField]:
        """How long a pair takes."""
        return self._shown(*TIMES)

    def _shown(self, *names: str) -> list[BoundField]:
        return [self[name] for name in names if name in self.fields]


class SavePlanForm(BaseForm):
    """What of the question becomes the plan of the event."""

    minutes = forms.IntegerField(label="Minutes of a heat", min_value=1, max_value=120)
    gap = forms.IntegerField(label="Minutes between heats", min_value=-60, max_value=60)
    start = forms.TimeField(label="First start")
    # Left out where the rooms of the event say it.
    places = forms.IntegerField(label="Places", min_value=1, max_value=MAX_AT_ONCE, required=False)
