"""The strip for a terminal: three lines that align, and a legend."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nearmark.charts.marks import BAND, EDGE, Mark, MarkKind, widest_percent
from nearmark.charts.strip import check_interval
from nearmark.errors import InputError
from nearmark.words.deviations import key_known, n_others_words, of_whom

_NARROWEST = 25


@dataclass(frozen=True, slots=True)
class _Signs:
    """The characters of one style; one column each."""

    kinds: dict[MarkKind, str]
    beyond: tuple[str, str]
    line: str
    ends: tuple[str, str]
    band: str
    key: str
    bracket: str
    minus: str


_UNICODE = _Signs(
    {MarkKind.THIS: "◆", MarkKind.MEAN: "○", MarkKind.OTHER: "│"},
    beyond=("◀", "▶"),
    line="─",
    ends=("├", "┤"),
    band="▒",
    key="┃",
    bracket="═",
    minus="−",  # noqa: RUF001 - a real minus
)
_ASCII = _Signs(
    {MarkKind.THIS: "X", MarkKind.MEAN: "o", MarkKind.OTHER: "'"},
    beyond=("<", ">"),
    line="-",
    ends=("[", "]"),
    band="=",
    key="|",
    bracket="#",
    minus="-",
)


def strip_text(
    marks: Iterable[Mark],
    width: int = 61,
    *,
    interval: tuple[float, float] | None = None,
    ascii_only: bool = False,
) -> str:
    """The strip as lines of text: marks, axis with band and bracket, numbers, legend.

    ``width`` (columns, >= 25): an even width is used less one, so that the true value has a column
    of its own. ``interval`` ((low, high) ratios, or None): 95 % interval of the true value divided
    by the true value. ``ascii_only``: for a terminal or a file without Unicode. Returns: lines
    whose columns agree; no line end after the last. Raises InputError if the width is too small or
    the interval is not two ratios in order.

    >>> print(strip_text([Mark(0.88, "P07", MarkKind.THIS), Mark(1.3)], 41, ascii_only=True))
                    X           '
    [----------------===|===----------------]
    half    -30 %      key      +40 %  double
    X P07: 12 % low   ' 1 other
    """
    if width < _NARROWEST:
        raise InputError(f"needs {_NARROWEST} columns or more", where="strip width", value=width)
    check_interval(interval)
    shown = tuple(marks)
    signs = _ASCII if ascii_only else _UNICODE
    columns = width - (width % 2 == 0)
    lines = [
        _mark_line(shown, columns, signs),
        _axis_line(interval, columns, signs),
        _number_line(columns, signs),
        *_wrapped(_entries(shown, interval, signs), columns),
    ]
    return "\n".join(line.rstrip() for line in lines)


def _column(ratio: float, columns: int) -> int:
    x = math.log(ratio) if ratio > 0 else -EDGE
    half = columns // 2
    return half + round(max(-EDGE, min(EDGE, x)) / EDGE * half)


def _mark_line(marks: Sequence[Mark], columns: int, signs: _Signs) -> str:
    """Later kinds overwrite earlier ones: this pair's mark is never hidden."""
    line = [" "] * columns
    for kind in (MarkKind.OTHER, MarkKind.MEAN, MarkKind.THIS):
        for mark in marks:
            if mark.kind is kind:
                sign = signs.kinds[kind]
                if mark.side:
                    sign = signs.beyond[mark.side > 0]
                line[_column(mark.ratio, columns)] = sign
    return "".join(line)


def _axis_line(interval: tuple[float, float] | None, columns: int, signs: _Signs) -> str:
    line = [signs.line] * columns
    _fill(line, BAND, signs.band)
    if interval is not None:
        _fill(line, interval, signs.bracket)
    line[columns // 2] = signs.key
    line[0], line[-1] = signs.ends
    return "".join(line)


def _fill(line: list[str], ratios: tuple[float, float], sign: str) -> None:
    first, last = (_column(ratio, len(line)) for ratio in ratios)
    line[first : last + 1] = sign * (last + 1 - first)


def _number_line(columns: int, signs: _Signs) -> str:
    """Words under their columns; the inner ones only where they do not touch."""
    line = list("half".ljust(columns - 6) + "double")
    words = [(1.0, "key"), (0.7, f"{signs.minus}30 %"), (1.4, "+40 %")]
    for ratio, word in words:
        start = _column(ratio, columns) - len(word) // 2
        around = line[start - 1 : start + len(word) + 1]
        if not "".join(around).strip():
            line[start : start + len(word)] = word
    return "".join(line)


def _entries(
    marks: Sequence[Mark], interval: tuple[float, float] | None, signs: _Signs
) -> Iterable[str]:
    """The legend: named marks with their error, how many others, how well the key is known."""
    named = [m for m in marks if m.label or m.kind is not MarkKind.OTHER]
    for mark in named:
        yield f"{signs.kinds[mark.kind]} {of_whom(mark.label or mark.kind.value, mark.ratio)}"
    n_others = len(marks) - len(named)
    if n_others:
        yield f"{signs.kinds[MarkKind.OTHER]} {n_others_words(n_others)}"
    if interval is not None:
        yield f"{signs.bracket} {key_known(widest_percent(interval))}"


def _wrapped(entries: Iterable[str], columns: int) -> list[str]:
    """As many entries to a line as fit."""
    lines: list[str] = []
    for entry in entries:
        if lines and len(lines[-1]) + 3 + len(entry) <= columns:
            lines[-1] += "   " + entry
        else:
            lines.append(entry)
    return lines
