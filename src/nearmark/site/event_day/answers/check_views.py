"""The checks of the day: the check weight of a scale, and the buckets of a heat."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from django import forms
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from nearmark.errors import InputError
from nearmark.site.common.forms import BaseForm, DecimalField, choose, written_number
from nearmark.site.common.responses import done, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import required_event
from nearmark.site.event.models import Change, EventRecord
from nearmark.site.event_day.answers import check_actions as acts
from nearmark.site.event_day.heats.own_choice import own_scale
from nearmark.site.event_day.heats.state import ONE_ROOM, heats_of, rooms_of
from nearmark.station import Station
from nearmark.words.material import balance_words, check_weight_words
from nearmark.words.numbers import capital

MAX_SHOWN: Final = 40
MAX_BUCKETS: Final = 60


class CheckWeightForm(BaseForm):
    """A known mass on a scale."""

    scale = forms.ChoiceField(label=_("Scale"))
    known_g = DecimalField(label=_("Known mass, g"), help_text=_("A check weight, or a kept bag."))
    shown_g = DecimalField(label=_("Scale shows, g"))
    known_u_g = DecimalField(
        label=_("Uncertainty of the known mass, g"),
        required=False,
        zero_allowed=True,
        help_text=_("Standard uncertainty from its label or certificate. Empty: none."),
    )

    def __init__(self, scales: Sequence[str], *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choose(self, "scale", _named(scales))


class BucketsForm(BaseForm):
    """The buckets of a heat, before and after."""

    heat = forms.ChoiceField(label="Heat")
    room = forms.ChoiceField(label="Room")
    item = forms.ChoiceField(label="Item")
    scale = forms.ChoiceField(label="Scale of the buckets")
    lines = forms.CharField(
        label="Buckets, one a line",
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 6, "inputmode": "decimal", "spellcheck": "false"}),
        help_text="Before and after in g, and what was refilled: 5012 4390 or 5012 4890 500.",
    )
    spill_g = DecimalField(
        label="Spilled at most, g",
        required=False,
        zero_allowed=True,
        help_text="Pieces that fell beside and were not swept up. Empty: none.",
    )

    def __init__(self, record: EventRecord, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choose(self, "heat", _named(heats_of(record)))
        choose(self, "item", _named(_mass_items(record)))
        choose(self, "scale", _named(_scales(record)))
        rooms = rooms_of(record)
        choose(self, "room", _named(rooms))
        if rooms == ONE_ROOM:
            del self.fields["room"]


@dataclass(frozen=True, slots=True)
class ScaleChecksView:
    """What each scale showed for a known mass."""

    title: str
    form: CheckWeightForm
    checks: list[Change]  # the newest first


@dataclass(frozen=True, slots=True)
class BucketsView:
    """The buckets against the cups, heat by heat."""

    title: str
    form: BucketsForm
    balances: list[Change]  # the newest first
    can_balance: bool  # whether there is a heat, an item and a scale


def _named(values: Iterable[str]) -> list[tuple[str, str]]:
    return [(value, value) for value in values]


def _scales(record: EventRecord) -> list[str]:
    return list(record.instruments.filter(unit="g").values_list("name", flat=True))


def _mass_items(record: EventRecord) -> list[str]:
    items = record.items.filter(station=Station.MASS.value)
    return list(items.values_list("code", flat=True))


def _kept(record: EventRecord, begins: str) -> list[Change]:
    return list(record.changes.filter(what__startswith=begins).order_by("-pk")[:MAX_SHOWN])


def scale_checks(request: HttpRequest) -> HttpResponse:
    """Before the first heat and after the last: does the scale still show a known mass."""
    record = required_event()
    scales = _scales(record)
    first = {"scale": own_scale(request, scales) if scales else ""}
    form = CheckWeightForm(scales, request.POST or None, initial=first)
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            found = acts.check_scale(**form.cleaned_data, by=visitor_of(request).name)
            return done(request, capital(check_weight_words(found)), "scale-checks")
    view = ScaleChecksView(gettext("Check weight"), form, _kept(record, acts.CHECK))
    return show(request, "event_day/answers/scale_checks", view, status=form.http_status)


def buckets(request: HttpRequest) -> HttpResponse:
    """At the end of a heat: is more gone from the buckets than the recorded cups hold."""
    record = required_event()
    form = BucketsForm(record, request.POST or None)
    if request.method == "POST" and form.is_valid():
        given = form.cleaned_data
        with refusals_on(form):
            found = acts.balance_heat(
                given["heat"],
                given.get("room", ""),
                given["item"],
                given["scale"],
                bucket_lines(given["lines"]),
                spill_g=given["spill_g"],
                by=visitor_of(request).name,
            )
            return done(request, capital(balance_words(found)), "buckets")
    view = BucketsView(
        title="Buckets and cups",
        form=form,
        balances=_kept(record, acts.BALANCE),
        can_balance=bool(heats_of(record) and _mass_items(record) and _scales(record)),
    )
    return show(request, "event_day/answers/buckets", view, status=form.http_status)


def bucket_lines(text: str) -> list[acts.BucketText]:
    """Before, after and refilled of each bucket, in g.

    >>> bucket_lines("5012 4390")
    [(Decimal('5012'), Decimal('4390'), Decimal('0'))]
    """
    lines = [line.split() for line in text.splitlines() if line.strip()]
    if len(lines) > MAX_BUCKETS:
        raise InputError("are too many", where="lines", value=len(lines))
    found = []
    for number, parts in enumerate(lines, 1):
        if len(parts) not in {2, 3}:
            raise InputError(
                f"line {number} needs two or three numbers",
                where="lines",
                value=" ".join(parts)[:60],
                mend="Write before and after, and what was refilled, with a blank between",
            )
        before, after, *added = map(written_number, parts)
        found.append((before, after, added[0] if added else Decimal(0)))
    return found
