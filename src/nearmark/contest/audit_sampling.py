"""How many sheets to re-read, which ones, and what the errors found then say about the rest."""

import hashlib
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from scipy.special import betaincinv

from nearmark.errors import InputError

CONFIDENCE: Final = 0.95
ROUNDING: Final = 1e-12
"""Slack for a probability that equals the limit but for rounding."""

ESCALATE_AT: Final = 2
"""Wrong sheets among those re-read from which all sheets are re-read.  In the spirit of
risk-limiting comparison audits; the number is our own choice."""


def sample_size(n_sheets: int, wrong: int) -> int:
    """Sheets to re-read so that ``wrong`` bad sheets cannot all stay unseen.

    The smallest sample, drawn without replacement, that holds at least one of them with
    probability ``CONFIDENCE``.

    >>> sample_size(80, 10), sample_size(80, 1)
    (20, 76)

    Parameters
    ----------
    n_sheets : sheets, >= 1; all that the sample is drawn from
    wrong : sheets, 1 to ``n_sheets``; number of wrong sheets that must not pass unnoticed

    Raises
    ------
    InputError : if a number is out of its range

    References
    ----------
    Aslam, Popa, Rivest, *On estimating the size and confidence of a statistical audit*, EVT 2007:
    the exact size is hypergeometric; their formula U3 gives it on a pocket calculator.
    """
    if not 1 <= wrong <= n_sheets:
        raise InputError(
            f"must be from 1 to the number of sheets ({n_sheets})",
            where="number of wrong sheets that must not pass",
            value=wrong,
        )
    missed = 1.0
    for n in range(n_sheets - wrong + 1):
        if missed <= 1 - CONFIDENCE + ROUNDING:
            return n
        # P(no wrong sheet in n + 1) from P(no wrong sheet in n).
        missed *= (n_sheets - wrong - n) / (n_sheets - n)
    return n_sheets - wrong + 1


def wrong_sheets_limit(n_sheets: int, n_read: int, n_wrong: int) -> int:
    """Upper limit of the wrong sheets among all, from those found in a random sample.

    The largest number of wrong sheets under which so few would still be found with a probability
    above ``1 - CONFIDENCE`` (exact hypergeometric limit).

    >>> wrong_sheets_limit(80, 20, 0), wrong_sheets_limit(80, 80, 3)
    (9, 3)

    Parameters
    ----------
    n_sheets : sheets, >= 1
    n_read : sheets, 1 to ``n_sheets``
    n_wrong : sheets, 0 to ``n_read``; found wrong among those read

    Raises
    ------
    InputError : if a number is out of its range
    """
    _checked_read(n_sheets, n_read)
    if not 0 <= n_wrong <= n_read:
        raise InputError(
            f"must be from 0 to the sheets read ({n_read})", where="wrong sheets", value=n_wrong
        )
    limit = n_wrong
    while (
        limit < n_sheets - n_read + n_wrong
        and _at_most(n_wrong, limit + 1, n_sheets, n_read) > 1 - CONFIDENCE + ROUNDING
    ):
        limit += 1
    return limit


def _at_most(found: int, wrong: int, n_sheets: int, n_read: int) -> float:
    """P(at most ``found`` wrong sheets in a sample of ``n_read``); whole numbers until the end."""
    ways = sum(
        math.comb(wrong, k) * math.comb(n_sheets - wrong, n_read - k) for k in range(found + 1)
    )
    return ways / math.comb(n_sheets, n_read)


def wrong_rate_limit(n_read: int, n_wrong: int) -> float:
    """Upper limit of the share of wrong sheets (one-sided Clopper-Pearson).

    A share, 0 to 1; with none found ``1 - (1 - CONFIDENCE)**(1 / n_read)``, which the rule of three
    rounds to ``3 / n_read``.

    >>> round(wrong_rate_limit(20, 0), 3), round(wrong_rate_limit(40, 0), 3)
    (0.139, 0.072)

    Parameters
    ----------
    n_read : sheets, >= 1
    n_wrong : sheets, 0 to ``n_read``

    Raises
    ------
    InputError : if a number is out of its range

    References
    ----------
    Clopper, Pearson, *Biometrika* 26 (1934) 404 (from memory).
    """
    if n_read < 1 or not 0 <= n_wrong <= n_read:
        raise InputError(
            "must be from 0 to the sheets read",
            where="wrong sheets",
            value=f"{n_wrong} of {n_read}",
        )
    if n_wrong == n_read:
        return 1.0
    return float(betaincinv(n_wrong + 1, n_read - n_wrong, CONFIDENCE))


def drawn_sheets(codes: Sequence[str], n: int, *, seed: int) -> tuple[str, ...]:
    """Sheets in the order drawn from a public seed; anybody can repeat the draw.

    Every sheet's lot is the SHA-256 of ``seed,code``; the sheets with the smallest lots are drawn.
    A code keeps its lot whoever else takes part, so a late entry moves at most one sheet.

    >>> drawn_sheets(["P01", "P02", "P03", "P04"], 2, seed=7)
    ('P02', 'P03')

    Parameters
    ----------
    codes : shape (n_sheets,)
    n : sheets, 0 to ``n_sheets``
    seed : whole number

    References
    ----------
    Stark's and Rivest's SHA-256 samplers for election audits hash seed and sample number in the
    same manner (statistics.berkeley.edu/~stark/Java/Html/sha256Rand.htm).
    """

    def lot(code: str) -> str:
        return hashlib.sha256(f"{seed},{code}".encode()).hexdigest()

    return tuple(sorted(codes, key=lot)[:n])


@dataclass(frozen=True, slots=True)
class AuditOutcome:
    """What a finished re-reading of a random sample says."""

    n_sheets: int
    n_read: int
    n_wrong: int
    # Upper 95 % limit of the share of wrong sheets, for sheets like these (share).
    rate_limit: float
    sheets_limit: int  # upper 95 % limit of the wrong sheets among these ``n_sheets`` (sheets)


def audit_outcome(n_sheets: int, n_read: int, n_wrong: int) -> AuditOutcome:
    """Judge a random sample after it was re-read.

    >>> audit_outcome(70, 20, 0).sheets_limit
    8

    Parameters
    ----------
    n_sheets : sheets, >= 1; all that the sample was drawn from
    n_read : sheets, 1 to ``n_sheets``
    n_wrong : sheets, 0 to ``n_read``

    Raises
    ------
    InputError : if a number is out of its range
    """
    sheets = wrong_sheets_limit(n_sheets, n_read, n_wrong)
    rate = wrong_rate_limit(n_read, n_wrong)
    return AuditOutcome(n_sheets, n_read, n_wrong, rate, sheets)


def _checked_read(n_sheets: int, n_read: int) -> None:
    if not 1 <= n_read <= n_sheets:
        raise InputError(
            f"must be from 1 to the number of sheets ({n_sheets})",
            where="sheets re-read",
            value=n_read,
        )
