"""How results are shown to a person at a terminal, or printed as JSON."""

import json
import math
import sys
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import click
from rich.console import Console
from rich.text import Text

from nearmark.charts import budget_bar_text
from nearmark.cli.table import Column, show_table
from nearmark.kit.assigned_value import AssignedValue
from nearmark.measurement.rounding import result_text
from nearmark.words.budget_notes import silent_rows
from nearmark.words.key_advice import advice_words
from nearmark.words.key_remarks import (
    coverage_words,
    drawn_words,
    points_moved,
    u_words,
    warning_words,
)

MAX_KEY_DECIMALS = 3

MAX_BAR = 61
MIN_BAR = 20
"""Columns of the bar of a budget."""


def console() -> Console:
    """The terminal, at whatever width it has; plain text when it is not one."""
    return Console(highlight=False, soft_wrap=not sys.stdout.isatty())


def print_json(facts: object) -> None:
    """Print one JSON document with stable keys.

    ``facts``: made of dict, list, str, int, float, bool and None only.
    """
    print(json.dumps(facts, ensure_ascii=False, allow_nan=False, indent=2))


def json_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``--json`` to a command."""
    return click.option("--json", "as_json", is_flag=True, help="Print one JSON document instead.")(
        function
    )


def dof_text(dof: float) -> str:
    """Degrees of freedom to one decimal; a word for infinity."""
    return "infinite" if math.isinf(dof) else f"{dof:.1f}"


def _shown_key(key: Decimal) -> Decimal:
    """A key as it is said: what rests on the mean of some cups has no last digit."""
    shown = round(key, MAX_KEY_DECIMALS)
    return shown if shown != key else key


def show_assigned_value(assigned: AssignedValue) -> None:
    """Print one assigned value: the answer first, the reason beneath."""
    out = console()
    budget = assigned.budget
    verdict = Text("FIT", "bold green") if assigned.fit else Text("NOT FIT", "bold red")
    result = result_text(assigned.value, assigned.expanded_u, assigned.unit)
    out.print()
    out.print(
        Text.assemble(
            (f"{budget.measurand}: ", ""),
            (f"{_shown_key(assigned.key):f}", "bold"),
            f" {assigned.unit}   ",
            verdict,
        )
    )
    out.print(f"  {result}  ({coverage_words(budget)})")
    low, high = assigned.interval
    out.print(f"  95 % interval {low:.6g} to {high:.6g} {assigned.unit}")
    out.print(f"  {drawn_words(assigned.drawn_check)}.")
    out.print(f"  {u_words(assigned)} {points_moved(assigned)}")
    for warning in assigned.warnings:
        out.print(Text.assemble(("  Look: ", "bold yellow"), warning_words(warning)))
    for advice in assigned.advice:
        out.print(Text.assemble(("  Do:   ", "bold"), advice_words(advice)))
    out.print()
    show_table(out, _BUDGET, budget_rows(assigned))
    out.print()
    width = MAX_BAR if out.soft_wrap else max(MIN_BAR, min(MAX_BAR, out.width))
    out.print(Text(budget_bar_text(budget, width)))
    out.print(Text(silent_rows(assigned.budget.components), "dim"))
    out.print()


_BUDGET = (
    Column("component", wraps=True),
    *(Column(heading, right=True) for heading in ("contribution", "dof", "share")),
)


def budget_rows(assigned: AssignedValue) -> list[tuple[str, ...]]:
    """The rows of the uncertainty budget that contribute, as cells."""
    budget = assigned.budget
    return [
        (
            row.name,
            f"{row.contribution:.2g} {budget.unit}",
            dof_text(row.dof),
            f"{100 * budget.share(row):.1f} %",
        )
        for row in budget.components
        if row.contribution > 0
    ]
