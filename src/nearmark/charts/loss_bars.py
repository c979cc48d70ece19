"""Where the points go: one bar a part, the largest first, as SVG."""

from collections.abc import Iterable, Mapping
from typing import Final

from nearmark.charts.svg import drawing, element, label, shortened, text_width
from nearmark.charts.tokens import ACCENT, INK, INK_SOFT, WHITE
from nearmark.errors import InputError

_ROW = 22.0
_BAR = 12.0
_NAMES = 128.0
_NUMBERS = 46.0
_NARROWEST = 260
_NEAR_ZERO: Final = 0.05
"""Points that print as zero."""


def loss_bars_svg(
    by_part: Mapping[str, float], *, width_px: float = 420, title: str = "Where the points go"
) -> str:
    """Points lost by each part; a part that won points back has an open bar.

    Parameters
    ----------
    by_part : mapping of part -> points
        Lost an attempt; below zero: it cancelled another part's error.
    width_px : px, >= 260
    title : str
        Told by a screen reader, not drawn.

    Raises
    ------
    InputError
        If it is too narrow.

    Examples
    --------
    >>> picture = loss_bars_svg({"the method": 1.0, "the layer count": 15.5})
    >>> "the layer count 15.5, the method 1.0" in picture
    True
    """
    if not width_px >= _NARROWEST:
        raise InputError(f"bars need {_NARROWEST} px or more", where="bar width", value=width_px)
    parts = sorted(by_part.items(), key=lambda part: -part[1])
    told = ", ".join(f"{name} {_points(points)}" for name, points in parts) or "nothing"
    return drawing(
        _rows(parts, width_px),
        width=width_px,
        height=max(_ROW * len(parts), _ROW),
        title=title,
        description=f"Points lost an attempt: {told}.",
    )


def _points(points: float) -> str:
    if abs(points) < _NEAR_ZERO:
        return "0.0"
    return f"{points:.1f}".replace("-", "−")  # noqa: RUF001 - a real minus


def _rows(parts: list[tuple[str, float]], width: float) -> Iterable[str]:
    most = max((abs(points) for _, points in parts), default=0.0)
    room = width - _NAMES - _NUMBERS - 2
    for i, (name, points) in enumerate(parts):
        y = _ROW * i
        length = room * abs(points) / most if most > _NEAR_ZERO else 0.0
        fill = WHITE if points < 0 else ACCENT
        yield label(shortened(name, _NAMES), 0, y + 15, fill=INK)
        yield element(
            "rect",
            x=_NAMES,
            y=y + 5,
            width=max(length, 0.8),
            height=_BAR,
            fill=fill,
            stroke=INK if points < 0 else ACCENT,
            stroke_width=0.8,
        )
        shown = _points(points)
        x = _NAMES + length + 6
        yield label(shown, x, y + 15, font_weight="bold" if i == 0 else "normal", fill=INK)
        if points <= -_NEAR_ZERO:
            yield label("luck", x + text_width(shown) + 6, y + 15, fill=INK_SOFT)
