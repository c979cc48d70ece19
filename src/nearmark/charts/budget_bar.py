"""What the uncertainty is made of: a stacked bar of the shares of a budget."""

from collections.abc import Callable, Iterable, Sequence
from itertools import accumulate, pairwise

from nearmark.charts.shares import Segment, apportioned, percent_text, segments
from nearmark.charts.spread import spread
from nearmark.charts.svg import drawing, element, label, shortened
from nearmark.charts.tokens import ACCENT, BAND, INK, RULE, WHITE
from nearmark.errors import InputError
from nearmark.measurement.budget import Budget

_BAR = 30.0
_BAR_HEIGHT = 96.0
_LINE = 17.0
_ELBOW = 22.0
_NARROWEST = 160

_NOTHING = "no component contributes"


def budget_bar_svg(budget: Budget, *, width_px: float = 360) -> str:
    """An upright stacked bar with the names beside it, largest share on top.

    ``width_px`` (px, >= 160): names that do not fit are shortened. Raises InputError if the
    bar is too narrow.
    """
    if not width_px >= _NARROWEST:
        raise InputError(f"needs {_NARROWEST} px or more", where="bar width", value=width_px)
    parts = segments(budget)
    height = max(_BAR_HEIGHT, _LINE * len(parts)) + 2
    edges = [1 + (height - 2) * done for done in accumulate((p.share for p in parts), initial=0.0)]
    shapes = [
        element("rect", x=1, y=1, width=_BAR, height=height - 2, fill=WHITE),
        *_boxes(parts, edges),
        element("rect", x=1, y=1, width=_BAR, height=height - 2, fill="none", stroke=INK),
        *_names(parts, edges, width_px, height),
    ]
    title = "What the uncertainty is made of"
    named = "; ".join(f"{percent_text(p)} {p.name}" for p in parts) or _NOTHING
    return drawing(shapes, width=width_px, height=height, title=title, description=named + ".")


def _boxes(parts: Sequence[Segment], edges: Sequence[float]) -> Iterable[str]:
    fills: tuple[Callable[[float, float], Iterable[str]], ...] = (_solid, _slanted, _dotted, _level)
    for part, fill, top, bottom in zip(
        parts, (*fills, *[_plain] * len(parts)), edges, edges[1:], strict=False
    ):
        yield from (_plain if part.joined else fill)(top, bottom)
        yield element("path", d=f"M1 {bottom:.2f}h{_BAR:g}", stroke=INK, stroke_width=0.8)


def _solid(top: float, bottom: float) -> Iterable[str]:
    yield element("rect", x=1, y=top, width=_BAR, height=bottom - top, fill=ACCENT)


def _slanted(top: float, bottom: float) -> Iterable[str]:
    """Lines at 45 degrees, cut to the box by hand: a pattern would need a name unique in a page."""
    path = []
    for start in range(int(top - _BAR) // 5 * 5, int(bottom) + 1, 5):
        x1, x2 = max(0.0, top - start), min(_BAR, bottom - start)
        if x2 > x1:
            path.append(f"M{1 + x1:.2f} {start + x1:.2f}L{1 + x2:.2f} {start + x2:.2f}")
    yield _tint(top, bottom)
    yield element("path", d="".join(path), stroke=INK, stroke_width=1.1, fill="none")


def _dotted(top: float, bottom: float) -> Iterable[str]:
    yield _tint(top, bottom)
    for row, y in enumerate(range(int(top) + 3, int(bottom - 1), 5)):
        for x in range(4 + 3 * (row % 2), int(_BAR), 6):
            yield element("circle", cx=x, cy=y, r=1.1, fill=INK)


def _level(top: float, bottom: float) -> Iterable[str]:
    yield _tint(top, bottom)
    lines = "".join(f"M1 {y:g}h{_BAR:g}" for y in range(int(top) + 3, int(bottom) + 1, 3))
    yield element("path", d=lines, stroke=INK, stroke_width=0.6, fill="none")


def _plain(top: float, bottom: float) -> Iterable[str]:
    yield element("rect", x=1, y=top, width=_BAR, height=bottom - top, fill=WHITE)


def _tint(top: float, bottom: float) -> str:
    return element("rect", x=1, y=top, width=_BAR, height=bottom - top, fill=BAND)


def _names(
    parts: Sequence[Segment], edges: Sequence[float], width: float, height: float
) -> Iterable[str]:
    if not parts:
        yield label(_NOTHING, _BAR + _ELBOW, height / 2 + 4)
    centres = [(top + bottom) / 2 for top, bottom in pairwise(edges)]
    lines = spread(centres, [_LINE] * len(parts), 0, height)
    for part, centre, y in zip(parts, centres, lines, strict=True):
        x = 1 + _BAR
        elbow = f"M{x:g} {centre:.2f}h4L{x + _ELBOW - 8:g} {y:.2f}h4"
        yield element("path", d=elbow, stroke=RULE, stroke_width=0.8, fill="none")
        start = x + _ELBOW + 28
        yield label(percent_text(part), start, y + 4, text_anchor="end", font_weight="bold")
        yield label(shortened(part.name, width - start - 6), start + 6, y + 4)


def budget_bar_text(budget: Budget, width: int = 61, *, ascii_only: bool = False) -> str:
    """The bar for a terminal: one line of signs, then one line a share.

    ``width``: columns, >= 20. ``ascii_only``: for a terminal or a file without Unicode. Raises
    InputError if the bar is too narrow.

    >>> from nearmark.measurement.budget import Component
    >>> rows = (Component("samples", 1, "g", 0.3), Component("gross", 1, "g", 0.1))
    >>> print(budget_bar_text(Budget("net mass", 1, "g", rows), 20, ascii_only=True))
    ##################==
    #  90 %  samples
    =  10 %  gross
    """
    if width < 20:
        raise InputError("needs 20 columns or more", where="bar width", value=width)
    signs = "#=+:." if ascii_only else "█▓▒░·"
    parts = segments(budget)
    if not parts:
        return _NOTHING
    bar = ""
    lines = []
    for i, (part, n) in enumerate(
        zip(parts, apportioned([p.share for p in parts], width), strict=True)
    ):
        sign = signs[-1 if part.joined else min(i, len(signs) - 1)]
        bar += sign * n
        lines.append(f"{sign} {percent_text(part):>5}  {part.name}")
    return "\n".join([bar, *lines])
