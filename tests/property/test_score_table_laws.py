"""A score table says of every answer what the rule set says, and says it once."""

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nearmark.contest.rules import RuleSet
from nearmark.contest.score_table import score_table
from nearmark.contest.scoring import points_text, score

ROOM = 160
"""Rows: few, so that most tables have to leave out decimals."""

STEPS = st.sampled_from([Decimal(1), Decimal("0.1"), Decimal("0.01"), Decimal("0.5")])
KEYS = st.fractions(min_value=Fraction(1, 2), max_value=20_000, max_denominator=20)


@st.composite
def rule_sets(draw):
    zero_at = draw(st.fractions(Fraction(1, 10), 2, max_denominator=12))
    free = draw(st.fractions(0, 1, max_denominator=12)) * zero_at * Fraction(9, 10)
    cap = draw(st.none() | st.integers(40, 100).map(Fraction))
    return RuleSet(
        zero_at=zero_at, free_within=free, highest_score=cap, decimals=draw(st.integers(0, 3))
    )


def rows_with(table, answer):
    return [
        row
        for row in table.rows
        for span in (row.lower, row.higher)
        if span is not None and span.first <= answer and (span.last is None or answer <= span.last)
    ]


@given(KEYS, rule_sets(), STEPS, st.lists(st.fractions(0, 3), min_size=1, max_size=20))
@pytest.mark.slow
def test_every_answer_is_in_one_row_with_its_points(key, rules, step, shares):
    table = score_table(key, rules, step=step, max_rows=ROOM)
    assert table.decimals <= rules.decimals
    assert len(table.rows) <= ROOM

    for share in [*shares, Fraction(0), Fraction(1)]:
        answer = int(share * key / Fraction(step)) * step
        (row,) = rows_with(table, answer)
        assert f"{row.points:f}" == points_text(score(answer, key, rules), table.decimals)


@given(KEYS, rule_sets(), STEPS)
@pytest.mark.slow
def test_rows_go_down_without_a_gap(key, rules, step):
    rows = score_table(key, rules, step=step, max_rows=ROOM).rows

    points = [row.points for row in rows]
    assert points == sorted(set(points), reverse=True)
    lower = [row.lower for row in rows if row.lower]
    higher = [row.higher for row in rows if row.higher]
    assert [above.first - below.last for above, below in pairwise(lower)] == [step] * (
        len(lower) - 1
    )
    assert [next_.first - last.last for last, next_ in pairwise(higher)] == [step] * (
        len(higher) - 1
    )
    assert lower[-1].first == 0
    assert [span.last for span in higher].count(None) == 1
    assert higher[-1].last is None
