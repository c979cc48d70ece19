"""The raw readings behind one item, as small tables: so that anybody can compute the key again."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from nearmark.contest.event import Event
from nearmark.printing.words import wrappable


@dataclass(frozen=True, slots=True)
class ReadingsTable:
    """Readings of one kind, as written down."""

    title: str
    headings: tuple[str, ...]  # with the unit
    rows: tuple[tuple[str, ...], ...]
    numeric: tuple[bool, ...]  # columns set flush right, digits under digits


def item_readings(event: Event, item: str) -> tuple[ReadingsTable, ...]:
    """Everything that was read of one item.

    ``item``: code of the item. Returns: only those with rows.
    """
    return tuple(table for table in _tables(event, item) if table.rows)


def _tables(event: Event, item: str) -> Iterable[ReadingsTable]:
    yield ReadingsTable(
        "Counted samples",
        ("pieces", "net mass, g", "scale"),
        tuple(
            (str(s.pieces), f"{s.mass_g:f}", wrappable(s.instrument))
            for s in event.samples
            if s.item == item
        ),
        (True, True, False),
    )
    yield ReadingsTable(
        "Container",
        ("gross, g", "tare, g", "scale"),
        tuple(
            (_written(c.gross_g), _written(c.tare_g), wrappable(c.instrument))
            for c in event.containers
            if c.item == item
        ),
        (True, True, False),
    )
    yield ReadingsTable(
        "Counts by hand",
        ("pieces", "counted by"),
        tuple((str(c.pieces), wrappable(c.counter)) for c in event.hand_counts if c.item == item),
        (True, False),
    )
    edges = [r for r in event.box_readings if r.item == item]
    yield ReadingsTable(
        "Edges",
        ("edge", "readings, cm", "ruler"),
        tuple(
            (side, ",  ".join(f"{r.reading_cm:f}" for r in rows), wrappable(ruler))
            for (side, ruler), group in groupby(edges, key=lambda r: (r.side.value, r.instrument))
            if (rows := list(group))
        ),
        (False, False, False),
    )


def _written(mass_g: Decimal | None) -> str:
    return "" if mass_g is None else f"{mass_g:f}"
