"""The trend: one pupil's attempts from session to session on the strip's axis, as SVG."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final

from nearmark.charts.marks import BAND, EDGE, ENDS
from nearmark.charts.svg import drawing, element, label, text_width
from nearmark.charts.tokens import ACCENT, INK, INK_SOFT, RULE, WHITE
from nearmark.charts.tokens import BAND as BAND_TINT
from nearmark.errors import InputError
from nearmark.words.deviations import likely_slips, next_expected, no_session, sessions_words

_LEFT = 52.0
_NEXT = 62.0
"""px at the right, where the next attempt is expected."""

_TOP = 12.0
_PLOT = 180.0
_FOOT = 22.0
_NARROWEST = 260
_SPREAD = 0.6
"""Share of a session's column over which its attempts lie side by side."""

_LABELS: Final = ((2.0, "double"), (1.1, "+10 %"), (1.0, "true"), (0.9, "−10 %"), (0.5, "half"))  # noqa: RUF001 - a real minus


@dataclass(frozen=True, slots=True)
class Session:
    """The attempts of one day."""

    label: str  # the day, as printed
    ratios: tuple[float, ...]  # estimate divided by the true value (dimensionless, > 0, n >= 1)
    slips: tuple[bool, ...] = ()  # which of them are slips more likely than not; empty: none

    def __post_init__(self) -> None:
        if not self.ratios or not all(math.isfinite(r) and r > 0 for r in self.ratios):
            raise InputError(
                "must hold ratios above zero", where=f"session {self.label}", value=self.ratios
            )

    @property
    def middle(self) -> float | None:
        """Median of the ratios that are no slips; ``None`` when all are."""
        kept = [r for r, slip in zip(self.ratios, self.is_slip, strict=True) if not slip]
        return median(kept) if kept else None

    @property
    def is_slip(self) -> tuple[bool, ...]:
        """Of each ratio."""
        return self.slips or (False,) * len(self.ratios)


def trend_svg(
    sessions: Iterable[Session],
    *,
    band: tuple[float, float] | None = None,
    width_px: float = 520,
    title: str = "From session to session",
) -> str:
    """The trend as one SVG element: a diamond a session, a small circle an attempt, a cross a slip.

    ``sessions``: oldest first. ``band`` ((low, high) ratios, or None): holds the next attempt four
    times in five; drawn at the right. ``width_px``: px, >= 260. ``title``: read by a screen reader,
    not drawn. Raises InputError if it is too narrow, or the band is not two ratios in order.

    >>> picture = trend_svg([Session("3 Feb", (0.8, 0.9)), Session("10 Feb", (0.95,))])
    >>> "from 15 % low to 5 % low" in picture
    True
    """
    shown = tuple(sessions)
    if not width_px >= _NARROWEST:
        raise InputError(
            f"a trend needs {_NARROWEST} px or more", where="trend width", value=width_px
        )
    if band is not None and not 0 < band[0] <= band[1] < math.inf:
        raise InputError("must be two ratios in order", where="band of the trend", value=band)
    centres = _centres(len(shown), width_px)
    shapes = [
        *_ground(width_px),
        *_next(band, width_px),
        *_attempts(shown, centres, width_px),
        *_middles(shown, centres),
        *_days(shown, centres, width_px),
    ]
    return drawing(
        shapes,
        width=width_px,
        height=_TOP + _PLOT + _FOOT,
        title=title,
        description=trend_words(shown, band),
    )


def trend_words(sessions: Sequence[Session], band: tuple[float, float] | None) -> str:
    """What the trend shows, in words.

    ``band``: (low, high) ratios, or None.

    >>> trend_words([Session("3 Feb", (0.8,)), Session("10 Feb", (3.0, 0.9), (True, False))], None)
    '2 sessions; the middle answer went from 20 % low to 10 % low. 1 likely slip.'
    """
    if not sessions:
        return no_session()
    n, slips = len(sessions), sum(sum(each.is_slip) for each in sessions)
    middles = [each.middle for each in sessions if each.middle is not None]
    parts = [sessions_words(n, middles)]
    if slips:
        parts.append(likely_slips(slips))
    if band is not None:
        parts.append(next_expected(*band))
    return ". ".join(parts) + "."


def _y(ratio: float) -> float:
    """Height of a ratio in px, kept on the axis."""
    return _TOP + _PLOT / 2 * (1 - max(-EDGE, min(EDGE, math.log(ratio))) / EDGE)


