"""Forms for a day without a computer: two blind readings of every heat, scores and totals, tares.

Their columns are those of ``answers.csv``, so that everything can be keyed in afterwards.
"""

from dataclasses import dataclass
from fractions import Fraction

from nearmark.contest.event import Event
from nearmark.contest.pair_code import checked_codes, with_check
from nearmark.contest.results import item_weight
from nearmark.contest.rules import RuleSet
from nearmark.errors import InputError
from nearmark.printing.heat_lists import heat_lists
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, wrappable
from nearmark.station import Station
from nearmark.words.rules import rules_words

_TIMES = "\N{MULTIPLICATION SIGN}"
_READ = {
    Station.MASS: ("cup", "gross, g"),
    Station.COUNT: ("pieces",),
    Station.VOLUME: ("cm³",),
}


@dataclass(frozen=True, slots=True)
class ReadingColumn:
    """One column to write a reading in."""

    item: str
    what: str


@dataclass(frozen=True, slots=True)
class ScoreColumn:
    """One item to score; ``times`` is its weight, empty when it counts once."""

    item: str
    times: str


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
    formula: str
    blank: str
    readings: tuple[ReadingColumn, ...]
    scores: tuple[ScoreColumn, ...]
    heats: tuple[TallyHeat, ...]
    tares: tuple[tuple[str, str], ...]


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
    return TallyView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        rules=wrappable(rules_words(event.rules)),
        formula=score_formula(event.rules),
        blank=f"{_exact(event.rules.blank_score)} points",
        readings=tuple(
            ReadingColumn(wrappable(item.code, 12), what)
            for item in event.items
            for what in _READ[item.station]
        ),
        scores=tuple(
            ScoreColumn(wrappable(item.code, 12), _times(item_weight(item, event.rules)))
            for item in event.items
        ),
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
        tares=tuple((wrappable(cup.number, 12), f"{cup.tare_g:f}") for cup in event.cups),
    )


def score_formula(rules: RuleSet) -> str:
    """The score of one answer, for a calculator with four functions.

    >>> score_formula(RuleSet()).partition(";")[0]
    'off = difference of answer and key ÷ key'
    """
    span = rules.zero_at - rules.free_within
    divided = "" if span == 1 else f" ÷ {_exact(span)}"
    best = rules.full_score if rules.highest_score is None else rules.highest_score
    cap = (
        ""
        if best == rules.full_score and not rules.free_within
        else (f" and never above {_exact(min(best, rules.full_score))}")
    )
    return (
        "off = difference of answer and key ÷ key; "
        f"score = {_exact(rules.full_score)} {_TIMES} "
        f"({_exact(rules.zero_at)} \N{MINUS SIGN} off){divided}, "
        f"never below 0{cap}."
    )


def _times(weight: Fraction) -> str:
    return "" if weight == 1 else f"{_TIMES} {_exact(weight)}"


def _exact(number: Fraction) -> str:
    """A decimal where one is exact, else the fraction."""
    decimal = f"{float(number):.6g}"
    return decimal if Fraction(decimal) == number else f"({number})"
