"""The strip, the budget bar, the trend and the progress, as SVG; the first two as text too."""

from nearmark.charts.budget_bar import budget_bar_svg, budget_bar_text
from nearmark.charts.marks import Mark, MarkKind
from nearmark.charts.progress_picture import TwoMonths, progress_svg
from nearmark.charts.strip import strip_svg
from nearmark.charts.strip_text import strip_text
from nearmark.charts.trend import Session, trend_svg

__all__ = [
    "Mark",
    "MarkKind",
    "Session",
    "TwoMonths",
    "budget_bar_svg",
    "budget_bar_text",
    "progress_svg",
    "strip_svg",
    "strip_text",
    "trend_svg",
]
