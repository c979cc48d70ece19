"""Laws of scores, places and rule sets that hold for any numbers."""

import tomllib
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import permutations

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.contest.event import AnswerReading, AnswerStatus, Event, HandCount, Item, Pair
from nearmark.contest.results import places, results
from nearmark.contest.rule_files import rules_as_mapping, rules_from_mapping
from nearmark.contest.rules import RuleSet, StationRule, TieBreak
from nearmark.contest.scoring import score
from nearmark.station import Station


def ratios(low, high, parts):
    """Fractions as whole numbers over ``parts``: quicker to draw than any fraction, and as good."""
    return st.integers(low * parts, high * parts).map(lambda n: Fraction(n, parts))


keys = st.builds(Fraction, st.integers(1, 10**7), st.integers(1, 100))
gaps = ratios(0, 2, 1000)
scoring_rules = st.builds(
    lambda free, span, cap: RuleSet(
        free_within=free, zero_at=free + span + Fraction(1, 50), highest_score=cap
    ),
    ratios(0, 1, 50),
    ratios(0, 2, 50),
    st.none() | ratios(1, 120, 7),
)


@given(key=keys, gap=gaps, more=gaps, rules=scoring_rules)
def test_a_wider_miss_never_scores_more(key, gap, more, rules):
    assert score(key * (1 + gap), key, rules) >= score(key * (1 + gap + more), key, rules)


@given(key=keys, gap=ratios(0, 1, 1000), rules=scoring_rules)
def test_the_same_gap_above_and_below_scores_the_same(key, gap, rules):
    assert score(key * (1 + gap), key, rules) == score(key * (1 - gap), key, rules)


@given(key=keys, gap=gaps, scale=keys, rules=scoring_rules)
def test_the_unit_does_not_matter(key, gap, scale, rules):
    estimate = key * (1 + gap)

    assert score(estimate * scale, key * scale, rules) == score(estimate, key, rules)


@given(key=keys, estimate=st.integers(0, 10**7), rules=scoring_rules)
def test_a_score_lies_between_zero_and_the_score_of_the_key_itself(key, estimate, rules):
    assert 0 <= score(estimate, key, rules) <= score(key, key, rules) <= rules.full_score


@given(key=keys, gap=gaps)
def test_percent_accuracy_loses_a_point_for_each_percent_of_miss(key, gap):
    assert score(key * (1 + gap), key) == max(0, 100 - 100 * gap)


merits = st.lists(st.tuples(ratios(0, 20, 3), ratios(0, 2, 1)), max_size=30)


@pytest.mark.slow
@given(merits)
def test_a_place_is_one_more_than_the_number_who_did_better(field):
    assert places(field) == tuple(1 + sum(other > own for other in field) for own in field)


@pytest.mark.slow
@given(merits, st.randoms(use_true_random=False))
def test_places_go_with_the_merits_in_whatever_order(field, shuffler):
    order = list(range(len(field)))
    shuffler.shuffle(order)

    assert places([field[i] for i in order]) == tuple(places(field)[i] for i in order)


tables = st.fixed_dictionaries(
    {
        station: st.builds(
            lambda weight, low, span: StationRule(weight, low, low + span),
            st.builds(Fraction, st.integers(1, 999), st.integers(1, 99)),
            ratios(0, 1000, 10),
            st.integers(1, 10**6),
        )
        for station in Station
    }
)
rule_sets = st.builds(
    replace,
    scoring_rules,
    name=st.text(st.characters(exclude_categories=["C"]), min_size=1).filter(str.strip),
    version=st.integers(1, 10**6),
    full_score=st.builds(Fraction, st.integers(1, 10**4), st.integers(1, 99)),
    blank_score=st.just(0) | st.builds(Fraction, st.just(1), st.integers(100, 999)),
    target_mass_g=st.builds(Fraction, st.integers(1, 10**4), st.integers(1, 99)),
    stations=tables,
    tie_breaks=st.lists(st.sampled_from(TieBreak), unique=True).map(tuple),
    decimals=st.integers(0, 6),
    u_limit=st.floats(1e-9, 0.999),
    solo_allowed=st.booleans(),
)


