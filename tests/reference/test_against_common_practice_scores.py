"""What everybody at such a contest knows of its scores (common practice, no source)."""

from decimal import Decimal

import pytest

from nearmark.contest.scoring import percent_accuracy


@pytest.mark.parametrize(
    ("net_g", "points"),
    [("100", 100), ("90", 90), ("110", 90), ("95.5", 95.5), ("200", 0), ("250", 0), ("0", 0)],
)
def test_a_cup_of_about_100_g(net_g, points):
    assert percent_accuracy(Decimal(net_g), 100) == points
