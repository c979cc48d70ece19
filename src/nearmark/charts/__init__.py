"""The strip, the budget bar, the trend and the lost points, as SVG; the first two as text too."""

from nearmark.charts.budget_bar import budget_bar_svg, budget_bar_text
from nearmark.charts.loss_bars import loss_bars_svg
from nearmark.charts.marks import Mark, MarkKind
from nearmark.charts.strip import strip_svg
from nearmark.charts.strip_text import strip_text
from nearmark.charts.trend import Session, trend_svg

__all__ = [
    "Mark",
    "MarkKind",
    "Session",
    "budget_bar_svg",
    "budget_bar_text",
    "loss_bars_svg",
    "strip_svg",
    "strip_text",
    "trend_svg",
]
