"""Advice on simulated pupils whose fault is known: what is said, how sure, and what it brings."""

import importlib.util
import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from nearmark.coaching.acts import Act
from nearmark.coaching.advice import Certainty, pupil_advice, trials
from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.pupil_habit import attempts_in, read_club
from nearmark.station import Station
from nearmark.words.coaching_advice import no_advice_words, trial_words

BENCHMARK = Path(__file__).parents[2] / "benchmarks" / "advice.py"
DAY = date(2027, 2, 3)


@pytest.fixture(scope="module")
def simulation() -> Any:
    spec = importlib.util.spec_from_file_location("advice_benchmark", BENCHMARK)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["advice_benchmark"] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.slow
def test_the_true_fault_is_named_and_following_it_pays(simulation):
    # A fixed-seed part of the benchmark, 39 pupils of thirteen kinds; the bounds are its goals.
    tallies, _ = simulation.simulate(39, 5)
    total = simulation.total_of(tallies)
    spoke = total.n - total.silent

    assert spoke > 150
    assert total.named >= 0.8 * spoke
    assert total.wrong <= 0.05 * spoke
    assert total.brought >= 2 / 3 * total.oracle


def scoops(*nets_by_cup):
    return [
        Attempt(DAY + timedelta(weeks=i), "Juno", Station.MASS, "rice", net, 100,
                parts=Scoop(cup, 0.8))
        for i, (net, cup) in enumerate(nets_by_cup)
    ]  # fmt: skip


def test_the_cup_comes_first_and_no_sum_is_spoken_of():
    # A coach's log: glass of 182 g, tin cup, paper cup.
    log = scoops(
        (47.2, 182), (93.7, 54), (108.0, 8.6), (41.4, 182), (112.0, 8.7), (84.1, 54), (50.3, 182),
        (103.0, 8.6),
    )  # fmt: skip

    (found,) = pupil_advice(log)

    assert found.acts[0] is Act.HOLD_CUP
    assert found.sureness is Certainty.SURE
    said = trial_words(found)
    assert said.startswith("Hold the empty cup first: about 3")
    assert "sum" not in said


def jars(layer_off=1.0, kept=1.0, lean=1.0, figures=None, n=8):
    """Jars read with one fault and no scatter to speak of."""
    rng = np.random.default_rng(1)
    log = []
    for i in range(n):
        layer_true, layers = int(rng.integers(40, 90)), int(rng.integers(8, 15))
        layer = round(layer_true * layer_off)
        answer = layer * layers * lean
        answer = answer if figures is None else float(f"{answer:.{figures}g}")
        log.append(
            Attempt(DAY + timedelta(weeks=i), "Ada", Station.COUNT, f"jar {i}", round(answer),
                    round(layer_true * layers * kept),
                    parts=Layers(layer, layers, layer_true, layers))
        )  # fmt: skip
    return log


def boxes(hand=1.0, height=1.0, slip_every=0, n=8):
    rng = np.random.default_rng(2)
    log = []
    for i in range(n):
        a, b, c = (round(float(side), 1) for side in rng.uniform((12, 8, 5), (25, 16, 11)))
        own = [
            round(side * factor, 1) for side, factor in ((a, hand), (b, hand), (c, hand * height))
        ]
        volume = own[0] * own[1] * own[2]
        volume = own[0] * own[1] if slip_every and i % slip_every == 0 else volume
        log.append(
            Attempt(DAY + timedelta(weeks=i), "Ada", Station.VOLUME, f"box {i}", round(volume),
                    round(a * b * c, 1), parts=Sides(own[0], own[1], own[2], (a, b, c)))
        )  # fmt: skip
    return log


@pytest.mark.parametrize(
    ("log", "acts", "words"),
    [
        (jars(layer_off=0.75), (Act.LAYER,), "Count one layer again, row by row: it is read about"),
        (jars(layer_off=1.3), (Act.LAYER,), "% high"),
        (jars(kept=0.75), (Act.TRIM,), "Leave out one in four of what is seen in a layer"),
        (jars(layer_off=0.7, kept=0.8), (Act.LAYER, Act.TRIM), "Leave out one in five"),
        (jars(lean=0.8), (Act.OWN_PRODUCT,), "answers are about 20 % low against it"),
        (jars(figures=1), (Act.FIGURES,), "one figure of it is too rough"),
        (boxes(hand=1.09), (Act.HAND,), "all three sides are read about 9 % high"),
        (boxes(height=0.75), (Act.HEIGHT,), "Take the height again: it is read about 25 % low"),
        (boxes(slip_every=2), (Act.MULTIPLY,), "Multiply once more before writing"),
    ],
)
def test_each_fault_is_named(log, acts, words):
    (found,) = pupil_advice(log)

    assert found.acts == acts
    assert found.sureness is Certainty.SURE
    assert words in trial_words(found)


@pytest.mark.parametrize("log", [jars(), boxes(), scoops(*[(98 + i % 5, 8.6) for i in range(8)])])
def test_nothing_is_advised_where_nothing_would_gain(log):
    assert pupil_advice(log) == ()
    assert no_advice_words(log).startswith("No single change")


def test_an_answer_copied_from_the_partner_is_named_and_kept_out_of_the_rest():
    log = [
        replace(each, estimate=partner, partner=partner)
        for each, partner in zip(jars(), [230, 1400, 300, 1900, 400, 1500, 260, 1100], strict=True)
    ]

    (found,) = pupil_advice(log)

    assert found.acts == (Act.OWN_ANSWER,)
    assert {trial.acts for trial in trials(log)} == {(Act.OWN_ANSWER,)}


def test_few_attempts_are_a_perhaps_and_one_is_too_early():
    log = jars(layer_off=0.75, n=3)

    (found,) = pupil_advice(log)

    assert found.sureness is Certainty.PERHAPS
    assert trial_words(found).startswith("Perhaps, not sure yet: 7")
    assert pupil_advice(log[:1]) == ()
    assert no_advice_words(log[:1]).startswith("Too early to tell")


def test_attempts_at_known_values_take_no_part():
    log = jars(layer_off=0.75)
    again = [replace(each, day=each.day + timedelta(weeks=20), estimate=each.true) for each in log]

    own = read_club([*log, *again])["Ada"]

    assert pupil_advice(attempts_in(own)) == pupil_advice(log)
    assert pupil_advice([replace(each, is_known=True) for each in log]) == ()


def test_what_was_cured_is_not_advised_any_more():
    cured = [replace(each, day=each.day + timedelta(weeks=20)) for each in jars()]

    assert pupil_advice([*jars(layer_off=0.75), *cured]) == ()


def test_what_is_worth_more_points_of_the_contest_comes_first():
    # A hand 5 % long costs 16 points an item, a fifth of the layer 20; a count is three items.
    log = [*boxes(hand=1.05), *jars(layer_off=0.8)]

    assert [trial.station for trial in pupil_advice(log)] == [Station.COUNT, Station.VOLUME]
