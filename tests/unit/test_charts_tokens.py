"""Contrast of the tokens against WCAG 2.1.

Formulas: W3C, WCAG 2.1, "contrast ratio" (opened as a stored copy of the W3C term file) and
"relative luminance" (as quoted on two stored pages that agree).  Limits 4.5 for text (1.4.3) and 3
for parts of a graphic (1.4.11): from memory of the success criteria.
"""

import re
from pathlib import Path
from typing import Any

import pytest

from nearmark.charts import tokens

TEXT, GRAPHIC = 4.5, 3.0
GROUNDS = [tokens.PAPER, tokens.WHITE, tokens.BAND]


def luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_formula_gives_21_for_black_on_white_and_the_known_grey():
    # #767676 on white is the lightest grey that passes 4.5, at 4.54: common practice, no source.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("ink", [tokens.INK, tokens.INK_SOFT, tokens.ACCENT])
def test_text_is_legible_on_every_ground(ink, ground):
    assert contrast(ink, ground) >= TEXT


def test_the_white_outline_sets_the_accent_off():
    assert contrast(tokens.ACCENT, tokens.WHITE) >= GRAPHIC


def test_the_band_is_a_light_grey_without_colour():
    # Printed without colour the band must be seen and must not swallow ink on it.
    assert 1.1 < contrast(tokens.BAND, tokens.WHITE) < 1.5


def test_templates_get_every_token():
    told: dict[str, Any] = tokens.as_mapping()

    assert all(re.fullmatch(r"#[0-9a-f]{6}", told[name]) for name in ("ink", "accent", "band"))
    assert list(told["sizes_pt"].values()) == sorted(told["sizes_pt"].values())


def test_the_page_about_the_look_shows_the_tokens_in_force():
    page = (Path(__file__).parents[2] / "docs" / "develop" / "look.md").read_text(encoding="utf-8")
    told: dict[str, Any] = tokens.as_mapping()

    for name in ("paper", "ink", "ink_soft", "rule", "accent", "band"):
        assert f"| {name.replace('_', ' ')} | `{told[name]}` |" in page
    for sizes in ("sizes_pt", "strokes_pt"):
        assert f"| {', '.join(f'{size:g}' for size in told[sizes].values())} |" in page
