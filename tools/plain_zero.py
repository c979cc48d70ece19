"""Draws the font whose only digit is a zero without a stroke, for what children read.

Atkinson Hyperlegible has a slashed zero and no feature that leaves the stroke out.  Our own zero is
a ring of two ovals, as wide as that font's tabular figures.  Not part of the tests: it needs
fontTools, which nothing else here does (python -m venv DIR; DIR/bin/pip install fonttools), and
writes two files of some 900 bytes into the fonts of the papers and of the site.
"""

import math
import sys
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

SOURCE = Path(__file__).parents[1] / "src" / "nearmark"
FOLDERS = (SOURCE / "printing" / "fonts", SOURCE / "site" / "static" / "shared" / "fonts")
FAMILY = "Nearmark Plain Zero"
ADVANCE = {"Regular": 639, "Bold": 632}
"""Of the tabular figures beside it (units of 1/1000 em)."""

WIDE = {"Regular": 528, "Bold": 573}
STEM = {"Regular": (84, 72), "Bold": (150, 112)}
"""Width of the ring at its sides and at its top (units of 1/1000 em)."""

TOP, BOTTOM = 680, -12
N_ARCS = 16
"""Quadratic arcs of an oval; each bends by less than a unit from the true one."""


def oval(
    pen: TTGlyphPen, centre: tuple[float, float], radii: tuple[float, float], turn: int
) -> None:
    """One closed oval, clockwise for ``turn`` -1."""
    step = turn * 2 * math.pi / N_ARCS
    out = 1 / math.cos(step / 2)  # where two tangents meet

    def at(angle: float, scale: float = 1.0) -> tuple[int, int]:
        x = centre[0] + scale * radii[0] * math.cos(angle)
        return round(x), round(centre[1] + scale * radii[1] * math.sin(angle))

    pen.moveTo(at(0.0))
    for k in range(N_ARCS):
        pen.qCurveTo(at((k + 0.5) * step, out), at((k + 1) * step))
    pen.closePath()


def draw(style: str) -> None:
    """Write one weight."""
    middle = (ADVANCE[style] / 2, (TOP + BOTTOM) / 2)
    radii = (WIDE[style] / 2, (TOP - BOTTOM) / 2)
    side, top = STEM[style]
    pen = TTGlyphPen(None)
    oval(pen, middle, radii, -1)
    oval(pen, middle, (radii[0] - side, radii[1] - top), 1)
    empty, zero = TTGlyphPen(None).glyph(), pen.glyph()
    font = FontBuilder(1000, isTTF=True)
    font.setupGlyphOrder([".notdef", "zero"])
    font.setupCharacterMap({ord("0"): "zero"})
    font.setupGlyf({".notdef": empty, "zero": zero})
    # A browser moves a glyph until its left edge is where this table says that it is.
    left = round(middle[0] - radii[0])
    font.setupHorizontalMetrics({".notdef": (ADVANCE[style], 0), "zero": (ADVANCE[style], left)})
    font.setupHorizontalHeader(ascent=950, descent=-290)
    font.setupNameTable(
        {"familyName": FAMILY, "styleName": style, "psName": f"NearmarkPlainZero-{style}"}
    )
    weight = 700 if style == "Bold" else 400
    font.setupOS2(usWeightClass=weight, sTypoAscender=950, sTypoDescender=-290, sCapHeight=668)
    font.setupPost()
    font.font["head"].created = font.font["head"].modified = 0
    font.font.recalcTimestamp = False
    for folder in FOLDERS:
        font.save(folder / f"NearmarkPlainZero-{style}.ttf")


if __name__ == "__main__":
    for name in STEM:
        draw(name)
    sys.stdout.write("two weights in two folders\n")
