"""The score tables: for each key, which answer earns how many points.  Sealed with the key sheet.

With them nobody multiplies on a day without screens.  They show the keys: never in the open set.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from nearmark.contest.event import Event, Item
from nearmark.contest.results import Results, exact_key, item_weight
from nearmark.contest.score_table import AnswerSpan, ScoreRow, ScoreTable, score_table
from nearmark.contest.scoring import points_text
from nearmark.errors import InputError
from nearmark.printing.answer_sheets import scale_decimals
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text, wrappable
from nearmark.station import UNITS, Station
from nearmark.words.hand_scoring import exact_text, form_texts, missing_earns
from nearmark.words.numbers import both
from nearmark.words.rules import rules_words
from nearmark.words.score_tables import (
    how_to_read,
    nearest_totals,
    no_table_yet,
    true_value,
    weight_is_in,
)
from nearmark.words.sides import unit_text
from nearmark.words.translation import digits

WEIGHT_DECIMALS = 2
"""More decimals than the points have, for points times a weight that has no exact decimal."""

DASH = "\N{EN DASH}"
AND_MORE = "\N{GREATER-THAN OR EQUAL TO} "


@dataclass(frozen=True, slots=True)
class TableLine:
    """One number of points and its answers, as text."""

    lower: str
    points: str
    counts: str  # points times the weight; empty when the item counts once
    higher: str


@dataclass(frozen=True, slots=True)
class ItemTable:
    """The table of one item."""

    code: str
    name: str
    key: str
    weight: str  # a sentence; empty when the item counts once
    lines: tuple[TableLine, ...]


@dataclass(frozen=True, slots=True)
class ScoreTablesView:
    """All tables, ready to be set."""

    event: str
    day: str
    rules: str
    words: dict[str, str]
    how: tuple[str, ...]
    nearest: str
    missing: str
    without: str
    tables: tuple[ItemTable, ...]


def score_tables_pdf(outcome: Results, *, paper: str = "a4") -> bytes:
    """Set the score tables of all items that have a key.

    ``paper``: ``a4`` or ``us-letter``. Raises InputError if no item has a key yet.
    """
    view = score_tables_view(outcome)
    return typeset("score_tables", view, day=outcome.event.day, paper=paper)


def score_tables_view(outcome: Results) -> ScoreTablesView:
    """What the tables say, as text."""
    event = outcome.event
    keyed = [(key.item, key.key) for key in outcome.keys.values() if key.key is not None]
    if not keyed:
        raise InputError(
            "has no key to make a score table of",
            where="items.csv",
            mend="Weigh, count or measure the items first",
        )
    tables = {item.code: _table(event, item, key) for item, key in keyed}
    without = [wrappable(i.code, 12) for i in event.items if i.code not in tables]
    return ScoreTablesView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        rules=wrappable(rules_words(event.rules)),
        words=form_texts(),
        how=how_to_read(),
        nearest=nearest_totals(_ceiled(nearest(event, tables))),
        missing=missing_earns(exact_text(event.rules.blank_score)),
        without=no_table_yet(both(without)) if without else "",
        tables=tuple(_item_table(event, item, key, tables[item.code]) for item, key in keyed),
    )


def answer_step(event: Event, item: Item) -> Decimal:
    """From one answer to the next: whole pieces and cm³; a mass as scale and tares show it (g)."""
    if item.station is not Station.MASS:
        return Decimal(1)
    tares = [cup.tare_g.normalize().as_tuple().exponent for cup in event.cups]
    decimals = max([scale_decimals(event), *(-e for e in tares if isinstance(e, int))])
    return Decimal(1).scaleb(-decimals)


def _table(event: Event, item: Item, key: Decimal) -> ScoreTable:
    return score_table(
        exact_key(item, key, event.rules), event.rules, step=answer_step(event, item)
    )


def nearest(event: Event, tables: dict[str, ScoreTable]) -> Fraction:
    """The least difference of two totals from the tables whose order is sure (points).

    A printed score is at most half a unit of its last decimal off; two totals add up both.
    """
    total = Fraction(0)
    for item in event.items:
        if item.code in tables:
            decimals, weight = tables[item.code].decimals, item_weight(item, event.rules)
            total += weight / 10**decimals
            if _decimals_of_product(decimals, weight) is None:
                total += Fraction(1, 10 ** (decimals + WEIGHT_DECIMALS))
    return total


def _ceiled(points: Fraction) -> str:
    """Two decimals, rounded up: never less than the true limit."""
    return points_text(Fraction(-(-points * 100 // 1), 100), 2)


def _decimals_of_product(decimals: int, weight: Fraction) -> int | None:
    """Decimals that points times the weight need to be exact; ``None``: it has no exact decimal."""
    product = weight / 10**decimals
    return next((n for n in range(decimals + 5) if (product * 10**n).denominator == 1), None)


def counted_text(points: Decimal, decimals: int, weight: Fraction) -> str:
    """Points times the weight, exactly where a decimal can say it.

    >>> counted_text(Decimal("96.5"), 1, Fraction(3, 2))
    '144.75'
    """
    needed = _decimals_of_product(decimals, weight)
    shown = decimals + WEIGHT_DECIMALS if needed is None else max(needed, decimals)
    return points_text(Fraction(points) * weight, shown)


def _item_table(event: Event, item: Item, key: Decimal, table: ScoreTable) -> ItemTable:
    weight = item_weight(item, event.rules)
    code = wrappable(item.code, 12)
    return ItemTable(
        code=code,
        name=wrappable(item.name, 60),
        key=true_value(number_text(key), unit_text(UNITS[item.station])),
        weight="" if weight == 1 else weight_is_in(code, exact_text(weight)),
        lines=tuple(_line(row, table.decimals, weight) for row in table.rows),
    )


def _line(row: ScoreRow, decimals: int, weight: Fraction) -> TableLine:
    return TableLine(
        lower=_span_text(row.lower),
        points=digits(f"{row.points:f}"),
        counts="" if weight == 1 else digits(counted_text(row.points, decimals, weight)),
        higher=_span_text(row.higher),
    )


def _span_text(span: AnswerSpan | None) -> str:
    if span is None:
        return ""
    if span.last is None:
        return f"{AND_MORE}{_figures(span.first)}"
    if span.first == span.last:
        return _figures(span.first)
    return f"{_figures(span.first)}{DASH}{_figures(span.last)}"


def _figures(answer: Decimal) -> str:
    return digits(f"{answer:f}")
