"""The answer sheets: one pair a sheet, a box for every digit, scratch work on the back.

A sheet must be read right by a tired person and keyed in later from nothing else: the pair's code
carries a check character, is in a QR code too, and comes again on every side.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from nearmark.contest.division import items_of, items_of_division
from nearmark.contest.event import Event, Item, Pair
from nearmark.contest.pair_code import checked_codes
from nearmark.errors import InputError
from nearmark.printing.heat_lists import heat_lists, heat_title
from nearmark.printing.qr import qr_svg
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, members_text, number_text, wrappable
from nearmark.station import UNITS, Station
from nearmark.words.answer_sheets import (
    SheetWords,
    blank_earns,
    foot_of,
    qr_of,
    scoop_and_go,
    scratch_title,
    sheet_words,
)
from nearmark.words.numbers import points_words
from nearmark.words.rules import question
from nearmark.words.sides import unit_text
from nearmark.words.translation import language_in_force

MAX_BOXES = 8
MIN_GROSS_BOXES = 4
"""A cup of hardware may be ten times too heavy; its gross mass must still find its boxes."""

USUAL_CUP_BOXES = 3
USUAL_DECIMALS = 1
"""Without a list of cups: numbers up to 999, a scale that shows 0.1 g (common practice)."""


@dataclass(frozen=True, slots=True)
class AnswerField:
    """Where the answer to one item goes."""

    code: str
    name: str
    question: str
    unit: str
    # Before and behind the decimal point (digits).
    boxes: int
    decimals: int = 0
    cup_boxes: int = 0  # for the number of the cup; zero away from the mass station (characters)


@dataclass(frozen=True, slots=True)
class AnswerSheet:
    """One pair's sheet; all empty on a spare one."""

    pair: str = ""
    school: str = ""
    heat: str = ""
    names: str = ""
    qr: str = ""
    qr_words: str = ""
    foot: str = ""
    scratch: str = ""
    division: str = ""  # empty: none
    items: tuple[str, ...] = ()  # codes of what it asks, as in the fields


@dataclass(frozen=True, slots=True)
class AnswerSheetsView:
    """All sheets of one printing, ready to be set."""

    event: str
    day: str
    decimal_mark: str
    words: SheetWords
    fields: tuple[AnswerField, ...]
    sheets: tuple[AnswerSheet, ...]


def answer_sheets_pdf(
    event: Event,
    pair_codes: Sequence[str] | None = None,
    *,
    paper: str = "a4",
    names: bool = False,
    large: bool = False,
) -> bytes:
    """Set the answer sheets, to be printed on both sides.

    ``pair_codes``: which pairs, in this order; ``None``: all, heat by heat. ``paper``: ``a4`` or
    ``us-letter``. ``names``: whether the children's names stand beside the code. ``large``: large
    print; many items then take two leaves a pair. Returns: a PDF; every pair begins on an odd page.
    Raises InputError if there are no items or no pairs, a code is not a pair of the event, or a
    code cannot carry a check character.
    """
    view = answer_sheets_view(event, pair_codes, names=names)
    return typeset("answer_sheets", view, day=event.day, paper=paper, large=large)


def spare_sheet_pdf(event: Event, *, paper: str = "a4", large: bool = False) -> bytes:
    """Set one sheet without a pair, for a spoilt sheet or one that comes unannounced.

    ``paper``: ``a4`` or ``us-letter``. ``large``: large print. Returns: a PDF of two pages, to be
    copied; where divisions have different items, two pages for each. Raises InputError if there are
    no items.
    """
    view = _view(event, _spare_sheets(event))
    return typeset("answer_sheets", view, day=event.day, paper=paper, large=large)


def _spare_sheets(event: Event) -> tuple[AnswerSheet, ...]:
    asked = {d.name: _codes(items_of_division(d.name, event)) for d in event.divisions}
    if len(set(asked.values())) < 2:
        return (_spare(event, "", _codes(event.items)),)
    return tuple(_spare(event, name, codes) for name, codes in asked.items())


