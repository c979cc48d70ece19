"""The readings of an item as its page shows them: kinds, forms, doubts and usual slips."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from django.forms import Form

from nearmark.contest.doubt import Doubt, DoubtKind, doubt_id
from nearmark.contest.measuring_steps import MeasuringSteps
from nearmark.site.common.forms import BaseForm, choose
from nearmark.site.event.models import EventRecord, ItemRecord
from nearmark.site.event.reading_models import KitRow, WeighingRow
from nearmark.site.kit import actions as acts
from nearmark.site.kit.forms import (
    EdgeForm,
    EmptyForm,
    FacesForm,
    FullForm,
    HandCountForm,
    SampleForm,
)
from nearmark.site.kit.views import instruments
from nearmark.station import Station

FORMS: Final[dict[str, tuple[type[BaseForm], str, str]]] = {
    "empty": (EmptyForm, "The empty container", "g"),
    "sample": (SampleForm, "Counted samples", "g"),
    "full": (FullForm, "The full container", "g"),
    "hand-count": (HandCountForm, "Counts by hand", ""),
    "edge": (EdgeForm, "Readings of the edges", "cm"),
    "faces": (FacesForm, "Inside or outside", ""),
}
"""Kind of reading -> form, title, unit of its instrument."""

_AS_DOUBTED: Final = {
    "empty": DoubtKind.CONTAINER,
    "sample": DoubtKind.SAMPLE,
    "full": DoubtKind.CONTAINER,
    "hand-count": DoubtKind.HAND_COUNT,
    "edge": DoubtKind.EDGE,
}

KINDS_OF: Final = {
    Station.COUNT: ("empty", "sample", "full", "hand-count"),
    Station.VOLUME: ("edge",),
    Station.MASS: (),
}

SLIPS: Final = {
    "empty": ("typed wrong", "scale not at zero", "lid missing"),
    "sample": ("typed wrong", "miscounted", "dish not tared"),
    "full": ("typed wrong", "scale not at zero", "lid missing"),
    "hand-count": ("typed wrong", "lost count"),
    "edge": ("typed wrong", "ruler slipped"),
}
"""Usual reasons to take the last reading back, one press each."""

IF_EMPTY: Final = {
    "hand-count": "A few hundred pieces: two people count all of them, each without knowing the "
    "other's count. For more, it checks the weighed count."
}
WEIGHED_TOGETHER: Final = "Weighed together with the full one, below."


@dataclass(frozen=True, slots=True)
class ShownReading:
    """A reading, and what may be wrong with it."""

    row: KitRow
    kind: str
    slips: tuple[str, ...]
    doubt: Doubt | None = None


@dataclass(frozen=True, slots=True)
class ReadingGroup:
    """All readings of one kind, and the form of one more."""

    kind: str
    title: str
    rows: list[ShownReading]
    n: int
    if_empty: str
    form: Form | None


def last_pieces(item: ItemRecord) -> int | None:
    """Pieces of the last sample of this item: offered, never filled in."""
    last = _rows(item, "sample").filter(struck_at=None).last()
    return last.pieces if last else None


def next_form(
    record: EventRecord, item: ItemRecord, way: MeasuringSteps, kind: str, bound: Form | None
) -> Form | None:
    """The form of the next reading, ready to be typed into."""
    if kind not in FORMS:
        return None
    form_class, _, unit = FORMS[kind]
    initial = _as_last(item, kind)
    initial |= {"side": way.side.value} if way.side else {}
    form = bound or form_class(initial=initial, auto_id="next-%s")
    empty = [name for name in form.fields if not form[name].value() or form[name].errors]
    if empty:
        form.fields[empty[0]].widget.attrs["autofocus"] = True
    return choose(form, "instrument", instruments(record, unit))


def _as_last(item: ItemRecord, kind: str) -> dict[str, Any]:
    """What is likely the same in the next reading of a kind; never a number one has to know."""
    if kind == "faces":
        return {}
    last = _rows(item, kind).filter(struck_at=None).last()
    kept = ("side", "instrument") if kind == "edge" else ("instrument",)
    return {name: getattr(last, name) for name in kept if hasattr(last, name)}


def _rows(item: ItemRecord, kind: str) -> Any:
    """Rows of a kind; a weighing of both full and empty is with the full ones."""
    rows = acts.KINDS[kind].objects.filter(item=item)
    if acts.KINDS[kind] is WeighingRow:
        return rows.filter(gross_g__isnull=kind == "empty")
    return rows


def reading_group(
    record: EventRecord, item: ItemRecord, kind: str, at_head: str, doubts: Sequence[Doubt]
) -> ReadingGroup:
    """All readings of a kind, and the form of one more unless it is at the head of the page."""
    form_class, title, unit = FORMS[kind]
    rows = list(_rows(item, kind))
    by_id = {doubt.id: doubt for doubt in doubts}
    fresh = form_class(initial=_as_last(item, kind), auto_id=f"{kind}-%s")
    both = kind == "empty" and _both_at_once(item)
    return ReadingGroup(
        kind,
        title,
        [ShownReading(row, kind, SLIPS[kind], _doubt_of(row, kind, by_id)) for row in rows],
        n=sum(row.struck_at is None for row in rows),
        if_empty=WEIGHED_TOGETHER if both else IF_EMPTY.get(kind, "None yet."),
        form=None if kind == at_head else choose(fresh, "instrument", instruments(record, unit)),
    )


def _doubt_of(row: KitRow, kind: str, by_id: Mapping[str, Doubt]) -> Doubt | None:
    """The doubt about one reading that counts."""
    if row.struck_at is not None:
        return None
    if kind == "hand-count":
        ends = f":{row.pieces}"  # type: ignore[attr-defined]
        counts = f"{DoubtKind.HAND_COUNT.value}:"
        return next(
            (d for i, d in by_id.items() if i.startswith(counts) and i.endswith(ends)), None
        )
    columns = {
        "sample": [("pieces", "mass_g")],
        "edge": [("side", "reading_cm")],
    }.get(kind, [("gross_g",), ("tare_g",)])
    ids = [
        doubt_id(_AS_DOUBTED[kind], row.item.code, *(getattr(row, name) for name in names))
        for names in columns
    ]
    return next((by_id[id_] for id_ in ids if id_ in by_id), None)


def _both_at_once(item: ItemRecord) -> bool:
    """Whether full and empty were weighed in one row, as an event folder may hold them."""
    both = WeighingRow.objects.filter(item=item, struck_at=None)
    return both.exclude(gross_g=None).exclude(tare_g=None).exists()


def last_reading(item: ItemRecord, kinds: tuple[str, ...]) -> ShownReading | None:
    """The newest reading that counts, and the slips it may hold."""
    newest: list[tuple[KitRow, str]] = []
    for kind in kinds:
        row = _rows(item, kind).filter(struck_at=None).last()
        if row is not None:
            newest.append((row, kind))
    if not newest:
        return None
    row, kind = max(newest, key=lambda pair: (pair[0].at, pair[0].pk))
    return ShownReading(row, kind, SLIPS[kind])
