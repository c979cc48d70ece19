"""What the pages of the season ask of numbers and of what was typed."""

from collections.abc import Mapping
from decimal import Decimal

from django import template

from nearmark.printing.bag_labels import pieces_text
from nearmark.printing.words import number_text
from nearmark.words.coaching_pairs import score_words

register = template.Library()
register.filter("pieces", pieces_text)
register.filter("score_words", score_words)


@register.filter
def part(typed: Mapping[str, str], name: str) -> str:
    """What was typed for one part.

    >>> part({"layer": "38"}, "layer"), part({}, "layer")
    ('38', '')
    """
    return typed.get(name, "")


@register.filter
def has_parts(typed: Mapping[str, str]) -> bool:
    """Whether anything but the estimate was typed.

    >>> has_parts({"estimate": "380", "layer": ""}), has_parts({"layer": "38"})
    (False, True)
    """
    return any(text for name, text in typed.items() if name != "estimate")


@register.filter
def plain_number(value: float) -> str:
    """A kept number as it was typed: whole ones without a point.

    >>> plain_number(1480.0), plain_number(96.25)
    ('1480', '96.25')
    """
    exact = Decimal(repr(value))
    return number_text(exact.to_integral() if exact == exact.to_integral() else exact)
