"""The strip: estimates against the true value on a log-ratio axis from half to double, as SVG."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from nearmark.charts.marks import BAND, EDGE, Mark, MarkKind, summary
from nearmark.charts.spread import spread
from nearmark.charts.svg import drawing, element, label, text_width
from nearmark.charts.tokens import ACCENT, INK, INK_SOFT, WHITE
from nearmark.charts.tokens import BAND as BAND_TINT
from nearmark.errors import InputError
from nearmark.words.deviations import AxisCentre, axis_centre, axis_ends, estimates_title

MARGIN = 30.0
"""px left and right of the axis: room for an arrow and how many it represents."""

_LABEL_ROW = 16.0
_MARK_ROW = 26.0
_TICKS = 9.0
_FOOT = 16.0
_GAP = 6.0
_NARROWEST = 160


def _axis_labels(centre: str) -> tuple[tuple[tuple[float, str], ...], ...]:
    """A narrow strip leaves out the later groups, each as a whole."""
    half, double = axis_ends()
    return (
        ((1.0, centre), (0.5, half), (2.0, double)),
        ((0.9, "−10 %"), (1.1, "+10 %")),  # noqa: RUF001 - a real minus
        ((0.7, "−30 %"), (1.4, "+40 %")),  # noqa: RUF001 - a real minus
    )


def strip_svg(
    marks: Iterable[Mark],
    *,
    interval: tuple[float, float] | None = None,
    width_px: float = 480,
    title: str = "",
    centre: AxisCentre = AxisCentre.KEY,
    few_ticks: bool = False,
) -> str:
    """The strip as one SVG element.

    ``marks``: those beyond half or double become an arrow at the edge. ``interval`` ((low, high)
    ratios, or None): 95 % interval of the true value divided by the true value, drawn as a thin
    bracket. ``width_px``: px, >= 160. ``title``: read by a screen reader, not drawn; empty: the
    usual one. ``centre``: what every mark is divided by, written under the middle of the axis.
    ``few_ticks``: only at half, the middle and double, for paper that children hold, where even
    ticks read as a ruler.
    Raises InputError if the strip is too narrow, or the interval is not two ratios in order.

    >>> picture = strip_svg([Mark(0.88, "P07", MarkKind.THIS)], interval=(0.99, 1.01))
    >>> picture.count("<svg"), "P07" in picture
    (1, True)
    """
    shown = tuple(marks)
    check_interval(interval)
    if not width_px >= _NARROWEST:
        raise InputError(
            f"a strip needs {_NARROWEST} px or more", where="strip width", value=width_px
        )
    labels = _fitting_labels(shown, width_px)
    top = _LABEL_ROW if labels else 2.0
    base = top + _MARK_ROW
    shapes = [
        *_band(width_px, top, base),
        *_axis(width_px, base, axis_centre(centre), few_ticks=few_ticks),
        *(_bracket(interval, width_px, top) if interval else ()),
        *_marks(shown, width_px, base),
        *_labels(labels, width_px),
    ]
    return drawing(
        shapes,
        width=width_px,
        height=base + _TICKS + _FOOT,
        title=title or estimates_title(),
        description=summary(shown, interval),
    )


def check_interval(interval: tuple[float, float] | None) -> None:
    """Refuse an interval that is not two finite ratios in order.

    ``interval``: (low, high) ratios, or None.
    """
    if interval is None:
        return
    low, high = interval
    if not (math.isfinite(high) and low <= high):
        raise InputError(
            "the interval must be two ratios, low before high",
            where="strip interval",
            value=interval,
            mend="Divide both ends of the interval by the value",
        )


def _position(ratio: float, width: float) -> float:
    """Position of a ratio, in px; kept on the axis."""
    x = math.log(ratio) if ratio > 0 else -EDGE
    return width / 2 + max(-EDGE, min(EDGE, x)) / EDGE * (width / 2 - MARGIN)


def _band(width: float, top: float, base: float) -> Iterable[str]:
    left, right = (_position(ratio, width) for ratio in BAND)
    yield element(
        "rect", x=left, y=top, width=right - left, height=base - top + _TICKS, fill=BAND_TINT
    )
    middle = width / 2
    yield element(
        "line", x1=middle, y1=top, x2=middle, y2=base + _TICKS, stroke=INK, stroke_width=1
    )


def _axis(width: float, base: float, centre: str, *, few_ticks: bool) -> Iterable[str]:
    """A ruler divided by ratio, like the scale of a slide rule: a tick every 5 %, or three."""
    path = [f"M{MARGIN:g} {base:g}H{width - MARGIN:g}"]
    for percent in (50, 100, 200) if few_ticks else range(50, 201, 5):
        length = _TICKS if percent in {50, 100, 200} else 6.0 if percent % 10 == 0 else 3.5
        path.append(f"M{_position(percent / 100, width):.2f} {base:g}v{length:g}")
    yield element("path", d="".join(path), stroke=INK, stroke_width=0.8, fill="none")
    shown: list[tuple[float, str]] = []
    for group in _axis_labels(centre):
        wider = sorted([*shown, *((_position(ratio, width), text) for ratio, text in group)])
        if all(
            b - a >= (text_width(s) + text_width(t)) / 2 + 3 for (a, s), (b, t) in pairwise(wider)
        ):
            shown = wider
    for x, text in shown:
        yield label(text, x, base + _TICKS + 11, text_anchor="middle", fill=INK_SOFT)


def _bracket(interval: tuple[float, float], width: float, top: float) -> Iterable[str]:
    left, right = (_position(bound, width) for bound in interval)
    yield element(
        "path",
        d=f"M{left:.2f} {top + 6:g}V{top + 1:g}H{right:.2f}V{top + 6:g}",
        stroke=INK,
        stroke_width=1.2,
        fill="none",
    )


def _marks(marks: Sequence[Mark], width: float, base: float) -> Iterable[str]:
    """The others first, so that no crowd hides this pair's mark."""
    yield from _crowd([m for m in marks if m.kind is MarkKind.OTHER], width, base)
    for kind, draw in ((MarkKind.MEAN, _circle), (MarkKind.THIS, _diamond)):
        for mark in marks:
            if mark.kind is kind:
                if mark.side:
                    fill = ACCENT if kind is MarkKind.THIS else WHITE
                    yield _arrow(mark.side, width, base - 18, 6, fill)
                else:
                    yield draw(_position(mark.ratio, width), base - 11)


