"""Laws of scores and places that hold for any numbers."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.contest.ranking import places
from nearmark.contest.results import results
from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import score
from nearmark.demo import larkspur_valley

keys = st.fractions(min_value=Fraction(1, 100), max_value=100_000, max_denominator=1000)
gaps = st.fractions(min_value=0, max_value=2, max_denominator=1000)
rule_sets = st.builds(
    lambda free, span, cap: RuleSet(free_within=free, zero_at=free + span, highest_score=cap),
    st.fractions(min_value=0, max_value=1, max_denominator=50),
    st.fractions(min_value=Fraction(1, 50), max_value=2, max_denominator=50),
    st.none() | st.fractions(min_value=1, max_value=120, max_denominator=7),
)


@given(key=keys, gap=gaps, more=gaps, rules=rule_sets)
def test_a_wider_miss_never_scores_more(key, gap, more, rules):
    assert score(key * (1 + gap), key, rules) >= score(key * (1 + gap + more), key, rules)


@given(key=keys, gap=st.fractions(min_value=0, max_value=1, max_denominator=1000), rules=rule_sets)
def test_the_same_gap_above_and_below_scores_the_same(key, gap, rules):
    assert score(key * (1 + gap), key, rules) == score(key * (1 - gap), key, rules)


@given(key=keys, gap=gaps, scale=keys, rules=rule_sets)
def test_the_unit_does_not_matter(key, gap, scale, rules):
    estimate = key * (1 + gap)

    assert score(estimate * scale, key * scale, rules) == score(estimate, key, rules)


@given(key=keys, estimate=st.fractions(min_value=0, max_value=10**7), rules=rule_sets)
def test_a_score_lies_between_zero_and_the_full_score(key, estimate, rules):
    assert 0 <= score(estimate, key, rules) <= rules.full_score


@given(st.lists(st.fractions(min_value=0, max_value=20, max_denominator=3), max_size=30))
def test_a_place_is_one_more_than_the_number_who_did_better(totals):
    assert places(totals) == tuple(1 + sum(t > own for t in totals) for own in totals)


DEMO = larkspur_valley()
DEMO_PLACES = {line.pair.code: line.place for line in results(DEMO).pairs}


@settings(max_examples=20)
@given(st.permutations(DEMO.pairs[:12]), st.randoms(use_true_random=False))
def test_places_do_not_depend_on_the_order_of_anything(first_pairs, shuffler):
    answers = list(DEMO.answers)
    shuffler.shuffle(answers)
    shuffled = replace(DEMO, pairs=(*first_pairs, *DEMO.pairs[12:]), answers=tuple(answers))

    assert {line.pair.code: line.place for line in results(shuffled).pairs} == DEMO_PLACES


@settings(max_examples=20)
@given(st.sampled_from([p.code for p in DEMO.pairs]), st.integers(1, 5))
def test_an_answer_moved_to_the_key_never_costs_a_place(code, item_index):
    item = DEMO.items[item_index].code
    key = results(DEMO).keys[item].key
    improved = replace(
        DEMO,
        answers=tuple(
            replace(a, value=Decimal(key)) if (a.pair, a.item) == (code, item) and a.value else a
            for a in DEMO.answers
        ),
    )

    before, after = DEMO_PLACES[code], {x.pair.code: x.place for x in results(improved).pairs}[code]

    assert before is None or after <= before
