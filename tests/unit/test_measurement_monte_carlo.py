"""The adaptive procedure: when it stops, what it says, what it refuses."""

import math

import numpy as np
import pytest

from nearmark.errors import InputError
from nearmark.measurement.monte_carlo import propagate_distributions
from tests.draws import normal, rectangular, student_t


def drawn(draw, seed=3, **options):
    return propagate_distributions(
        lambda x: x["x"], {"x": draw}, np.random.default_rng(seed), **options
    )


@pytest.mark.parametrize("seed", range(8))
def test_two_settled_digits_are_right(seed):
    result = drawn(normal(100, 2), seed)

    assert result.settled
    # Half a unit of the second digit of u = 2.0, the tolerance the procedure stops at.
    assert result.value == pytest.approx(100, abs=0.05)
    assert result.u == pytest.approx(2, abs=0.05)
    assert result.interval == pytest.approx((96.08, 103.92), abs=0.05)


@pytest.mark.slow
def test_it_goes_on_as_long_as_the_ends_of_the_interval_need():
    # Block averages of the ends scatter by 2 sqrt(0.025 * 0.975 / 10^4) / density = 0.0534: twice
    # 0.0534 / sqrt(h) within 0.005 takes h = 457 blocks; of that many, h is known within a tenth.
    blocks = drawn(normal(100, 2), digits=3).n_draws / 10_000

    assert blocks == pytest.approx(457, rel=0.2)


def test_draws_that_run_out_are_said_to_be_unsettled():
    result = drawn(normal(0, 1), digits=4, most_draws=135_000)

    assert not result.settled
    assert result.n_draws == 130_000


def test_infinite_variance_never_settles():
    assert not drawn(student_t(0, 1, 1), most_draws=200_000).settled


def test_one_block_is_drawn_in_any_case_and_believed_in_none():
    result = drawn(normal(0, 1), most_draws=0)

    assert result.n_draws == 10_000
    assert not result.settled


def test_a_high_level_needs_larger_blocks():
    # JCGM 101, 7.9.4 b): at least 100 / (1 - p) draws a block.
    assert drawn(rectangular(0, 1), level=0.999, most_draws=0).n_draws >= 100_000


def test_an_exact_input_has_an_exact_result():
    result = drawn(normal(5, 0))

    assert result.settled
    assert (result.value, result.u, result.interval) == (5.0, 0.0, (5.0, 5.0))


def test_the_shortest_interval_of_a_skewed_result_starts_at_its_end():
    # Exponential draws: the shortest 95 % interval is [0, -ln 0.05], the symmetric one is not.
    result = drawn(lambda rng, n: rng.exponential(1.0, n))

    assert result.shortest == pytest.approx((0, -np.log(0.05)), abs=0.06)
    assert result.interval == pytest.approx((-np.log(0.975), -np.log(0.025)), abs=0.06)


def test_the_same_seed_gives_the_same_result():
    assert drawn(normal(0, 1), 9) == drawn(normal(0, 1), 9)


@pytest.mark.parametrize(
    "model",
    [lambda x: float(x["x"][0]), lambda x: x["x"][:5], lambda x: x["x"] / 0.0],
    ids=["one number", "too few", "not finite"],
)
def test_a_model_that_does_not_answer_every_draw_is_refused(model):
    with np.errstate(divide="ignore"), pytest.raises(InputError, match="model"):
        propagate_distributions(model, {"x": normal(0, 1)}, np.random.default_rng(1))


@pytest.mark.parametrize("options", [{"level": 1.0}, {"level": 95}, {"digits": 0}])
def test_an_impossible_wish_is_refused(options):
    with pytest.raises(InputError):
        drawn(normal(0, 1), **options)


@pytest.mark.slow
def test_the_shortest_interval_of_a_slope_lies_at_its_steep_end():
    # Density 2 x on (0, 1), drawn as a square root: F(x) = x^2, so that the shortest interval that
    # holds 95 % is (sqrt(0.05), 1), and the symmetric one (sqrt(0.025), sqrt(0.975)).
    result = propagate_distributions(
        lambda x: np.sqrt(x["x"]), {"x": rectangular(0, 1)}, np.random.default_rng(5), digits=3
    )

    assert result.shortest == pytest.approx((math.sqrt(0.05), 1), abs=0.005)
    assert result.interval == pytest.approx((math.sqrt(0.025), math.sqrt(0.975)), abs=0.005)


def test_what_does_not_vary_stands_still_at_once():
    result = propagate_distributions(
        lambda x: 0 * x["x"] + 7, {"x": normal(0, 1)}, np.random.default_rng(5)
    )

    assert (result.value, result.u, result.settled) == (7, 0, True)
    assert result.n_draws <= 100_000
