"""How numbers, dates, units and names are written on a page."""

import math
import re
from datetime import date
from decimal import Decimal

from nearmark.contest.event import Pair
from nearmark.measurement.rounding import round_to
from nearmark.words.languages import day_words
from nearmark.words.numbers import both
from nearmark.words.translation import digits as in_figures

MAX_NAME_LENGTH = 90
_MAX_WORD_LENGTH = 18


def day_text(day: date) -> str:
    """A date that cannot be misread in another country.

    >>> day_text(date(2027, 5, 8))
    '8 May 2027'
    """
    return day_words(day)


def number_text(number: Decimal | float, decimals: int | None = None) -> str:
    """A number; from five digits on, its thousands are set apart by a no-break space.

    ``decimals`` below zero rounds to tens, hundreds, ...

    >>> number_text(Decimal(2893)), number_text(Decimal(14312)).replace(chr(0xA0), "_")
    ('2893', '14_312')
    >>> number_text(651.3481, 1), number_text(184.3, -1)
    ('651.3', '180')
    """
    exact = number if isinstance(number, Decimal) else Decimal(repr(float(number)))
    if decimals is not None:
        exact = round_to(float(number), decimals)
    written = f"{exact:f}"
    whole = written.lstrip("-").partition(".")[0]
    if len(whole) < 5:
        return in_figures(written)
    return in_figures(f"{Decimal(written):,f}".replace(",", "\N{NO-BREAK SPACE}"))


def significant_text(number: float, digits: int = 3) -> str:
    """A number to some significant digits, never in powers of ten.

    >>> significant_text(0.0000666666), significant_text(0.0289)
    ('0.0000667', '0.0289')
    """
    return in_figures(f"{Decimal(f'{number:.{digits}g}'):f}")


def dof_text(dof: float) -> str:
    """Degrees of freedom; a sign for those taken as exact.

    >>> dof_text(4), dof_text(17.32), dof_text(math.inf)
    ('4.0', '17.3', '∞')
    """
    return "∞" if math.isinf(dof) else in_figures(f"{dof:.1f}")


def wrappable(name: str, longest: int = MAX_NAME_LENGTH) -> str:
    """A name that fits any column: very long ones are cut, unbroken words may break.

    >>> wrappable("Otterbrook Mill")
    'Otterbrook Mill'
    >>> len(wrappable("x" * 500)) < 110
    True
    """
    shown = name if len(name) <= longest else name[: longest - 1].rstrip() + "…"
    return re.sub(
        rf"\S{{{_MAX_WORD_LENGTH}}}(?=\S)", lambda word: word[0] + "\N{ZERO WIDTH SPACE}", shown
    )


def members_text(pair: Pair) -> str:
    """The children's names; printed only where asked for.

    >>> members_text(Pair("P01", "Quillbank", ("Ada", "Bo")))
    'Ada and Bo'
    """
    return wrappable(both(pair.members))
