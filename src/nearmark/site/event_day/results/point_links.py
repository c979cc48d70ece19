"""Where each open point is settled: one table from its kind to an address."""

from dataclasses import dataclass
from hashlib import sha256
from urllib.parse import urlencode

from django.urls import reverse

from nearmark.contest.open_points import OpenPoint, PointKind
from nearmark.contest.results import Results
from nearmark.site.event.models import EventRecord

_PAGES = {
    PointKind.NO_KEY: ("kit-item", "Measure it"),
    PointKind.KEY_NOT_FIT: ("kit-item", "See the readings"),
    PointKind.KEY_BY_WORD: ("kit-item", "See the readings"),
    PointKind.KEY_CHECK: ("kit-item", "Measure it again"),
    PointKind.KIT_DOUBT: ("kit-item", "See the readings"),
    PointKind.CUP_DOUBT: ("cups", "See the cups"),
    PointKind.ANSWER_DOUBT: ("corrections", "Look at the paper"),
    PointKind.ABSENT: ("pair", "See the pair"),
    PointKind.MISSING: ("entry", "Enter answers"),
    PointKind.SINGLE: ("entry", "Enter answers"),
    PointKind.CONFLICT: ("differences", "Settle it"),
    PointKind.NOT_SCORED: ("corrections", "Correct it"),
    PointKind.DECIDED: ("pair", "See the pair"),
    PointKind.AUDIT: ("corrections", "Correct it"),
    PointKind.NO_DIVISION: ("pairs", "See the pairs"),
    PointKind.NOT_ASKED: ("pairs", "See the pairs"),
}
"""Kind -> name of the address, and the words of the link."""


@dataclass(frozen=True, slots=True)
class PointLine:
    """An open point with its link."""

    point: OpenPoint
    address: str
    link: str
    anchor: str  # of the point on the page of all points


def point_lines(
    record: EventRecord, outcome: Results, *, closed: bool = False
) -> tuple[PointLine, ...]:
    """The open points of an event, each with its link; or those closed with a reason."""
    points = outcome.closed_points if closed else outcome.open_points
    items = dict(record.items.values_list("code", "pk")) if points else {}
    pairs = dict(record.pairs.values_list("code", "pk")) if points else {}
    return tuple(
        PointLine(point, _address(point, items, pairs), _PAGES[point.kind][1], _anchor(point))
        for point in points
    )


def _anchor(point: OpenPoint) -> str:
    return f"p-{sha256(point.id.encode()).hexdigest()[:10]}"


def _address(point: OpenPoint, items: dict[str, int], pairs: dict[str, int]) -> str:
    name = _PAGES[point.kind][0]
    if name == "kit-item":
        return reverse(name, args=[items[point.item]])
    if name == "pair":
        return reverse(name, args=[pairs[point.pair]])
    if name == "corrections":
        asked = {"pair": point.pair, "item": point.item, "value": point.shows, "cup": point.cup}
        return f"{reverse(name)}?{urlencode({k: v for k, v in asked.items() if v})}"
    return reverse(name)
