"""The little of SVG that the charts need: escaped text, plain attributes, no script, no address."""

from collections.abc import Iterable
from html import escape
from zlib import crc32

from nearmark.charts.tokens import FONT, INK

TEXT_PX = 11
"""Size of every text in a chart."""

_MEAN_ADVANCE = 0.55
"""Allowed width of a character by its size; measured: 0.44 in text, 0.48 bold, 0.64 in capitals."""

_CONTROLS = (*range(32), 0x7F, 0xFFFE, 0xFFFF)
_DIRECTIONS = (*range(0x202A, 0x202F), *range(0x2066, 0x206A))
_FORBIDDEN = dict.fromkeys(_CONTROLS, " ") | dict.fromkeys(_DIRECTIONS, "")
"""What XML 1.0 cannot hold even escaped (clause 2.2), and the signs that force a direction on all
that follows them: right-to-left names need none of these, a prank does."""


def clean(text: str) -> str:
    """Text without control characters, direction overrides and lone surrogates.

    >>> clean("a" + chr(0) + "b")
    'a b'
    """
    return text.translate(_FORBIDDEN).encode("utf-8", "replace").decode("utf-8")


def element(name: str, *children: str, **attributes: str | float) -> str:
    """One element; an underscore in an attribute's name means a hyphen.

    ``children``: elements already made, or text already escaped. ``attributes``: numbers are in px
    and rounded to a hundredth.

    >>> element("rect", x=1.50, width=3, stroke_width=0.5)
    '<rect x="1.5" width="3" stroke-width="0.5"/>'
    """
    head = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(_value(value))}"'
        for key, value in attributes.items()
    )
    return f"<{name}{head}>{''.join(children)}</{name}>" if children else f"<{name}{head}/>"


def _value(value: str | float) -> str:
    return clean(value) if isinstance(value, str) else f"{round(value, 2) + 0.0:g}"


def label(text: str, x: float, y: float, **attributes: str | float) -> str:
    """One line of text, its baseline at ``y``.

    >>> label("a < b", 0, 9, fill="#000")
    '<text x="0" y="9" fill="#000">a &lt; b</text>'
    """
    return element("text", escape(clean(text), quote=False), x=x, y=y, **attributes)


def text_width(text: str) -> float:
    """About how wide a line of chart text is, in px."""
    return _MEAN_ADVANCE * TEXT_PX * len(text)


def shortened(text: str, width_px: float) -> str:
    """Text cut with an ellipsis so that it is about as wide as allowed.

    >>> shortened("repeatability of the samples", 90)
    'repeatability…'
    """
    most = max(int(width_px / (_MEAN_ADVANCE * TEXT_PX)), 1)
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def drawing(
    shapes: Iterable[str], *, width: float, height: float, title: str, description: str
) -> str:
    """A whole picture that a screen reader can tell: a title, a description, the shapes.

    ``shapes``: elements, painted in this order. ``width``, ``height``: px. Returns: one ``<svg>``
    element, fit for a page or a file of its own.
    """
    # Several drawings may stand in one page: the names of two different ones must differ.
    # The same may stand there in two sizes.
    told = f"{width:g} {height:g} {title}{description}"
    own = f"d{crc32(told.encode('utf-8', 'replace')):08x}"
    return element(
        "svg",
        element("title", escape(clean(title), quote=False) or " ", id=f"{own}-t"),
        element("desc", escape(clean(description), quote=False) or " ", id=f"{own}-d"),
        *shapes,
        xmlns="http://www.w3.org/2000/svg",
        width=width,
        height=height,
        viewBox=f"0 0 {width:g} {height:g}",
        role="img",
        aria_labelledby=f"{own}-t {own}-d",
        font_family=f"{FONT}, sans-serif",
        font_size=TEXT_PX,
        fill=INK,
    )
