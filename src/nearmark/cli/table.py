"""Tables in the terminal at any width: a number is never cut, and what has no room is named."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

GAP: Final = "  "
USUAL_TEXT: Final = 20
"""Columns a text keeps beside columns that may go."""
MIN_TEXT: Final = 8
"""Columns to which a text is squeezed when nothing more can go."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: whole in every row, unless it says otherwise."""

    heading: str
    right: bool = False  # aligned to the right, as numbers are
    wraps: bool = False  # words, which may go on in the next line
    may_go: bool = False  # left out where there is no room, the last one first
    style: str = ""


@dataclass(frozen=True, slots=True)
class _Shown:
    """A column with its cells."""

    column: Column
    cells: tuple[Text, ...]

    @property
    def natural(self) -> int:
        return max([cell_len(self.column.heading), *(cell.cell_len for cell in self.cells)])

    def least(self, text: int) -> int:
        """The columns it must have: all, or ``text`` if it wraps."""
        return min(self.natural, text) if self.column.wraps else self.natural


def show_table(
    out: Console, columns: Sequence[Column], rows: Sequence[Sequence[str | Text]]
) -> None:
    """Print a table; piped, every row is one line however long.

    ``rows``: a cell for every column.
    """
    cells = zip(*rows, strict=True) if rows else [()] * len(columns)
    shown = [
        _Shown(column, tuple(Text(cell) if isinstance(cell, str) else cell for cell in each))
        for column, each in zip(columns, cells, strict=True)
    ]
    left_out: list[str] = []
    if not out.soft_wrap:
        while _width(shown, USUAL_TEXT) > out.width and any(each.column.may_go for each in shown):
            last = next(each for each in reversed(shown) if each.column.may_go)
            shown.remove(last)
            left_out.insert(0, last.column.heading)
        if _width(shown, MIN_TEXT) > out.width:
            _show_as_lines(out, shown)
            return _say_left_out(out, left_out)
    widths = _widths(shown, None if out.soft_wrap else out.width)
    for line in _lines(out, shown, widths):
        out.print(line, soft_wrap=True)
    return _say_left_out(out, left_out)


def _width(shown: Sequence[_Shown], text: int) -> int:
    return sum(each.least(text) for each in shown) + len(GAP) * (len(shown) - 1)


def _widths(shown: Sequence[_Shown], room: int | None) -> list[int]:
    """What each column gets: the narrowest text grows first."""
    if room is None:
        return [each.natural for each in shown]
    widths = [each.least(MIN_TEXT) for each in shown]
    spare = room - _width(shown, MIN_TEXT)
    while spare > 0:
        growing = [n for n, each in enumerate(shown) if widths[n] < each.natural]
        if not growing:
            break
        widths[min(growing, key=lambda n: widths[n])] += 1
        spare -= 1
    return widths


def _lines(out: Console, shown: Sequence[_Shown], widths: Sequence[int]) -> Iterator[Text]:
    rows = [tuple(Text(each.column.heading, "bold") for each in shown)]
    rows += zip(*(each.cells for each in shown), strict=True)
    for n, row in enumerate(rows):
        parts = [
            cell.wrap(out, width, overflow="fold") if cell else [Text()]
            for cell, width in zip(row, widths, strict=True)
        ]
        for line in range(max(map(len, parts))):
            cells = [part[line] if line < len(part) else Text() for part in parts]
            for cell, each, width in zip(cells, shown, widths, strict=True):
                cell.rstrip()
                cell.align("right" if each.column.right else "left", width)
                if n and each.column.style:
                    cell.stylize(each.column.style)
            joined = Text(GAP).join(cells)
            joined.rstrip()
            yield joined


def _show_as_lines(out: Console, shown: Sequence[_Shown]) -> None:
    """One line a cell, where not even the numbers fit beside each other."""
    for row in zip(*(each.cells for each in shown), strict=True):
        for each, cell in zip(shown, row, strict=True):
            if cell:
                head = f"{each.column.heading}: " if each.column.heading else ""
                out.print(Text.assemble(head, cell))
        out.print()


def _say_left_out(out: Console, headings: Sequence[str]) -> None:
    if headings:
        out.print(
            Text(
                f"No room here for {', '.join(headings)}: make the window wider, or send the "
                "output into a file.",
                "dim",
            )
        )
