"""What must hold for the places under any drawn keys."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nearmark.contest.answer_table import AnswerTable
from nearmark.contest.rank_draws import draw_keys, placed_blocks
from nearmark.contest.rank_places import rank_losses
from nearmark.contest.rank_tally import DrawCount
from nearmark.contest.rules import RuleSet
from nearmark.station import Station

N_DRAWS = 200
ANSWERS = st.one_of(st.just(math.nan), st.integers(1, 3000).map(float))


@st.composite
def tables(draw):
    n_pairs, n_items = draw(st.integers(1, 7)), draw(st.integers(1, 4))
    rows = st.lists(ANSWERS, min_size=n_items, max_size=n_items)
    estimates = np.array(draw(st.lists(rows, min_size=n_pairs, max_size=n_pairs)))
    keys = np.array(draw(st.lists(st.integers(50, 2000), min_size=n_items, max_size=n_items)))
    u = draw(st.lists(st.sampled_from([0.0, 0.005, 0.05]), min_size=n_items, max_size=n_items))
    own = draw(st.lists(st.sampled_from([0.0, 0.5]), min_size=n_items, max_size=n_items))
    dof = draw(st.lists(st.sampled_from([1.0, 4.0, math.inf]), min_size=n_items, max_size=n_items))
    return AnswerTable(
        estimates=estimates,
        own_u=np.zeros_like(estimates) + np.array(own),
        keys=keys.astype(float),
        key_u=keys * np.array(u),
        key_dof=np.array(dof),
        weights=np.array(draw(st.permutations([1.0, 2.0, 0.5, 1.0])))[:n_items],
        stations=(Station.COUNT,) * n_items,
        rules=draw(
            st.sampled_from(
                [
                    RuleSet(),
                    RuleSet(
                        zero_at=Fraction("0.5"),
                        free_within=Fraction("0.05"),
                        highest_score=Fraction(98),
                        blank_score=Fraction(10),
                    ),
                ]
            )
        ),
    )


def tally(table, seed=3, block=None):
    draws = draw_keys(table, N_DRAWS, seed)
    count = DrawCount(np.arange(table.n_pairs), N_DRAWS)
    for placed in placed_blocks(table, draws, block=block):
        count.add(placed)
    return count.tally()


def with_answers(table, estimates, own_u):
    return AnswerTable(
        estimates=estimates,
        own_u=own_u,
        keys=table.keys,
        key_u=table.key_u,
        key_dof=table.key_dof,
        weights=table.weights,
        stations=table.stations,
        rules=table.rules,
    )


@given(tables())
@settings(max_examples=60, deadline=None)
def test_every_pair_has_some_place_in_every_draw_and_every_draw_a_first(table):
    p = tally(table).place_probability

    np.testing.assert_allclose(p.sum(axis=1), 1.0)
    assert p[:, 0].sum() >= 1 - 1e-12


@pytest.mark.slow
@given(tables(), st.sampled_from([1, 7, 64, 199]))
@settings(max_examples=60, deadline=None)
def test_the_block_length_changes_nothing(table, block):
    whole, parts = tally(table), tally(table, block=block)

    np.testing.assert_array_equal(whole.place_probability, parts.place_probability)
    np.testing.assert_array_equal(whole.podium_codes, parts.podium_codes)
    assert whole.tie == parts.tie


@given(tables(), st.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_the_order_in_which_pairs_are_listed_changes_nothing(table, random):
    order = list(range(table.n_pairs))
    random.shuffle(order)
    written = with_answers(table, table.estimates, 0 * table.own_u)
    shuffled = with_answers(table, table.estimates[order], 0 * table.own_u)

    np.testing.assert_array_equal(
        tally(written).place_probability[order], tally(shuffled).place_probability
    )


@pytest.mark.slow
@given(tables(), st.sampled_from([2.0, 0.5, 1024.0]))
@settings(max_examples=60, deadline=None)
def test_the_unit_of_an_item_changes_nothing(table, factor):
    scaled = AnswerTable(
        estimates=table.estimates * factor,
        own_u=table.own_u * factor,
        keys=table.keys * factor,
        key_u=table.key_u * factor,
        key_dof=table.key_dof,
        weights=table.weights,
        stations=table.stations,
        rules=table.rules,
    )

    np.testing.assert_array_equal(tally(table).place_probability, tally(scaled).place_probability)


@pytest.mark.slow
@given(tables())
@settings(max_examples=60, deadline=None)
def test_pairs_with_the_same_answers_share_their_place_in_every_draw(table):
    twice = with_answers(
        table,
        np.vstack([table.estimates, table.estimates[:1]]),
        np.zeros((table.n_pairs + 1, table.n_items)),
    )

    p = tally(twice).place_probability

    np.testing.assert_array_equal(p[0], p[-1])


@given(tables())
@settings(max_examples=60, deadline=None)
def test_a_pair_that_is_exact_under_exact_keys_is_first(table):
    exact = AnswerTable(
        estimates=np.vstack([table.estimates, table.keys]),
        own_u=np.zeros((table.n_pairs + 1, table.n_items)),
        keys=table.keys,
        key_u=0 * table.key_u,
        key_dof=table.key_dof,
        weights=table.weights,
        stations=table.stations,
        rules=table.rules,
    )

    assert tally(exact).place_probability[-1, 0] == 1


@given(st.lists(st.sampled_from([0.0, 0.1, 0.1 + 1e-13, 3.0, 700.25]), min_size=1, max_size=12))
def test_a_place_is_one_more_than_the_number_of_pairs_who_lost_less(losses):
    placed = rank_losses(np.array([losses]))

    for pair, place in zip(placed.order[0], placed.place[0], strict=True):
        assert place == sum(other < losses[pair] - 1e-9 for other in losses)
