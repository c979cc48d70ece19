"""The key sheet: every key of an event on one page, sealed until release."""

from collections.abc import Iterable
from dataclasses import dataclass

from nearmark.contest.keys import ItemKey
from nearmark.contest.results import Results
from nearmark.contest.rules import RuleSet
from nearmark.kit.assigned_value import percent_text
from nearmark.measurement.rounding import decimals_for
from nearmark.printing.certificate import decision_text
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text, wrappable
from nearmark.words.keys import problem_words, status_words, whose_word
from nearmark.words.numbers import capital
from nearmark.words.rules import rules_words
from nearmark.words.sides import unit_text


@dataclass(frozen=True, slots=True)
class KeyLine:
    """One item as the sheet shows it."""

    code: str
    name: str
    station: str
    key: str
    unit: str
    expanded_u: str
    relative: str
    verdict: str
    remark: str


@dataclass(frozen=True, slots=True)
class KeySheetView:
    """Everything the key sheet shows, ready to be set."""

    event: str
    day: str
    rules: str
    limit: str
    lines: tuple[KeyLine, ...]
    seal: str = ""


def key_sheet_pdf(outcome: Results, *, paper: str = "a4", seal: str = "") -> bytes:
    """Set the sheet of all keys.

    ``paper``: ``a4`` or ``us-letter``. ``seal``: when the keys were sealed, and their hash; empty:
    not sealed.
    """
    event = outcome.event
    view = KeySheetView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        rules=wrappable(rules_words(event.rules)),
        limit=_limits(event.rules),
        lines=tuple(key_line(key) for key in outcome.keys.values()),
        seal=seal,
    )
    return typeset("key_sheet", view, day=event.day, paper=paper)


def _limits(rules: RuleSet) -> str:
    """The limit of U, and what a station has instead."""
    others = {s.value: rule.u_limit for s, rule in rules.stations.items()}
    apart = [f"{name} {percent_text(limit)}" for name, limit in others.items() if limit]
    limit = percent_text(rules.u_limit)
    return f"{limit} ({', '.join(apart)})" if apart else limit


def key_line(key: ItemKey) -> KeyLine:
    """One row of the sheet."""
    assigned = key.borne_by
    unit = unit_text(key.unit)
    u = 0.0 if assigned is None else assigned.expanded_u
    return KeyLine(
        code=wrappable(key.item.code, 24),
        name=wrappable(key.item.name),
        station=key.item.station.value,
        key="none" if key.key is None else number_text(key.key),
        unit="" if key.key is None else unit,
        expanded_u="" if assigned is None else number_text(u, decimals_for(u)),
        relative="" if assigned is None else percent_text(assigned.relative_expanded_u),
        verdict=status_words(key),
        remark=" ".join(filter(None, _remarks(key, unit))),
    )


def _remarks(key: ItemKey, unit: str) -> Iterable[str]:
    yield decision_text(key.decision, unit)
    yield f"It is {wrappable(whose_word(key), 200)}." if whose_word(key) else ""
    yield capital(wrappable(problem_words(key), 300))
    if key.assigned is not None and not key.fit and key.decision is None:
        yield "Open: measure again, or the lead decides and gives a reason."
