"""The score of one answer, exactly.

Scores are rational numbers until printed: as floats, ties that are exact come apart.
"""

from decimal import Decimal
from fractions import Fraction

from nearmark.contest.rules import RuleSet
from nearmark.errors import InputError

Exact = Fraction | Decimal | int | float
"""A number as it was written; a float means the decimal it prints as."""


def exact(value: Exact, where: str) -> Fraction:
    """The rational number that a written number means.

    >>> exact(0.1, "answer"), exact(Decimal("12.5"), "answer")
    (Fraction(1, 10), Fraction(25, 2))

    Parameters
    ----------
    value : any unit
    where : which number, for the message

    Raises
    ------
    InputError : if it is not a finite number
    """
    try:
        # float() first: the repr of a numpy float is not a plain number.
        return Fraction(repr(float(value)) if isinstance(value, float) else value)
    except (ValueError, OverflowError):  # NaN, infinity
        raise InputError(
            "not a finite number", where=where, value=value, mend="Write a number"
        ) from None


def score(estimate: Exact, key: Exact, rules: RuleSet | None = None) -> Fraction:
    """Score of one answer under a rule set, in points.

    The full score within ``free_within`` of the key, then a straight fall to zero at ``zero_at``,
    both as relative errors; the same on either side of the key.

    >>> score(90, 100), score(110, 100), score(200, 100)
    (Fraction(90, 1), Fraction(90, 1), Fraction(0, 1))

    Parameters
    ----------
    estimate : unit of the item, >= 0
    key : unit of the item, > 0
    rules : ``None``: percent accuracy, 100 at the key and zero from double upwards

    Raises
    ------
    InputError : if the estimate is negative, the key not above zero, or either not a finite number
    """
    rules = rules or RuleSet()
    answer, target = exact(estimate, "estimate"), exact(key, "true value")
    if answer < 0:
        raise InputError(
            "must not be negative", where="estimate", value=estimate, mend="Check the sign"
        )
    if target <= 0:
        raise InputError(
            "must be above zero", where="true value", value=key, mend="Give what was measured"
        )
    error = abs(answer - target) / target
    span = rules.zero_at - rules.free_within
    share = min(max((rules.zero_at - error) / span, Fraction(0)), Fraction(1))
    return min(rules.full_score * share, rules.best_score)


def percent_accuracy(estimate: Exact, key: Exact) -> Fraction:
    """Points ``max(0, 100 (1 - |estimate - key| / key))``, the shipped default.

    >>> percent_accuracy(296, 300)
    Fraction(296, 3)

    Parameters
    ----------
    estimate : unit of the item, >= 0
    key : unit of the item, > 0
    """
    return score(estimate, key)


def points_text(points: Fraction, decimals: int) -> str:
    """An exact score rounded for print, ties to the even digit; ranking never uses this.

    >>> points_text(Fraction(869, 3), 2), points_text(Fraction(5, 1000), 2)
    ('289.67', '0.00')

    Parameters
    ----------
    points : Fraction, points
    decimals : int, >= 0
    """
    return f"{Decimal(round(points * 10**decimals)).scaleb(-decimals):f}"