@pytest.mark.slow
@settings(deadline=None)
@given(rule_sets)
def test_a_rule_set_written_as_toml_reads_back_equal(rules):
    text = tomli_w.dumps(rules_as_mapping(rules))

    assert rules_from_mapping(tomllib.loads(text)) == rules


PAIRS = st.lists(st.tuples(*[st.integers(0, 700)] * 3), min_size=1, max_size=6)
HAND_COUNTED = {"C1": 300, "C2": 450, "C3": 90}


def event_of(answers, rules=None):
    """An event of three counted containers and as many pairs as there are triples of answers."""
    return Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        rules=rules or RuleSet(),
        items=tuple(Item(code, Station.COUNT, "jar") for code in HAND_COUNTED),
        hand_counts=tuple(HandCount(c, n, who) for c, n in HAND_COUNTED.items() for who in "RS"),
        pairs=tuple(Pair(f"P{n}", "Fernhollow", ("Ada", "Bo")) for n in range(len(answers))),
        answers=tuple(
            AnswerReading(f"P{n}", code, reading, clerk, AnswerStatus.ANSWERED, Decimal(value))
            for n, values in enumerate(answers)
            for code, value in zip(HAND_COUNTED, values, strict=True)
            for reading, clerk in ((1, "Ash"), (2, "Birch"))
        ),
    )


def places_of(event):
    return {line.pair.code: line.place for line in results(event).pairs}


@settings(deadline=None, max_examples=40)
@given(PAIRS, st.randoms(use_true_random=False))
def test_places_do_not_depend_on_the_order_of_anything(answers, shuffler):
    event = event_of(answers)
    pairs, readings, items = list(event.pairs), list(event.answers), list(event.items)
    for rows in (pairs, readings, items):
        shuffler.shuffle(rows)
    shuffled = replace(event, pairs=tuple(pairs), answers=tuple(readings), items=tuple(items))

    assert places_of(shuffled) == places_of(event)


@settings(deadline=None, max_examples=40)
@given(PAIRS, st.integers(0, 2), st.sampled_from([(), (TieBreak.WORST_ITEM, TieBreak.ITEMS_AT_90)]))
def test_an_answer_moved_to_the_key_never_costs_a_place(answers, item, tie_breaks):
    rules = RuleSet(tie_breaks=tie_breaks)
    first = list(answers[0])
    first[item] = list(HAND_COUNTED.values())[item]

    before = places_of(event_of(answers, rules))["P0"]
    after = places_of(event_of([tuple(first), *answers[1:]], rules))["P0"]

    assert after <= before


def answers_with_misses(thirtieths):
    """Whole answers below the keys by so many thirtieths of each key."""
    return tuple(n - n * m // 30 for n, m in zip(HAND_COUNTED.values(), thirtieths, strict=True))


@settings(deadline=None, max_examples=40)
@given(st.permutations(range(3)), st.tuples(*[st.integers(0, 30)] * 3))
def test_the_same_misses_at_other_items_are_an_exact_tie(order, misses):
    swapped = tuple(misses[i] for i in order)

    outcome = results(event_of([answers_with_misses(misses), answers_with_misses(swapped)]))

    assert [line.place for line in outcome.pairs] == [1, 1]


def test_summed_as_floats_many_of_those_ties_come_apart():
    def float_total(values):
        keys = HAND_COUNTED.values()
        return sum(100 * (1 - abs(a - k) / k) for a, k in zip(values, keys, strict=True))

    orders = list(permutations((1, 8, 14)))  # misses of 1/30, 8/30, 14/30
    floats = {float_total(answers_with_misses(order)) for order in orders}

    assert len(floats) > 1
