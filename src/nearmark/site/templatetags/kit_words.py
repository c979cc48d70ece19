"""How the kit room writes what was typed as a share."""

from decimal import Decimal

from django import template

from nearmark.kit import percent_text

register = template.Library()


@register.filter
def share_text(share: Decimal | float) -> str:
    """A share as percent.

    Parameters
    ----------
    share : relative

    Examples
    --------
    >>> share_text(Decimal("0.001"))
    '0.10 %'
    """
    return percent_text(float(share))
