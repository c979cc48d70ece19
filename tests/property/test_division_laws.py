"""Laws of divisions, school totals and of how sure a place in a division is."""

from collections import defaultdict
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.contest.answer_table import AnswerTable
from nearmark.contest.division_results import division_results
from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    Division,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Pair,
    PairStatus,
)
from nearmark.contest.placed_answers import placed_answers
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.rank_draws import draw_keys, placed_blocks
from nearmark.contest.results import results
from nearmark.contest.rules import RuleSet, SchoolRule, SchoolTotal, TieBreak
from nearmark.contest.school_totals import school_totals
from nearmark.station import Station

KEYS = {"C1": 300, "C2": 1000, "C3": 700}
NAMES = ("grade 3", "grade 4", "grade 5")
SCHOOLS = ("Fernhollow", "Quillbank", "Marrowby")
STATUSES = (PairStatus.ENTERED,) * 4 + (PairStatus.GUEST, PairStatus.ABSENT)

# Few different answers, so that totals are often equal.
answers = st.lists(st.sampled_from((250, 300, 350, 900, 1000)), min_size=3, max_size=3)
fields = st.lists(
    st.tuples(answers, st.sampled_from(NAMES), st.sampled_from(SCHOOLS), st.sampled_from(STATUSES)),
    min_size=1,
    max_size=12,
)
breakers = st.lists(st.sampled_from(TieBreak), unique=True, max_size=2).map(tuple)


def event_of(field, rules=None, *, own_items=False):
    """An event whose keys are known exactly; with items of one division each, or all shared."""
    items = tuple(
        Item(code, Station.COUNT, "jar", divisions=(name,) if own_items and code != "C1" else ())
        for code, name in zip(KEYS, NAMES, strict=True)
    )
    pairs, read = [], []
    for n, (numbers, division, school, status) in enumerate(field, start=1):
        pairs.append(Pair(f"P{n:02d}", school, ("a", "b"), status, division=division))
        if status is not PairStatus.ABSENT:
            read += [
                AnswerReading(
                    f"P{n:02d}", item, k, f"clerk {k}", AnswerStatus.ANSWERED, Decimal(number)
                )
                for item, number in zip(KEYS, numbers, strict=True)
                for k in (1, 2)
            ]
    return Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        rules=rules or RuleSet(),
        divisions=tuple(Division(name) for name in NAMES),
        items=items,
        pairs=tuple(pairs),
        answers=tuple(read),
        key_decisions=tuple(
            KeyDecision(code, Decimal(key), "lead Juniper", "counted") for code, key in KEYS.items()
        ),
    )


def alone(event, name):
    """The event as if nobody had ever heard of divisions and only these pairs had come."""
    codes = {pair.code for pair in event.pairs if pair.division == name}
    items = tuple(i for i in event.items if not i.divisions or name in i.divisions)
    asked = {item.code for item in items}
    return replace(
        event,
        divisions=(),
        items=tuple(replace(item, divisions=()) for item in items),
        pairs=tuple(replace(p, division="") for p in event.pairs if p.code in codes),
        answers=tuple(a for a in event.answers if a.pair in codes and a.item in asked),
        key_decisions=tuple(d for d in event.key_decisions if d.item in asked),
    )


@settings(max_examples=60)
@given(fields, breakers, st.booleans())
def test_a_division_is_ranked_as_if_it_were_the_whole_event(field, tie_breaks, own_items):
    event = event_of(field, RuleSet(tie_breaks=tie_breaks), own_items=own_items)
    whole = results(event)

    for name in NAMES:
        apart = results(alone(event, name))
        lines = [line for line in whole.pairs if line.pair.division == name]
        assert {x.pair.code: (x.division_place, x.total) for x in lines} == {
            x.pair.code: (x.place, x.total) for x in apart.pairs
        }
        cut = division_results(whole, name)
        assert [(x.pair.code, x.place) for x in cut.pairs] == [
            (x.pair.code, x.place) for x in apart.pairs
        ]
        assert cut.highest_total == apart.highest_total


@pytest.mark.slow
@given(fields)
def test_divisions_with_the_same_items_change_no_place_over_all(field):
    event = event_of(field)
    without = replace(
        event, divisions=(), pairs=tuple(replace(pair, division="") for pair in event.pairs)
    )

    assert [(x.pair.code, x.place, x.total) for x in results(event).pairs] == [
        (x.pair.code, x.place, x.total) for x in results(without).pairs
    ]


@pytest.mark.slow
@given(fields)
def test_nobody_has_a_place_over_all_where_two_divisions_have_different_items(field):
    event = event_of(field, own_items=True)
    # Grade 3 has C1 alone, grade 4 has C2 too, grade 5 has C3 too.
    competing = {p.division for p in event.pairs if p.status is PairStatus.ENTERED}
    found = results(event)

    assert found.is_comparable == (len(competing) == 1)
    assert any(line.place for line in found.pairs) == (len(competing) == 1)


