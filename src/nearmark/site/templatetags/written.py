"""How numbers, units, points and charts are written on a page; the same words as in print."""

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

from django import template
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe

from nearmark.contest.keys import ItemKey
from nearmark.kit.assigned_value import AssignedValue, percent_text
from nearmark.kit.cautions import without_local
from nearmark.measurement.rounding import result_text
from nearmark.printing.words import day_text, dof_text, members_text, number_text, significant_text
from nearmark.words.desk import pair_status, role_name
from nearmark.words.feedback_page import out_of, place_of, with_points
from nearmark.words.heats import heat_text, heat_words
from nearmark.words.kept_lines import said_again
from nearmark.words.keys import decision_words
from nearmark.words.languages import moment_words
from nearmark.words.numbers import both, capital, ordinal, plural, points_words, probability_text
from nearmark.words.public import corrections_since, pair_title, release_title
from nearmark.words.refusals import refusal_words
from nearmark.words.room import seat_title
from nearmark.words.rules import rules_words
from nearmark.words.sides import unit_text
from nearmark.words.standings import score_text
from nearmark.words.translation import digits

register = template.Library()

for function in (
    both,
    digits,
    pair_status,
    role_name,
    said_again,
    out_of,
    place_of,
    seat_title,
    with_points,
    corrections_since,
    pair_title,
    refusal_words,
    release_title,
    day_text,
    dof_text,
    heat_text,
    heat_words,
    members_text,
    number_text,
    ordinal,
    percent_text,
    plural,
    probability_text,
    rules_words,
    score_text,
    capital,
    significant_text,
    unit_text,
    without_local,
):
    register.filter(function.__name__, function)


@register.filter
def points(value: Fraction, decimals: int) -> str:
    """An exact score rounded for print.

    >>> points(Fraction(869, 3), 2)
    '289.67'
    """
    return points_words(value, decimals)


@register.filter
def moment(at: datetime) -> str:
    """A date and a time of day, as the clock on the wall shows it."""
    return moment_words(timezone.localtime(at))


@register.filter
def written(value: Decimal | None) -> str:
    """A number exactly as it was written down.

    >>> written(Decimal("61.20")), written(None)
    ('61.20', '')
    """
    return "" if value is None else digits(f"{value:f}")


@register.filter
def with_u(assigned: AssignedValue) -> str:
    """Value and expanded uncertainty."""
    return result_text(assigned.value, assigned.expanded_u, unit_text(assigned.unit))


@register.filter
def decided_words(key: ItemKey) -> str:
    """What the lead decided about a key, and why."""
    decision = key.decision
    if decision is None:
        return ""
    value = "" if decision.value is None else f"{number_text(decision.value)} {unit_text(key.unit)}"
    return decision_words(decision, value)


@register.filter
def care(cautions: Iterable[str]) -> list[str]:
    """Cautions without the sentence that each of them ends by: a page says it once.

    >>> care(["Never taste. Follow your local rules.", "Follow your local rules."])
    ['Never taste.']
    """
    return [line for each in cautions if (line := without_local(each))]


@register.filter
def as_sentence(words: str) -> str:
    """A sentence of the core: a capital first, a full stop last, no number torn from its sign.

    >>> as_sentence("U is 1.3 % of it").replace(chr(0xA0), "_")
    'U is 1.3_% of it.'
    """
    full = words if words.endswith((".", "?", "!")) else f"{words}."
    return capital(full).replace(" %", "\N{NO-BREAK SPACE}%")


@register.filter
def drawing(svg: str) -> SafeString:
    """A chart of ``nearmark.charts``, which escapes every text in it itself."""
    return mark_safe(svg)  # noqa: S308 - made by charts.svg, which escapes; held by a test there
