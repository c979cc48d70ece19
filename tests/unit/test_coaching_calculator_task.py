"""Sums by lot, and what is said of a written product; slips worked by hand."""

import math

import numpy as np
import pytest

from nearmark.coaching import (
    CalculatorTask,
    Layers,
    Sides,
    Slip,
    calculator_task,
    check_product,
    find_slip,
)
from nearmark.errors import InputError
from nearmark.words.coaching_jars import checked_words
from nearmark.words.coaching_steps import slip_words

JAR = Layers(52, 9)  # 468


@pytest.mark.parametrize(
    ("written", "slip"),
    [
        (468, Slip.NONE),
        (470, Slip.NONE),  # rounded to two figures
        (648, Slip.TRANSPOSED),
        (486, Slip.TRANSPOSED),
        (4680, Slip.DECIMAL),
        (46.8, Slip.DECIMAL),
        (61, Slip.SUM),
        (936, Slip.DOUBLED),
        (234, Slip.HALVED),
        (700, Slip.OTHER),
        (500, Slip.NONE),  # rounded to one figure
    ],
)
def test_a_slip_of_a_count_is_named(written, slip):
    assert find_slip(written, JAR).slip is slip


def test_a_slip_says_the_sum():
    assert slip_words(find_slip(4680, JAR)) == "A factor of ten: 52 x 9 is 468."
    assert slip_words(find_slip(700, JAR)) == "The answer does not fit the sum: 52 x 9 is 468."


@pytest.mark.parametrize(
    ("written", "words"),
    [
        (468, "Right: 52 x 9 is 468."),
        (4680, "A factor of ten: 52 x 9 is 468."),
        (500, "Not yet: 52 x 9 is 468."),  # one figure will not do here
        (700, "Not yet: 52 x 9 is 468."),
    ],
)
def test_a_written_product_is_answered(written, words):
    task = CalculatorTask(JAR)

    assert checked_words(task, check_product(task, written)) == words


def test_the_product_is_right_exact_and_rounded_to_three_figures():
    wrong = []
    for seed in range(60):
        task = calculator_task(np.random.default_rng(seed))
        product = math.prod(task.factors)
        rounded = (product, float(f"{product:.3g}"), int(product * 1e4) / 1e4)
        wrong += [(seed, task, x) for x in rounded if not check_product(task, x).is_right]

    assert wrong == []
    assert not check_product(task, 10 * product).is_right
    assert not check_product(task, 1.02 * product).is_right
    # It fits the eight digits of the calculator.
    assert product < 1e8


def test_jars_and_boxes_both_come():
    kinds = {type(calculator_task(np.random.default_rng(seed)).parts) for seed in range(30)}

    assert kinds == {Layers, Sides}


@pytest.mark.parametrize("written", [0, -4, float("nan"), float("inf")])
def test_what_is_no_product_is_refused(written):
    with pytest.raises(InputError):
        check_product(CalculatorTask(JAR), written)


@pytest.mark.parametrize("layers", [Layers(0, 9), Layers(52, -1)])
def test_layers_above_zero_are_needed(layers):
    with pytest.raises(InputError):
        find_slip(468, layers)
