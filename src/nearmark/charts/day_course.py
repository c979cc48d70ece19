"""The course of a day in one room as SVG: who works and who waits at each station, as bands."""

from collections.abc import Iterable, Sequence
from datetime import time
from typing import Final

from nearmark.charts.svg import TEXT_PX, drawing, element, label, text_width
from nearmark.charts.tokens import ACCENT, BAND, INK, INK_SOFT, RULE
from nearmark.contest.day_flow.bands import Band
from nearmark.contest.day_flow.over_time import BandLine, RoomOverTime, SpotOverTime
from nearmark.errors import InputError
from nearmark.words.day_course import at_work, course_words, end_label, spot_name, tick, waiting

NARROWEST_PX: Final = 300
_LEFT: Final = 44.0
_RIGHT: Final = 10.0
_HEAD: Final = 30.0
_PANEL: Final = 108.0
"""Height of one station with its name."""

_PLOT: Final = 78.0
_FOOT: Final = 24.0
_STEPS_MIN: Final = (10, 15, 30, 60, 120, 240)


def day_course_svg(
    course: RoomOverTime, *, start: time | None = None, width_px: float = 720, title: str
) -> str:
    """One room over the day: what works goes up from a line, what waits goes down.

    A tint holds eight days of ten, a line is the middle day; a dashed line says how many there is
    room for. ``start``: of the first heat; without it the axis counts hours. ``width_px``: px, >=
    300. ``title``: read by a screen reader, not drawn. Raises InputError if it is too narrow.

    >>> from nearmark.contest.day_flow.options import DayOptions
    >>> from nearmark.contest.day_flow.summary import day_bands
    >>> course = day_bands(DayOptions(pairs=4).planned(), n_days=2).rooms[0].over_time
    >>> "Scales: at most" in day_course_svg(course, title="Room 1")
    True
    """
    if not width_px >= NARROWEST_PX:
        raise InputError(
            f"a course needs {NARROWEST_PX} px or more", where="width of the course", value=width_px
        )
    last = max(course.times_min[-1], course.end_min.high)
    scale = _Across(last, width_px)
    foot = _HEAD + _PANEL * len(course.spots)
    shapes = [
        *_end(course.end_min, scale, foot),
        *_heats(course.starts_min, scale, foot),
        *(
            shape
            for k, spot in enumerate(course.spots)
            for shape in _station(spot, course, scale, _HEAD + _PANEL * k)
        ),
        *_axis(scale, foot, start),
    ]
    return drawing(
        shapes,
        width=width_px,
        height=foot + _FOOT,
        title=title,
        description=" ".join(course_words(course, start)),
    )


class _Across:
    """Minutes of the day as px."""

    def __init__(self, last_min: float, width: float) -> None:
        self.last_min, self.right = last_min, width - _RIGHT
        self.px_a_minute = (self.right - _LEFT) / last_min

    def x(self, minutes: float) -> float:
        return _LEFT + self.px_a_minute * minutes


def _end(end: Band, scale: _Across, foot: float) -> Iterable[str]:
    """When the last pair leaves: a tint over all stations, and the middle day."""
    left, right = scale.x(end.low), scale.x(end.high)
    yield element(
        "rect", x=left, y=_HEAD - 8, width=max(right - left, 1), height=foot - _HEAD + 8, fill=BAND
    )
    x = scale.x(end.usual)
    yield element("line", x1=x, y1=_HEAD - 8, x2=x, y2=foot, stroke=INK, stroke_width=1.2)
    yield label(end_label(), scale.right, 11, text_anchor="end", fill=INK)


def _heats(starts: Sequence[Band], scale: _Across, foot: float) -> Iterable[str]:
    """A line where each heat begins; its number where there is room."""
    free_from = _LEFT - 20
    words_from = scale.right - text_width(end_label()) - 6
    for number, start in enumerate(starts, start=1):
        x, text = scale.x(start.usual), str(number)
        yield element("line", x1=x, y1=_HEAD - 8, x2=x, y2=foot, stroke=RULE, stroke_width=0.8)
        if x >= free_from and x + text_width(text) < words_from:
            yield label(text, x, 11, text_anchor="middle", fill=INK_SOFT)
            free_from = x + text_width(text) + 8


def _station(spot: SpotOverTime, course: RoomOverTime, scale: _Across, top: float) -> Iterable[str]:
    times = course.times_min
    most_up = max(*spot.busy.high, float(min(spot.room_for, 2 * max(spot.busy.high))), 1.0)
    most_down = max(*spot.queue.high, 1.0)
    plot_top = top + 22
    px = _PLOT / (most_up + most_down)
    base = plot_top + px * most_up
    yield label(spot_name(spot.spot), _LEFT + 4, top + 14, font_weight="bold", fill=INK)
    for line, sign in ((spot.busy, -1.0), (spot.queue, 1.0)):
        yield from _band(line, times, scale, base, sign * px)
    if spot.room_for <= most_up:
        y = base - px * spot.room_for
        yield _line(y, scale, stroke=INK_SOFT, stroke_dasharray="4 3", stroke_width=0.8)
        yield _number(spot.room_for, min(y, base - TEXT_PX))
    yield _line(base, scale, stroke=INK, stroke_width=1.0)
    yield _number(0, base)
    # Left of the end of the day, where hardly anybody waits.
    x = scale.x(course.end_min.low) - 5
    yield label(at_work(), x, plot_top - 8, text_anchor="end", fill=INK_SOFT)
    if max(spot.queue.high) >= 1:
        y = base + px * max(spot.queue.high)
        yield _number(round(max(spot.queue.high)), max(y, base + TEXT_PX))
        yield label(waiting(), x, plot_top + _PLOT + 4, text_anchor="end", fill=INK_SOFT)


def _band(
    line: BandLine, times: Sequence[float], scale: _Across, base: float, px: float
) -> Iterable[str]:
    upper = [f"{scale.x(t):.1f} {base + px * v:.1f}" for t, v in zip(times, line.high, strict=True)]
    lower = [f"{scale.x(t):.1f} {base + px * v:.1f}" for t, v in zip(times, line.low, strict=True)]
    middle = [
        f"{scale.x(t):.1f} {base + px * v:.1f}" for t, v in zip(times, line.usual, strict=True)
    ]
    yield element("path", d=f"M{'L'.join([*upper, *reversed(lower)])}Z", fill=ACCENT, opacity=0.3)
    yield element(
        "path",
        d=f"M{'L'.join(middle)}",
        fill="none",
        stroke=ACCENT,
        stroke_width=1.5,
        stroke_linejoin="round",
    )


def _line(y: float, scale: _Across, **attributes: str | float) -> str:
    return element("line", x1=_LEFT, y1=y, x2=scale.right, y2=y, **attributes)


def _number(n: int, y: float) -> str:
    return label(str(n), _LEFT - 5, y + 4, text_anchor="end", fill=INK_SOFT)


def _axis(scale: _Across, foot: float, start: time | None) -> Iterable[str]:
    widest = text_width(tick(0, start)) + 16
    step = next((s for s in _STEPS_MIN if s * scale.px_a_minute >= widest), _STEPS_MIN[-1])
    minutes = 0
    while minutes <= scale.last_min:
        x = scale.x(minutes)
        yield element("line", x1=x, y1=foot, x2=x, y2=foot + 5, stroke=INK, stroke_width=0.8)
        text = tick(minutes, start)
        anchor = "end" if x + widest / 2 > scale.right + _RIGHT else "middle"
        yield label(text, x, foot + 18, text_anchor=anchor, fill=INK_SOFT)
        minutes += step
