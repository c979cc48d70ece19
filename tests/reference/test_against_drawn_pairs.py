"""Who decides: closed forms against draws and the figures of the model notes, section 4."""

import math

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from nearmark.coaching.assignment import StationOption, assign
from nearmark.coaching.belief import Belief
from nearmark.coaching.deciders import (
    Mode,
    Pupils,
    pair_answer,
)
from nearmark.coaching.expected_score import chance_of, mean_score
from nearmark.coaching.pair_advice import Question, advise
from nearmark.coaching.posterior import Habits, posterior
from nearmark.station import Station

RHO = 0.3
PAIRS = {
    Station.MASS: ((0.02, 0.10), (-0.06, 0.16)),
    Station.COUNT: ((-0.20, 0.18), (-0.05, 0.22)),
    Station.VOLUME: ((0.03, 0.12), (-0.02, 0.07)),
}
PRINTED = {
    # first, second, average as they are; average with biases taken out
    Station.MASS: (91.673, 87.004, 91.506, 91.486),
    Station.COUNT: (80.589, 82.591, 84.993, 86.987),
    Station.VOLUME: (89.786, 94.292, 93.719, 93.763),
}


def pupils(station, *, corrected=False):
    (b1, s1), (b2, s2) = PAIRS[station]
    return Pupils((0.0, 0.0) if corrected else (b1, b2), (s1, s2))


@pytest.mark.parametrize("station", PAIRS)
def test_the_printed_table(station):
    raw = [
        mean_score(*pair_answer(mode, pupils(station), RHO))
        for mode in (Mode.FIRST, Mode.SECOND, Mode.AVERAGE)
    ]
    corrected = mean_score(*pair_answer(Mode.AVERAGE, pupils(station, corrected=True), RHO))

    assert [float(s) for s in [*raw, corrected]] == pytest.approx(PRINTED[station], abs=5e-4)


@pytest.mark.parametrize("mode", Mode)
def test_the_law_of_a_pairs_answer_is_that_of_draws(mode):
    (b1, s1), (b2, s2) = PAIRS[Station.COUNT]
    rng = np.random.default_rng(17)
    cross = RHO * s1 * s2
    x1, x2 = rng.multivariate_normal([b1, b2], [[s1**2, cross], [cross, s2**2]], 400_000).T
    drawn = {
        Mode.FIRST: x1,
        Mode.SECOND: x2,
        Mode.AVERAGE: np.log(np.sqrt(np.exp(x1) * np.exp(x2))),
        Mode.TWO_FIRST: (x1 + x1 + x2) / 3,
        Mode.TWO_SECOND: (x1 + x2 + x2) / 3,
    }[mode]

    bias, scatter = pair_answer(mode, pupils(Station.COUNT), RHO)

    assert float(bias) == pytest.approx(drawn.mean(), abs=4 * scatter / np.sqrt(400_000))
    assert float(scatter) == pytest.approx(drawn.std(), rel=0.005)


def test_the_plain_middle_of_children_scores_as_the_law_says():
    # Children add and halve; the law is of the geometric middle.
    (b1, s1), (b2, s2) = PAIRS[Station.COUNT]
    rng = np.random.default_rng(18)
    cross = RHO * s1 * s2
    x = rng.multivariate_normal([b1, b2], [[s1**2, cross], [cross, s2**2]], 400_000)
    plain = np.exp(x).mean(axis=1)
    points = np.maximum(0, 100 * (1 - np.abs(plain - 1)))

    law = mean_score(*pair_answer(Mode.AVERAGE, pupils(Station.COUNT), RHO))

    assert points.mean() == pytest.approx(float(law), abs=0.6)


@pytest.mark.parametrize(
    ("rho", "ratio"), [(0, 1.732), (0.3, 1.458), (0.5, 1.303), (0.7, 1.168), (0.9, 1.052)]
)
def test_the_ratio_up_to_which_averaging_pays(rho, ratio):
    # From s1^2 + s2^2 + 2 rho s1 s2 = 4 s1^2; the same was seen in pairs of people: Bahrami et
    # al., "Optimally interacting minds", Science 329 (2010) 1081-1085 (from memory).
    widest = math.sqrt(3 + rho * rho) - rho
    assert widest == pytest.approx(ratio, abs=5e-4)
    for factor, pays in ((0.99, True), (1.01, False)):
        both = Pupils((0, 0), (0.1, 0.1 * factor * widest))
        _, averaged = pair_answer(Mode.AVERAGE, both, rho)
        assert (float(averaged) < 0.1) is pays


MINUTES = {Mode.FIRST: 3.0, Mode.SECOND: 3.0, Mode.AVERAGE: 4.5}
ITEMS = {Station.MASS: 1, Station.COUNT: 3, Station.VOLUME: 2}


def options(station):
    laws = {m: pair_answer(m, pupils(station, corrected=True), RHO) for m in MINUTES}
    return [
        StationOption(m, float(mean_score(*law)), float(chance_of(90, *law)), MINUTES[m])
        for m, law in laws.items()
    ]


@pytest.mark.parametrize("minutes", [18.0, 19.5, 22.5, 24.0, 27.0])
def test_an_assignment_is_the_integer_programme(minutes):
    # scipy's milp: one mode a station, the minutes a knapsack; minutes are our own.
    table = {station: options(station) for station in PAIRS}
    flat = [(station, option) for station, own in table.items() for option in own]
    gain = [-ITEMS[station] * option.score for station, option in flat]
    time = [[ITEMS[station] * option.minutes for station, option in flat]]
    once = [[float(station is each) for station, _ in flat] for each in table]

    programme = milp(
        gain,
        integrality=np.ones(len(flat)),
        bounds=Bounds(0, 1),
        constraints=[LinearConstraint(time, ub=minutes), LinearConstraint(once, 1, 1)],
    )

    assert assign(table, ITEMS, most_minutes=minutes).mean_score == pytest.approx(
        -programme.fun / 6
    )


def test_the_printed_advice():
    # x1 = .12 -.05 .08 .15 -.02, x2 = -.03 .02 -.06 .01 .04, prior (0, 1, 3, .03).
    prior, never = Belief(0, 1, 3, 0.03), Habits(blunder_share=0)
    first = posterior([[0.12, -0.05, 0.08, 0.15, -0.02]], prior, habits=never)
    second = posterior([[-0.03, 0.02, -0.06, 0.01, 0.04]], prior, habits=never)
    question = Question(modes=(Mode.FIRST, Mode.SECOND), n_draws=100_000)

    advice = advise(first, second, np.random.default_rng(1), question=question)

    assert advice.mode is Mode.SECOND
    assert np.mean(advice.draws[0] > advice.draws[1]) == pytest.approx(0.806, abs=0.005)
    assert advice.p_right == np.mean(advice.draws[0] >= advice.draws[1] - 1)
    assert advice.gain == pytest.approx(2.62, abs=0.04)
    assert advice.gain_sd == pytest.approx(3.40, abs=0.05)
