"""The picture of progress: two months at each station on a line of points, as SVG."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from nearmark.charts.svg import drawing, element, label
from nearmark.charts.tokens import ACCENT, INK, INK_SOFT, RULE, WHITE
from nearmark.charts.tokens import BAND as BAND_TINT
from nearmark.errors import InputError
from nearmark.words.deviations import months_words
from nearmark.words.numbers import capital

_LEFT = 58.0
_RIGHT = 14.0
_TOP = 6.0
_ROW = 40.0
_STEP = 9.0
"""px between the first month and the last within a row."""

_FOOT = 18.0
_NARROWEST: Final = 220
_BAND: Final = (90.0, 100.0)


@dataclass(frozen=True, slots=True)
class TwoMonths:
    """Two months at one station. ``first``, ``last``: mean and standard uncertainty, points."""

    label: str
    first: tuple[float, float]
    last: tuple[float, float]


def progress_svg(
    rows: Iterable[TwoMonths],
    *,
    width_px: float = 400,
    title: str = "First four weeks and last four weeks",
) -> str:
    """Two months a row: an open circle, and below it a filled diamond, each with its uncertainty.

    ``rows``: one at least. ``width_px``: px, >= 220. ``title``: read by a screen reader, not drawn.
    Returns one ``<svg>`` element; raises InputError if it is too narrow, a row is no number, or
    there is none.

    >>> picture = progress_svg([TwoMonths("count", (62, 3), (81, 2))])
    >>> picture.count("<svg"), "Count from 62 to 81 points" in picture
    (1, True)
    """
    shown = tuple(rows)
    if not shown:
        raise InputError("there are no rows", where="picture of progress")
    if not width_px >= _NARROWEST:
        raise InputError(
            f"it needs {_NARROWEST} px or more", where="picture of progress", value=width_px
        )
    for row in shown:
        if not all(map(math.isfinite, (*row.first, *row.last))):
            raise InputError("must be numbers", where=f"picture of progress, {row.label}")
    base = _TOP + _ROW * len(shown)
    lowest = min(mean - u for row in shown for mean, u in (row.first, row.last))
    axis = _Axis(max(0, min(80, 20 * math.floor(lowest / 20))), width_px)
    shapes = [*_ground(axis, base)]
    for i, row in enumerate(shown):
        shapes += _row(row, axis, _TOP + _ROW * (i + 0.5))
    return drawing(
        shapes,
        width=width_px,
        height=base + _FOOT,
        title=title,
        description=_description(shown),
    )


def _description(rows: Sequence[TwoMonths]) -> str:
    said = "; ".join(months_words(row.label, row.first[0], row.last[0]) for row in rows)
    return f"{capital(said)}."


@dataclass(frozen=True, slots=True)
class _Axis:
    """From a multiple of 20 points to 100."""

    low: int
    width_px: float

    def x(self, points: float) -> float:
        """Where some points lie, px; kept on the axis."""
        share = (max(self.low, min(100.0, points)) - self.low) / (100 - self.low)
        return _LEFT + share * (self.width_px - _LEFT - _RIGHT)


def _ground(axis: _Axis, base: float) -> Iterable[str]:
    left, right = (axis.x(bound) for bound in _BAND)
    yield element("rect", x=left, y=_TOP, width=right - left, height=base - _TOP, fill=BAND_TINT)
    for points in range(axis.low, 101, 20):
        x = axis.x(points)
        yield element("line", x1=x, y1=_TOP, x2=x, y2=base, stroke=RULE, stroke_width=0.8)
        yield label(f"{points}", x, base + 13, text_anchor="middle", fill=INK_SOFT)


def _row(row: TwoMonths, axis: _Axis, middle: float) -> Iterable[str]:
    yield label(row.label, 0, middle + 4, font_weight="bold")
    above, below = middle - _STEP, middle + _STEP
    x1, x2 = axis.x(row.first[0]), axis.x(row.last[0])
    yield element("line", x1=x1, y1=above, x2=x2, y2=below, stroke=INK_SOFT, stroke_width=1.2)
    for (mean, u), y in ((row.first, above), (row.last, below)):
        low, high = axis.x(mean - u), axis.x(mean + u)
        yield element("line", x1=low, y1=y, x2=high, y2=y, stroke=INK, stroke_width=1.4)
    yield element("circle", cx=x1, cy=above, r=5, fill=WHITE, stroke=INK, stroke_width=1.6)
    diamond = f"M{x2:.2f} {below - 7:g}l6 7l-6 7l-6 -7z"
    yield element("path", d=diamond, fill=ACCENT, stroke=WHITE)