def _centres(n: int, width: float) -> list[float]:
    step = (width - _LEFT - _NEXT) / max(n, 1)
    return [_LEFT + step * (i + 0.5) for i in range(n)]


def _ground(width: float) -> Iterable[str]:
    right, (low, high) = width - 2, BAND
    yield element(
        "rect", x=_LEFT, y=_y(high), width=right - _LEFT, height=_y(low) - _y(high), fill=BAND_TINT
    )
    for ratio, text in _LABELS:
        y = _y(ratio)
        stroke = INK if ratio == 1.0 else RULE
        yield element("line", x1=_LEFT, y1=y, x2=right, y2=y, stroke=stroke, stroke_width=0.8)
        yield label(text, _LEFT - 6, y + 4, text_anchor="end", fill=INK_SOFT)


def _next(band: tuple[float, float] | None, width: float) -> Iterable[str]:
    if band is None:
        return
    x, (low, high) = width - _NEXT / 2, band
    top, foot = _y(high), _y(low)
    yield element(
        "path",
        d=f"M{x - 7:g} {top:.2f}h14m-7 0V{foot:.2f}m-7 0h14",
        stroke=ACCENT,
        stroke_width=2.2,
        fill="none",
    )
    yield label("next", x, _TOP + _PLOT + 15, text_anchor="middle", fill=INK_SOFT)


def _attempts(sessions: Sequence[Session], centres: Sequence[float], width: float) -> Iterable[str]:
    column = (width - _LEFT - _NEXT) / max(len(sessions), 1)
    circles, crosses, arrows = [], [], []
    for session, centre in zip(sessions, centres, strict=True):
        n = len(session.ratios)
        for i, (ratio, slip) in enumerate(zip(session.ratios, session.is_slip, strict=True)):
            x = centre + _SPREAD * column * ((i + 0.5) / n - 0.5)
            if not ENDS[0] <= ratio <= ENDS[1]:
                arrows.append(_beyond(x, ratio))
            elif slip:
                crosses.append(f"M{x - 3.5:.2f} {_y(ratio) - 3.5:.2f}l7 7m0 -7l-7 7")
            else:
                circles.append(
                    f"M{x - 2.6:.2f} {_y(ratio):.2f}a2.6 2.6 0 1 0 5.2 0a2.6 2.6 0 1 0 -5.2 0"
                )
    if circles:
        yield element("path", d="".join(circles), stroke=INK_SOFT, stroke_width=1, fill=WHITE)
    if crosses:
        yield element("path", d="".join(crosses), stroke=INK, stroke_width=1.4, fill="none")
    if arrows:
        yield element("path", d="".join(arrows), stroke=INK, stroke_width=1, fill=WHITE)


def _beyond(x: float, ratio: float) -> str:
    """An arrow at the edge for what lies beyond half or double."""
    y, tip = (_TOP, -7) if ratio > 1 else (_TOP + _PLOT, 7)
    return f"M{x - 4.5:.2f} {y:g}l4.5 {tip}l4.5 {-tip}z"


def _middles(sessions: Sequence[Session], centres: Sequence[float]) -> Iterable[str]:
    drawn_at = zip(centres, sessions, strict=True)
    points = [(x, _y(each.middle)) for x, each in drawn_at if each.middle is not None]
    if len(points) > 1:
        line = "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points)
        yield element("path", d=line, stroke=ACCENT, stroke_width=1.6, fill="none")
    size = 6.0 if len(points) < 30 else 3.0
    marks = "".join(
        f"M{x:.2f} {y - size:.2f}l{size:g} {size:g}l{-size:g} {size:g}l{-size:g} {-size:g}z"
        for x, y in points
    )
    if marks:
        yield element("path", d=marks, fill=ACCENT, stroke=WHITE, stroke_width=0.8)


def _days(sessions: Sequence[Session], centres: Sequence[float], width: float) -> Iterable[str]:
    """The first and the last day, and those between for which there is room."""
    if not sessions:
        return
    widest = max(text_width(each.label) for each in sessions) + 10
    placed: list[float] = []
    order = sorted({0, len(sessions) - 1}) + list(range(1, len(sessions) - 1))
    for i in order:
        x = min(max(centres[i], widest / 2), width - _NEXT - widest / 2 + 10)
        if all(abs(x - other) >= widest for other in placed):
            placed.append(x)
            yield label(
                sessions[i].label, x, _TOP + _PLOT + 15, text_anchor="middle", fill=INK_SOFT
            )