def _crowd(others: Sequence[Mark], width: float, base: float) -> Iterable[str]:
    """Everybody else: a short stroke each, and at an edge one arrow with how many lie beyond."""
    inside = "".join(f"M{_position(m.ratio, width):.2f} {base:g}v-13" for m in others if not m.side)
    if inside:
        yield element("path", d=inside, stroke=INK_SOFT, stroke_width=1, fill="none")
    for side in (-1, 1):
        beyond = sum(m.side == side for m in others)
        if beyond:
            yield _arrow(side, width, base - 5, 4, WHITE)
            x = width / 2 + side * (width / 2 - MARGIN + 13)
            anchor = "start" if side > 0 else "end"
            yield label(f"{beyond}", x, base - 1, text_anchor=anchor, fill=INK_SOFT)


def _diamond(x: float, y: float) -> str:
    return element("path", d=f"M{x:.2f} {y - 8:g}l6.5 8l-6.5 8l-6.5 -8z", fill=ACCENT, stroke=WHITE)


def _circle(x: float, y: float) -> str:
    return element("circle", cx=x, cy=y, r=5, fill=WHITE, stroke=INK, stroke_width=1.6)


def _arrow(side: int, width: float, y: float, size: float, fill: str) -> str:
    x = width / 2 + side * (width / 2 - MARGIN + 4)
    return element(
        "path",
        d=f"M{x:g} {y - size:g}l{side * 1.6 * size:g} {size:g}l{-side * 1.6 * size:g} {size:g}z",
        fill=fill,
        stroke=INK,
        stroke_width=1,
    )


def _fitting_labels(marks: Sequence[Mark], width: float) -> list[Mark]:
    """The labelled marks whose labels fit side by side; this pair's come first, then the mean's."""
    order = list(MarkKind)
    fitting: list[Mark] = []
    room = width
    for mark in sorted((m for m in marks if m.label), key=lambda m: order.index(m.kind)):
        room -= 1.1 * text_width(mark.label) + _GAP
        if room >= 0:
            fitting.append(mark)
    return sorted(fitting, key=lambda m: m.ratio)


def _labels(marks: Sequence[Mark], width: float) -> Iterable[str]:
    centres = [_position(m.ratio, width) for m in marks]
    sizes = [1.1 * text_width(m.label) + _GAP for m in marks]
    for mark, x in zip(marks, spread(centres, sizes, 0, width), strict=True):
        weight = "bold" if mark.kind is MarkKind.THIS else "normal"
        yield label(mark.label, x, 11, text_anchor="middle", font_weight=weight)
