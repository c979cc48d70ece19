"""Places: equal merits share the better one."""

from fractions import Fraction

import pytest

from nearmark.contest.results import places


@pytest.mark.parametrize(
    ("totals", "expected"),
    [
        ([], ()),
        ([5], (1,)),
        ([3, 3, 3], (1, 1, 1)),
        ([9, 9, 7], (1, 1, 3)),
        ([9, 7, 7, 5], (1, 2, 2, 4)),
        ([5, 7, 9, 7], (4, 2, 1, 2)),
    ],
)
def test_equal_totals_share_the_better_place(totals, expected):
    assert places([Fraction(t) for t in totals]) == expected


def test_what_breaks_a_tie_is_looked_at_only_on_equal_totals():
    merits = [(Fraction(9), Fraction(1)), (Fraction(9), Fraction(2)), (Fraction(8), Fraction(9))]

    assert places(merits) == (2, 1, 3)
