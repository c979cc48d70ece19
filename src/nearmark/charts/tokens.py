"""The design tokens: paper, ink, one accent, one tint, one scale of sizes.

Screen, print and charts take every colour and size from here, so that they stay one look: calm
like a laboratory notebook, ruler ticks as the one ornament.  ``docs/develop/look.md`` says why.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

PAPER: Final = "#fcfbf6"
"""Ground of a page on a screen; print leaves the paper as it is."""

WHITE: Final = "#ffffff"
"""Ground of a printed page, and the inside of an open mark."""

INK: Final = "#1b2730"
"""Text, axes and outlines."""

INK_SOFT: Final = "#55616a"
"""Secondary text and the marks of the others."""

RULE: Final = "#b4bbb8"
"""Hairlines between rows: ornament only, never the carrier of a meaning."""

ACCENT: Final = "#0f6657"
"""The one accent: this pair's mark, the largest share."""

BAND: Final = "#d9eae2"
"""The 90 to 110 % band, everywhere; a tint of the accent, light grey in print without colour."""

FONT: Final = "Atkinson Hyperlegible"
"""Ships with the package for print; a screen without it takes its own sans serif."""

SIZES_PT: Final[Mapping[str, float]] = MappingProxyType(
    {"small": 8.0, "body": 10.0, "lead": 12.5, "title": 19.0, "answer": 44.0}
)
"""The scale of sizes; each step is about 1.25, or two or three such steps, above the last."""

LARGE_SIZES_PT: Final[Mapping[str, float]] = MappingProxyType(
    {"small": 14.0, "body": 18.0, "lead": 20.0, "title": 26.0, "answer": 48.0}
)
"""Large print: what is read is 18 pt or more (common practice, no source)."""

STROKES_PT: Final[Mapping[str, float]] = MappingProxyType({"hair": 0.4, "line": 0.8, "strong": 1.4})


def as_mapping() -> dict[str, object]:
    """The tokens as plain values, the form in which templates get them.

    Returns: ``paper``, ``ink``, ``ink_soft``, ``rule``, ``accent``, ``band``, ``font`` (text),
    ``sizes_pt`` and ``strokes_pt`` (name -> points).
    """
    return {
        "paper": PAPER,
        "ink": INK,
        "ink_soft": INK_SOFT,
        "rule": RULE,
        "accent": ACCENT,
        "band": BAND,
        "font": FONT,
        "sizes_pt": dict(SIZES_PT),
        "strokes_pt": dict(STROKES_PT),
    }
