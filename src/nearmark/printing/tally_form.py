"""Forms for a day without a computer: two blind readings of every heat, a third, points, tares.

Their columns are those of ``answers.csv``, so that everything can be keyed in afterwards.  Points
come from the score tables (``score_tables.py``): nobody multiplies.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import groupby
from typing import Final

from nearmark.contest.division import items_of
from nearmark.contest.event import Event, Item, Pair
from nearmark.contest.pair_code import checked_codes, with_check
from nearmark.contest.results import item_weight
from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import score
from nearmark.errors import InputError
from nearmark.printing.heat_lists import heat_lists
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text, wrappable
from nearmark.station import UNITS, Station
from nearmark.words.hand_scoring import (
    FormText,
    exact_text,
    form_text,
    form_texts,
    invented_example,
    missing_earns,
    points_times,
    score_formula,
)
from nearmark.words.numbers import points_words
from nearmark.words.rules import rules_words
from nearmark.words.sides import unit_text
from nearmark.words.translation import digits

MAX_CELLS = 14
"""Cells to write in that fit beside each other on a sheet turned on its side."""

N_DIFFERENCES = 14
"""Lines for third readings of a heat; of 72 answers some five differ (common practice)."""

_READ: Final = {
    Station.MASS: (FormText.CUP, FormText.GROSS),
    Station.COUNT: (FormText.PIECES,),
    Station.VOLUME: (),
}
_EXAMPLE_OFF: Final = Fraction(1, 20)
_EXAMPLE_KEYS: Final = {Station.COUNT: 400, Station.VOLUME: 1200}
_EXAMPLE_TARE_G: Final = Decimal("48.7")


@dataclass(frozen=True, slots=True)
class ReadingColumn:
    """One column to write a reading in."""

    item: str
    what: str


@dataclass(frozen=True, slots=True)
class ScoreColumn:
    """One cell to fill in on the way from an answer to its points, and an invented one filled in.

    The cells of one item have its code; the last of them holds its points.
    """

    item: str
    what: str
    example: str
    is_points: bool


@dataclass(frozen=True, slots=True)
class TallyHeat:
    """The pairs of one heat, as on their sheets, and its spare codes."""

    title: str
    pairs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TallyView:
    """All forms, ready to be set."""

    event: str
    day: str
    rules: str
    words: dict[str, str]
    formula: str
    missing: str
    invented: str
    readings: tuple[ReadingColumn, ...]
    parts: tuple[tuple[ScoreColumn, ...], ...]  # a page each, as many as an event needs
    example_total: str
    n_differences: int
    heats: tuple[TallyHeat, ...]
    tares: tuple[tuple[str, str], ...]
    # Codes of items, by code of the pair: cells with a stroke, because its division has none there.
    not_asked: dict[str, tuple[str, ...]]


def tally_form_pdf(event: Event, *, paper: str = "a4") -> bytes:
    """Set the forms of every heat, and the tares of the cups.

    ``paper``: ``a4`` or ``us-letter``. Returns: a PDF, for helpers only; it holds no key. Raises
    InputError if there are no items or no pairs, or a code cannot carry a check character.
    """
    return typeset("tally_form", tally_view(event), day=event.day, paper=paper)


def tally_view(event: Event) -> TallyView:
    """What the forms say, as text."""
    if not event.items:
        raise InputError("has nothing to score", where="items.csv", mend="Enter the items first")
    heats = heat_lists(event)
    checked = checked_codes(pair.code for heat in heats for pair in heat.pairs)
    stations = {item.station for item in event.items}
    return TallyView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        rules=wrappable(rules_words(event.rules)),
        words=form_texts(),
        formula=score_formula(event.rules),
        missing=missing_earns(exact_text(event.rules.blank_score)),
        invented=invented_example(
            [f"{example_key(s, event.rules)} {_unit(s)}" for s in Station if s in stations]
        ),
        readings=tuple(
            ReadingColumn(wrappable(item.code, 12), what)
            for item in event.items
            for what in _what_is_read(item.station)
        ),
        parts=_parts([_score_columns(item, event.rules) for item in event.items]),
        example_total=points_words(
            sum((_example_points(i, event.rules) for i in event.items), Fraction(0)),
            event.rules.decimals,
        ),
        n_differences=N_DIFFERENCES,
        heats=tuple(
            TallyHeat(
                heat.title,
                (
                    *(checked[pair.code] for pair in heat.pairs),
                    *map(with_check, heat.spare_codes),
                ),
            )
            for heat in heats
        ),
        tares=tuple((wrappable(cup.number, 12), digits(f"{cup.tare_g:f}")) for cup in event.cups),
        not_asked={
            checked[pair.code]: codes
            for heat in heats
            for pair in heat.pairs
            if (codes := _not_asked(pair, event))
        },
    )


def _not_asked(pair: Pair, event: Event) -> tuple[str, ...]:
    asked = items_of(pair, event)
    return tuple(wrappable(item.code, 12) for item in event.items if item not in asked)


def _what_is_read(station: Station) -> tuple[str, ...]:
    return tuple(map(form_text, _READ[station])) or (unit_text(UNITS[station]),)


def _unit(station: Station) -> str:
    return form_text(FormText.PIECES) if station is Station.COUNT else unit_text(UNITS[station])


def example_key(station: Station, rules: RuleSet) -> str:
    """The invented true value of the solved line; at the mass station the target, which is public.

    >>> example_key(Station.COUNT, RuleSet())
    '400'
    """
    if station is Station.MASS:
        return number_text(Decimal(f"{float(rules.target_mass_g):g}"))
    return str(_EXAMPLE_KEYS[station])


def _example_answer(station: Station, rules: RuleSet) -> Decimal:
    """An answer a little off, as it would be written."""
    if station is Station.MASS:
        # Half as far off as the others, on the other side: 102.5 g for 100 g.
        answer = rules.target_mass_g * (1 + _EXAMPLE_OFF / 2)
        return Decimal(f"{float(answer):.1f}")
    return Decimal(int(_EXAMPLE_KEYS[station] * (1 - _EXAMPLE_OFF)))


def _example_points(item: Item, rules: RuleSet) -> Fraction:
    """Points of the example, with the weight of the item."""
    station = item.station
    key = rules.target_mass_g if station is Station.MASS else Fraction(_EXAMPLE_KEYS[station])
    return score(_example_answer(station, rules), key, rules) * item_weight(item, rules)


def _score_columns(item: Item, rules: RuleSet) -> tuple[ScoreColumn, ...]:
    weight = item_weight(item, rules)
    points = form_text(FormText.POINTS) if weight == 1 else points_times(exact_text(weight))
    answer = _example_answer(item.station, rules)
    filled = [(form_text(FormText.ACCEPTED), digits(f"{answer:f}"))]
    if item.station is Station.MASS:
        filled = [
            (form_text(FormText.GROSS), digits(f"{answer + _EXAMPLE_TARE_G:f}")),
            (form_text(FormText.TARE), digits(f"{_EXAMPLE_TARE_G:f}")),
            (form_text(FormText.NET), digits(f"{answer:f}")),
        ]
    code = wrappable(item.code, 12)
    earned = points_words(_example_points(item, rules), rules.decimals)
    return (
        *(ScoreColumn(code, what, example, is_points=False) for what, example in filled),
        ScoreColumn(code, points, earned, is_points=True),
    )


def _parts(items: list[tuple[ScoreColumn, ...]]) -> tuple[tuple[ScoreColumn, ...], ...]:
    """The columns by page: no item is parted."""
    pages, used = [0], 0
    for columns in items:
        used += len(columns)
        if used > MAX_CELLS and used > len(columns):
            pages.append(pages[-1] + 1)
            used = len(columns)
        else:
            pages.append(pages[-1])
    numbered = zip(pages[1:], items, strict=True)
    return tuple(
        tuple(column for _, columns in part for column in columns)
        for _, part in groupby(numbered, key=lambda page_item: page_item[0])
    )
