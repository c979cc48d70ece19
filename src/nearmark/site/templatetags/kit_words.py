"""How the kit room writes what was typed as a share."""

from decimal import Decimal

from django import template

from nearmark.kit import percent_text

register = template.Library()


@register.filter
def share_text(share: Decimal | float) -> str:
    """A share as percent.

    ``share``: relative.

    >>> share_text(Decimal("0.001"))
    '0.10 %'
    """
    return percent_text(float(share))


@register.filter
def unbroken(words: str) -> str:
    """A headline in which no number is torn from its percent sign.

    >>> unbroken("to 0.9 %").replace(chr(0xA0), "_")
    'to 0.9_%'
    """
    return words.replace(" %", "\N{NO-BREAK SPACE}%")
