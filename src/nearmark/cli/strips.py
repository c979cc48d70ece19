"""The strip in the terminal: estimates against the true value, where there is room for it."""

from collections.abc import Sequence
from typing import Final

from rich.console import Console
from rich.text import Text

from nearmark.charts import Mark, MarkKind, strip_text
from nearmark.contest.key_check import KeyCheck
from nearmark.contest.results import PairResult, Results

MIN_COLUMNS: Final = 70
MAX_COLUMNS: Final = 97
INDENT: Final = "  "


def show_key_strip(out: Console, outcome: Results, check: KeyCheck) -> None:
    """Print all answers to one item against its key."""
    key = outcome.keys[check.item].key
    if key:
        answers = (outcome.answers.get((p.code, check.item)) for p in outcome.event.pairs)
        ratios = [float(a.estimate / key) for a in answers if a and a.estimate is not None]
        _show(out, [Mark(ratio) for ratio in ratios], "")


def show_pair_strip(out: Console, outcome: Results, line: PairResult) -> None:
    """Print all answers of one pair against the keys."""
    marks = [
        Mark(float(score.estimate / key), score.item, MarkKind.THIS)
        for score in line.items
        if score.estimate is not None and (key := outcome.keys[score.item].key)
    ]
    _show(out, marks, f"{line.pair.code} against the keys, item by item:")


def _show(out: Console, marks: Sequence[Mark], heading: str) -> None:
    width = min(out.width - len(INDENT), MAX_COLUMNS)
    if not marks or not out.is_terminal or out.width < MIN_COLUMNS:
        return
    if heading:
        out.print(f"\n{heading}")
    ascii_only = "utf" not in out.encoding.lower()
    for row in strip_text(marks, width, ascii_only=ascii_only).splitlines():
        out.print(Text(f"{INDENT}{row}"), soft_wrap=True)
