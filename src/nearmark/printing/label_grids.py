"""Grids of ready-cut label sheets, by rows, columns and measures; no maker's names or numbers."""

import re
from dataclasses import dataclass
from typing import Final

from nearmark.errors import InputError

_SHEETS_MM: Final = {"a4": (210.0, 297.0), "us-letter": (215.9, 279.4)}
"""Width and height (ISO 216; ANSI/ASME Y14.1, from memory)."""

MIN_LABEL_MM: Final = (60.0, 30.0)
"""Width and height that a code, a name and what is forbidden need."""

_GRID: Final = re.compile(
    r"(\d{1,2})x(\d{1,2})(?::(\d+(?:\.\d+)?),(\d+(?:\.\d+)?)(?:,(\d+(?:\.\d+)?)(?:,(\d+(?:\.\d+)?))?)?)?",
    re.ASCII,
)


@dataclass(frozen=True, slots=True)
class LabelGrid:
    """Where the labels of a sheet lie."""

    rows: int
    columns: int
    # From the edge of the sheet to the first label, the same on the far side (mm).
    top_mm: float = 0.0
    left_mm: float = 0.0
    # Between two labels (mm).
    across_gap_mm: float = 0.0
    down_gap_mm: float = 0.0
    is_cut: bool = False  # plain paper with cut marks, to be cut by hand

    def label_mm(self, paper: str) -> tuple[float, float]:
        """Width and height of one label (mm).

        ``paper``: ``a4`` or ``us-letter``. Raises InputError if they would be too small to read.
        """
        wide, high = _SHEETS_MM[paper]
        across = (wide - 2 * self.left_mm - (self.columns - 1) * self.across_gap_mm) / self.columns
        down = (high - 2 * self.top_mm - (self.rows - 1) * self.down_gap_mm) / self.rows
        if across < MIN_LABEL_MM[0] or down < MIN_LABEL_MM[1]:
            raise InputError(
                f"leaves labels of {across:.1f} x {down:.1f} mm",
                where="label grid",
                mend="A label must be 60 x 30 mm or more: measure the sheet again",
            )
        return across, down


CUT_MARKS: Final = LabelGrid(4, 2, is_cut=True)
"""Plain paper, eight a page."""

STATED: Final[dict[str, LabelGrid]] = {
    "cut": CUT_MARKS,
    "4x2": LabelGrid(4, 2, 13.0, 4.7, 2.5),
    "7x2": LabelGrid(7, 2, 15.1, 4.7, 2.5),
    "5x2": LabelGrid(5, 2, 12.7, 4.0, 4.8),
}
"""Usual sheets by measures (common practice, no source): on A4 eight labels of 99.1 x 67.8 mm and
fourteen of 99.1 x 38.1 mm; on US letter ten of 101.6 x 50.8 mm."""

STATED_FOR: Final = {"a4": ("4x2", "7x2"), "us-letter": ("5x2",)}
"""The ready-cut ones of a paper, by name."""


def label_grid(text: str) -> LabelGrid:
    """A grid by its name, or by its measures in mm.

    ``text``: ``cut``, ``4x2``, ``7x2``, ``5x2``; or ROWSxCOLUMNS:TOP,LEFT[,ACROSS GAP[,DOWN GAP]].
    Raises InputError if it is neither.

    >>> label_grid("6x3:10,8,2")
    LabelGrid(rows=6, columns=3, top_mm=10.0, left_mm=8.0, across_gap_mm=2.0, \
down_gap_mm=0.0, is_cut=False)
    """
    if text in STATED:
        return STATED[text]
    found = _GRID.fullmatch(text)
    if found is None or not int(found[1]) or not int(found[2]) or found[3] is None:
        raise InputError(
            "is no label grid",
            where="label grid",
            value=text[:40],
            mend=f"Choose {', '.join(STATED)}, or write rows x columns and margins in mm: "
            "7x2:15.1,4.7,2.5 (top, left, gap across)",
        )
    rows, columns = int(found[1]), int(found[2])
    top, left, across, down = (float(mm or 0) for mm in found.groups()[2:])
    return LabelGrid(rows, columns, top, left, across, down)
