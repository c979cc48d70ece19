"""The strip and the budget bar, as SVG and as terminal text."""

from nearmark.charts.budget_bar import budget_bar_svg, budget_bar_text
from nearmark.charts.marks import Mark, MarkKind, error_words
from nearmark.charts.strip import strip_svg
from nearmark.charts.strip_text import strip_text

__all__ = [
    "Mark",
    "MarkKind",
    "budget_bar_svg",
    "budget_bar_text",
    "error_words",
    "strip_svg",
    "strip_text",
]