def _spare(event: Event, division: str, items: tuple[str, ...]) -> AnswerSheet:
    return AnswerSheet(
        foot=wrappable(event.name, 120),
        scratch=scratch_title(""),
        division=wrappable(division, 40),
        items=items,
    )


def _codes(items: Sequence[Item]) -> tuple[str, ...]:
    return tuple(wrappable(item.code, 12) for item in items)


def answer_sheets_view(
    event: Event, pair_codes: Sequence[str] | None = None, *, names: bool = False
) -> AnswerSheetsView:
    """What the sheets say, as text."""
    pairs = {pair.code: pair for heat in heat_lists(event) for pair in heat.pairs}
    chosen = list(pairs) if pair_codes is None else pair_codes
    unknown = [code for code in chosen if code not in pairs]
    if unknown:
        raise InputError(
            "is not a pair that takes part",
            where="answer sheets, pair",
            value=", ".join(unknown),
            mend="Use the codes of pairs.csv",
        )
    checked = checked_codes(pairs)
    return _view(event, tuple(_sheet(event, pairs[c], checked[c], names=names) for c in chosen))


def _view(event: Event, sheets: tuple[AnswerSheet, ...]) -> AnswerSheetsView:
    if not event.items:
        raise InputError("has nothing to estimate", where="items.csv", mend="Enter the items first")
    blank = event.rules.blank_score
    name = wrappable(event.name, 120)
    return AnswerSheetsView(
        event=name,
        day=day_text(event.day),
        decimal_mark=language_in_force().decimal_mark,
        words=sheet_words(name, blank_earns(points_words(blank, 0) if blank else "")),
        fields=tuple(answer_field(event, item) for item in event.items),
        sheets=sheets,
    )


def _sheet(event: Event, pair: Pair, checked: str, *, names: bool) -> AnswerSheet:
    heat = heat_title(pair.heat)
    return AnswerSheet(
        pair=checked,
        foot=foot_of(wrappable(event.name, 120), checked, heat),
        scratch=scratch_title(checked),
        qr_words=qr_of(checked),
        school=wrappable(pair.school, 60),
        heat=heat,
        names=members_text(pair) if names else "",
        qr=qr_svg(checked.upper()),
        division=wrappable(pair.division, 40),
        items=_codes(items_of(pair, event)),
    )


def answer_field(event: Event, item: Item) -> AnswerField:
    """Where the answer to one item goes, with as many boxes as the rule set's limit has digits.

    The number of boxes must not tell the answer, so it never comes from a key.
    """
    code, name = wrappable(item.code, 12), wrappable(item.name, 60)
    highest = event.rules.stations[item.station].highest
    if item.station is Station.MASS:
        tare_g = max((cup.tare_g for cup in event.cups), default=Decimal(0))
        return AnswerField(
            code=code,
            name=name,
            question=scoop_and_go(_target_text(event)),
            unit="g",
            boxes=max(_digits(int(highest) + int(tare_g)), MIN_GROSS_BOXES),
            decimals=scale_decimals(event),
            cup_boxes=min(
                max((len(cup.number) for cup in event.cups), default=USUAL_CUP_BOXES), MAX_BOXES
            ),
        )
    unit = unit_text(UNITS[item.station])
    return AnswerField(code, name, question(item.station), unit, boxes=_digits(int(highest)))


def _digits(number: int) -> int:
    return min(len(str(number)), MAX_BOXES)


def scale_decimals(event: Event) -> int:
    """Decimals that the finest scale of the cups shows."""
    scales = {cup.instrument for cup in event.cups}
    steps = [Decimal(repr(i.resolution)) for i in event.instruments if i.name in scales]
    decimals = [
        -exponent for s in steps if isinstance(exponent := s.normalize().as_tuple().exponent, int)
    ]
    return min(max([*decimals, 0]), 3) if steps else USUAL_DECIMALS


def _target_text(event: Event) -> str:
    return f"{number_text(float(event.rules.target_mass_g), 0)} g"
