"""The forms of drills: opening one, sitting down, answering."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from nearmark.coaching import KnownThing
from nearmark.coaching import Thing as CoreThing
from nearmark.coaching.jar_choice import BANDS
from nearmark.packing.census import GRADES
from nearmark.site.common.forms import BaseForm, DecimalField, Pieces
from nearmark.site.drills.actions import MAX_ITEMS, TypedAnswer
from nearmark.site.drills.jar_columns import ANY_GRADE, grade_words, item_columns, shelf
from nearmark.site.drills.models import DrillItem, DrillKind, DrillSeat
from nearmark.site.jars.models import PracticeJar
from nearmark.site.season.known_things import ThingToChoose, known_to, things_to_choose
from nearmark.site.season.models import Club, PracticePair, Pupil, Thing
from nearmark.station import Station
from nearmark.words.coaching_things import known_words
from nearmark.words.rules import question

PARTS = {
    Station.MASS: (),
    Station.COUNT: (("layer", _("Pieces in one layer")), ("layers", _("Layers"))),
    Station.VOLUME: (
        ("length", _("Length, cm")),
        ("width", _("Width, cm")),
        ("height", _("Height, cm")),
    ),
}
BOTH = "both"
USUAL_S = 60
"""To guess one thing on a screen for the room."""


class SeatForm(BaseForm):
    """The code of a seat."""

    code = forms.CharField(
        label=_("Code"),
        max_length=20,
        widget=forms.TextInput(
            attrs={
                "class": "code",
                "autocomplete": "off",
                "autocapitalize": "characters",
                "spellcheck": "false",
            }
        ),
    )


class HowMany(forms.IntegerField):
    """A small number that is there already; left out or emptied it is none."""

    def clean(self, value: Any) -> int:
        """The number, or a refusal."""
        return int(super().clean(value or 0) or 0)


def _how_many(label: str) -> HowMany:
    return HowMany(label=label, min_value=0, max_value=MAX_ITEMS, initial=0)


class DrillForm(BaseForm):
    """A new drill of one club."""

    title = forms.CharField(label="Title", max_length=80, initial="Practice")
    kind = forms.ChoiceField(label="Kind", choices=DrillKind.choices, initial=DrillKind.DRILL)
    things = forms.MultipleChoiceField(
        label="What lies on the table", widget=forms.CheckboxSelectMultiple, required=False
    )
    jars = forms.MultipleChoiceField(
        label="Jars and photos on their screens",
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    draw_small = _how_many("Small jars by chance")
    draw_medium = _how_many("Medium jars by chance")
    draw_large = _how_many("Large jars by chance")
    draw_grade = forms.ChoiceField(
        label="How hard",
        choices=[(ANY_GRADE, "any"), *((word, word) for _, word in GRADES)],
        required=False,
        help_text="Of those by chance. Hard: one layer times the layers leads far from the count.",
    )
    sitting = forms.MultipleChoiceField(
        label="Who takes part", widget=forms.CheckboxSelectMultiple, required=False
    )
    with_guests = forms.BooleanField(
        label="Anyone in the room may join, without a name",
        required=False,
        help_text="Together only, as in a workshop for coaches: each gets a number.",
    )
    with_calculator = forms.BooleanField(
        label="Ask for the parts, and put a calculator beside them", required=False
    )
    pictures_only = forms.BooleanField(
        label="Show jars as pictures only",
        required=False,
        help_text="When the answers should count as evidence: a jar that can be turned sends the "
        "places of its pieces, and a program could count them.",
    )
    minutes = forms.IntegerField(
        label="Minutes of a mock contest", min_value=1, max_value=240, initial=30
    )
    seconds = forms.IntegerField(
        label="Together: seconds to guess one thing",
        min_value=10,
        max_value=900,
        initial=USUAL_S,
        required=False,
    )

    def __init__(self, club: Club, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # In the order in which they are asked, whoever knows them.
        offered = sorted(
            things_to_choose(club),
            key=lambda each: (each.thing.station, each.thing.size, each.thing.name),
        )
        self._things = {str(each.thing.pk): each.thing for each in offered}
        self._jars = {str(row.pk): row for row in shelf()}
        pupils: Iterable[Pupil | PracticePair] = (*club.pupils.all(), *club.pairs.all())
        self._sitting = {_value(row): row for row in pupils}
        things, sitting, jars = (self.fields[name] for name in ("things", "sitting", "jars"))
        jars.choices = _jar_choices(club, self._jars)  # type: ignore[attr-defined]
        things.choices = [(str(each.thing.pk), _label(each)) for each in offered]  # type: ignore[attr-defined]
        sitting.choices = [(value, _called(row)) for value, row in self._sitting.items()]  # type: ignore[attr-defined]
        sitting.initial = [_value(row) for row in club.pupils.all()]

    def clean(self) -> dict[str, Any]:
        """Something is asked, and pairs work together in a mock contest only."""
        given: dict[str, Any] = super().clean() or {}
        if not (given.get("things") or given.get("jars") or any(self.wanted.values())):
            self.add_error("things", "Nothing to estimate is chosen: tick a thing or a jar.")
        sitting = [self._sitting[value] for value in given.get("sitting", ())]
        pairs = [row for row in sitting if isinstance(row, PracticePair)]
        is_room = given.get("kind") == DrillKind.ROOM
        if given.get("kind") != DrillKind.MOCK and pairs:
            self.add_error("sitting", "In a drill each answers alone. Take the pairs out.")
        if given.get("with_guests") and not is_room:
            self.add_error(
                "with_guests", "Guests join on a screen for the room only: change the kind."
            )
        if not sitting and not given.get("with_guests"):
            self.add_error(
                "sitting", "Nobody takes part: tick a name, or let anyone in the room join."
            )
        in_pairs = {pk for row in pairs for pk in (row.first_id, row.second_id)}
        if in_pairs & {row.pk for row in sitting if isinstance(row, Pupil)}:
            self.add_error("sitting", "Somebody sits twice: alone and in a pair. Take one out.")
        return given

    @property
    def wanted(self) -> dict[str, int]:
        """Band -> jars to be drawn by chance."""
        return {band: self.cleaned_data.get(f"draw_{band}", 0) for band in BANDS}

    @property
    def jars_by_hand(self) -> list[PracticeJar]:
        """Rows of the jars that were ticked."""
        return [self._jars[pk] for pk in self.cleaned_data["jars"]]

    @property
    def chosen(self) -> tuple[list[Thing], list[Pupil | PracticePair]]:
        """Rows of what and who was chosen."""
        given = self.cleaned_data
        return (
            [self._things[pk] for pk in given["things"]],
            [self._sitting[value] for value in given["sitting"]],
        )


def _value(row: Pupil | PracticePair) -> str:
    return f"{'pupil' if isinstance(row, Pupil) else 'pair'}-{row.pk}"


def _called(row: Pupil | PracticePair) -> str:
    return row.name if isinstance(row, Pupil) else f"pair {row.code}"


def _label(choice: ThingToChoose) -> str:
    thing = choice.thing
    about = (thing.station, thing.size, _known(choice.known))
    return f"{thing.name} ({', '.join(filter(None, about))})"


def _known(known: KnownThing) -> str:
    return "" if known.is_fresh else known_words(known)


def _jar_choices(club: Club, jars: Mapping[str, PracticeJar]) -> list[tuple[str, str]]:
    """The jars of the shelf in their order, with who of the club knows each."""
    names = {pk: item_columns(jar)["name"] for pk, jar in jars.items()}
    core = [CoreThing(Station.COUNT, jar.band, names[pk], jar.count) for pk, jar in jars.items()]
    known = {each.thing.name: each for each in known_to(club, core)}
    return [(pk, _jar_told(jar, known[names[pk]])) for pk, jar in jars.items()]


def _jar_told(jar: PracticeJar, known: KnownThing) -> str:
    kept_back = "" if jar.is_open else "kept back"
    if jar.is_ahead and known.is_fresh:
        kept_back = "poured ahead, nobody has seen it"
    kind = f"{jar.band} {'photo' if jar.is_photo else 'jar'}"
    about = (kind, grade_words(jar), kept_back, _known(known))
    return f"{jar.code} {jar.what} ({', '.join(filter(None, about))})"


class AnswerForm(BaseForm):
    """One answer to one thing."""

    estimate = DecimalField()

    def __init__(self, item: DrillItem, seat: DrillSeat, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._station, self._pair = Station(item.station), seat.pair
        own = self.fields.pop("estimate")
        if item.jar_id is not None:
            own = Pieces(max_length=9)
        for name, label in PARTS[self._station]:
            self.fields[name] = DecimalField(label=label, required=seat.drill.with_calculator)
        own.label = question(self._station)
        self.fields["estimate"] = own
        if seat.pair is not None:
            pair = seat.pair
            self.fields["decided"] = forms.ChoiceField(
                label=_("Whose number is it?"),
                choices=[
                    (BOTH, _("we worked it out together")),
                    (str(pair.first_id), pair.first.name),
                    (str(pair.second_id), pair.second.name),
                ],
            )

    @property
    def part_names(self) -> list[str]:
        """Names of the fields of the parts."""
        return [name for name, _ in PARTS[self._station]]

    def clean(self) -> dict[str, Any]:
        """All parts or none."""
        given: dict[str, Any] = super().clean() or {}
        values = [given.get(name) for name in self.part_names if name not in self.errors]
        if any(values) and not all(values):
            raise ValidationError(_("Write all of the parts, or none."))
        return given

    @property
    def given(self) -> TypedAnswer:
        """The answer as typed."""
        given = self.cleaned_data
        unit = "_cm" if self._station is Station.VOLUME else ""
        written = (name for name in self.part_names if given.get(name) is not None)
        parts = {f"{name}{unit}": float(given[name]) for name in written}
        decided_by = self._decided(given.get("decided", BOTH))
        return TypedAnswer(Decimal(given["estimate"]), parts, decided_by)

    def _decided(self, choice: str) -> Pupil | None:
        if self._pair is None or choice == BOTH:
            return None
        return self._pair.first if choice == str(self._pair.first_id) else self._pair.second