@given(
    fields,
    st.sampled_from(SchoolRule),
    st.integers(1, 4),
)
def test_the_total_of_a_school_by_trying_every_choice_of_pairs(field, rule, n):
    event = event_of(field, RuleSet(school_total=SchoolTotal(rule, n)))
    whole = results(event)
    found = {one.school: one for one in school_totals(whole)}

    totals = defaultdict(list)
    for line in whole.pairs:
        if line.pair.status is PairStatus.ENTERED:
            totals[line.pair.school].append(line.total)
    expected: dict[str, Fraction] = {}
    for school, theirs in totals.items():
        if rule is SchoolRule.BEST:
            choices = combinations([*theirs, *[Fraction(0)] * n], n)
            expected[school] = max(sum(choice, Fraction(0)) for choice in choices)
        else:
            expected[school] = sum(theirs, Fraction(0)) / len(theirs)
    assert {school: one.total for school, one in found.items()} == expected
    ranked = {
        school: total
        for school, total in expected.items()
        if rule is SchoolRule.BEST or len(totals[school]) >= n
    }
    assert {school: one.place for school, one in found.items() if one.place} == {
        school: 1 + sum(other > total for other in ranked.values())
        for school, total in ranked.items()
    }


def uncertain(event):
    """The same event with keys that are known from two counts each."""
    return replace(
        event,
        key_decisions=(),
        hand_counts=tuple(
            HandCount(code, round(key * share), who)
            for code, key in KEYS.items()
            for share, who in ((0.98, "Ana"), (1.02, "Ben"))
        ),
    )


@settings(deadline=None, max_examples=30)
@given(fields, breakers, st.booleans())
def test_how_sure_a_place_in_a_division_is_counts_the_draws_of_the_whole(
    field, tie_breaks, own_items
):
    event = uncertain(event_of(field, RuleSet(tie_breaks=tie_breaks), own_items=own_items))
    whole = results(event)
    if not any(line.is_placed for line in whole.pairs):
        return
    sure = rank_confidence(whole, n_draws=100, seed=3)
    codes, _, table = placed_answers(whole)
    placed = list(placed_blocks(table, draw_keys(table, 100, 3)))
    for name, one in sure.divisions:
        rows = [codes.index(code) for code in one.codes]
        counts = np.zeros((len(rows), len(rows)))
        for block in placed:
            for order, place in zip(block.order, block.place, strict=True):
                at = dict(zip(order.tolist(), place.tolist(), strict=True))
                for i, row in enumerate(rows):
                    counts[i, sum(at[other] < at[row] for other in rows)] += 1
        assert one.place_probability == pytest.approx(counts / 100)
        assert {line.pair.code for line in division_results(whole, name).pairs if line.place} == {
            *one.codes
        }


@settings(deadline=None, max_examples=30)
@given(fields)
def test_a_division_of_all_pairs_is_as_sure_as_the_whole(field):
    everybody = [(numbers, NAMES[0], *rest) for numbers, _, *rest in field]
    whole = results(uncertain(event_of(everybody)))
    if not any(line.is_placed for line in whole.pairs):
        return
    sure = rank_confidence(whole, n_draws=100, seed=5)
    of_division = sure.of_division(NAMES[0])

    assert of_division is not None
    assert (of_division.codes, of_division.places) == (sure.codes, sure.places)
    assert (of_division.place_probability == sure.place_probability).all()
    assert of_division.winner == sure.winner
    assert of_division.podium_order == sure.podium_order


@pytest.mark.slow
@settings(deadline=None, max_examples=30)
@given(fields)
def test_alone_a_division_is_as_sure_as_beside_the_others(field):
    # Keys have a stream each, so with the same items the same seed draws the same keys.
    event = uncertain(event_of(field))
    whole = results(event)
    if not any(line.is_placed for line in whole.pairs):
        return
    sure = rank_confidence(whole, n_draws=100, seed=7)
    for name, beside in sure.divisions:
        apart = rank_confidence(results(alone(event, name)), n_draws=100, seed=7)
        assert beside.codes == apart.codes
        assert (beside.place_probability == apart.place_probability).all()
        assert (beside.winner, beside.podium_set) == (apart.winner, apart.podium_set)


def test_what_is_not_asked_costs_nothing():
    event = event_of([([300, 1000, 700], NAMES[0], "Fernhollow", PairStatus.ENTERED)] * 2)
    _, _, table = placed_answers(results(event))
    asked = np.array([[True, False, True], [True, True, True]])
    spared = AnswerTable(
        estimates=np.array([[300.0, np.nan, 700.0], [300.0, np.nan, 700.0]]),
        own_u=table.own_u,
        keys=table.keys,
        key_u=table.key_u,
        key_dof=table.key_dof,
        weights=table.weights,
        stations=table.stations,
        rules=table.rules,
        asked=asked,
    )
    (block,) = placed_blocks(spared, draw_keys(spared, 1, 1))

    # The first pair is exact on all it is asked; the second left one item blank.
    assert block.order.tolist() == [[0, 1]]
    assert block.place.tolist() == [[0, 1]]
