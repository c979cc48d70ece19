"""The 95 % intervals hold: simulated weigh-ins and boxes through the public functions."""

import importlib.util
from pathlib import Path

import pytest

BENCHMARK = Path(__file__).parents[2] / "benchmarks" / "covering.py"

DRAWS = 2000
NOISE = 2 * (0.95 * 0.05 / DRAWS) ** 0.5
"""Two binomial standard deviations of the share of intervals that hold: 0.97 %."""


@pytest.fixture(scope="module")
def benchmark():
    spec = importlib.util.spec_from_file_location("coverage_benchmark", BENCHMARK)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.slow
def test_between_94_and_96_of_a_hundred_intervals_of_boxes_hold(benchmark):
    share, refused = benchmark.coverage(benchmark.box_holds, DRAWS, seed=20_260_314)

    assert refused == 0
    assert 0.94 - NOISE <= share <= 0.96 + NOISE


@pytest.mark.slow
def test_intervals_of_counts_hold_more_often_when_the_number_of_samples_is_fixed(benchmark):
    """They are meant for weighing until it is fit, see ``test_kit_stopping``."""
    share, refused = benchmark.coverage(benchmark.count_holds, DRAWS // 8, seed=20_260_314)

    assert refused == 0
    assert share >= 0.95


@pytest.mark.slow
def test_readings_that_agree_by_the_care_of_the_reader_do_not_promise_too_much(benchmark):
    share, _ = benchmark.coverage(
        lambda rng: benchmark.box_holds(rng, scatter_cm=(0.005, 0.02)), DRAWS // 2, seed=7
    )

    assert share >= 0.95
