"""Advice against a replay in plain numpy; slips and scoop habit against other programs.

Printed figures: the project's model notes, section 3 (invented attempts).
"""

import math
from datetime import date, timedelta

import numpy as np
import pytest
from scipy import stats

from nearmark.coaching.acts import Act
from nearmark.coaching.advice import CANDIDATES, trials, would_have
from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.scoop_fit import DENSITY_EFFECT_G, LEVEL_SD_G, TARE_SHARE, fit_scoops
from nearmark.coaching.scoop_habit import scoop_habit
from nearmark.coaching.slips import Slip, find_slip
from nearmark.station import Station

PLAIN = np.array([1 / 2, 2 / 3, 3 / 4, 4 / 5, 9 / 10, 1, 11 / 10, 6 / 5, 5 / 4, 4 / 3, 3 / 2, 2])


def score(estimate, true):
    return np.maximum(0, 100 * (1 - np.abs(estimate / true - 1)))


def plain(factor):
    return PLAIN[np.abs(np.log(PLAIN / factor)).argmin()]


def left_out(n):
    """Every row number with the numbers of all others."""
    return [(i, np.delete(np.arange(n), i)) for i in range(n)]


def interval(gains, p):
    """Lower end by scipy's own distribution of the mean."""
    low, _ = stats.t.interval(2 * p - 1, len(gains) - 1, np.mean(gains), stats.sem(gains))
    return low


def as_log(columns):
    """A log of jars: estimate, true, layer, layers, layer_true, layers_true in each row."""
    return [
        Attempt(
            date(2027, 2, 3) + timedelta(weeks=i), "Ada", Station.COUNT, f"jar {i}",
            estimate, true, parts=Layers(*parts),
        )
        for i, (estimate, true, *parts) in enumerate(columns.tolist())
    ]  # fmt: skip


def jars(rng, n):
    """Jars whose layer is read low and whose method reads high; products to three figures."""
    layer_true, layers_true = rng.integers(30, 90, n), rng.integers(8, 20, n)
    true = np.round(layer_true * layers_true * 0.8 * np.exp(0.03 * rng.standard_normal(n)))
    layer = np.round(layer_true * np.exp(-0.35 + 0.05 * rng.standard_normal(n)))
    layers = np.round(layers_true * np.exp(0.02 + 0.05 * rng.standard_normal(n)))
    return np.column_stack([layer * layers, true, layer, layers, layer_true, layers_true])


def part_factor(own, true):
    log = np.median(np.log(own / true))
    return np.exp(log) if abs(log) >= 0.08 else None


def trim_factor(rows):
    factor = plain(np.median(rows[:, 1] / (rows[:, 4] * rows[:, 5])))
    return None if factor == 1 else factor


def shift_factor(rows):
    factor = plain(np.exp(-np.median(np.log(rows[:, 0] / rows[:, 1]))))
    return None if factor == 1 else factor


def replayed(rows, factor_of):
    """Scores of each row with the factor that the other rows ask for."""
    found = []
    for i, others in left_out(len(rows)):
        factor = factor_of(rows[others])
        found.append(score(rows[i, 0] * (1 if factor is None else factor), rows[i, 1]))
    return np.array(found)


def inverse(factor):
    return None if factor is None else 1 / factor


def layer_and_trim(rows):
    layer, trim = part_factor(rows[:, 2], rows[:, 4]), trim_factor(rows)
    return None if layer is None or trim is None else trim / layer


BY_HAND = {
    (Act.LAYER,): lambda rows: inverse(part_factor(rows[:, 2], rows[:, 4])),
    (Act.LAYERS,): lambda rows: inverse(part_factor(rows[:, 3], rows[:, 5])),
    (Act.TRIM,): trim_factor,
    (Act.LAYER, Act.TRIM): layer_and_trim,
    (Act.SHIFT,): shift_factor,
}


@pytest.mark.parametrize("seed", range(8))
def test_every_act_on_jars_is_the_replay_by_hand(seed):
    rows = jars(np.random.default_rng(seed), 8)

    found = {trial.acts: trial for trial in trials(as_log(rows))}

    assert found
    for acts, factor_of in BY_HAND.items():
        if factor_of(rows) is None:
            assert acts not in found
            continue
        before, after = score(rows[:, 0], rows[:, 1]), replayed(rows, factor_of)
        p = 0.975 if acts == (Act.SHIFT,) else 0.9
        assert found[acts].n == 8
        assert found[acts].before == pytest.approx(before.mean())
        assert found[acts].after == pytest.approx(after.mean())
        assert found[acts].least == pytest.approx(interval(after - before, p))


@pytest.mark.parametrize("seed", range(4))
def test_the_acts_on_boxes_are_the_replay_by_hand(seed):
    rng = np.random.default_rng((seed, 1))
    true = np.round(rng.uniform(5, 25, (8, 3)), 1)
    own = np.round(true * np.exp(0.1 + 0.03 * rng.standard_normal((8, 3))), 1)
    log = [
        Attempt(
            date(2027, 2, 3) + timedelta(weeks=i), "Ada", Station.VOLUME, f"box {i}",
            math.prod(mine), math.prod(cm), parts=Sides(a, b, c, (cm[0], cm[1], cm[2])),
        )
        for i, (mine, cm) in enumerate(zip(own.tolist(), true.tolist(), strict=True))
        for a, b, c in [mine]
    ]  # fmt: skip

    found = {trial.acts: trial for trial in trials(log)}

    volume, truth = own.prod(axis=1), true.prod(axis=1)
    logs = np.log(own / true)
    by_hand = []
    for i, others in left_out(8):
        # The middle one of the three sides' medians, taken out of each of three sides.
        common = np.sort(np.median(logs[others], axis=0))[1]
        by_hand.append(score(volume[i] * np.exp(-3 * common), truth[i]))
    assert found[Act.HAND,].after == pytest.approx(np.mean(by_hand))
    for column, act in enumerate((Act.LENGTH, Act.WIDTH, Act.HEIGHT)):
        scores = []
        for i, others in left_out(8):
            off = np.median(logs[others, column])
            scores.append(score(volume[i] * np.exp(-off if abs(off) >= 0.08 else 0), truth[i]))
        if abs(np.median(logs[:, column])) >= 0.08:
            assert found[act,].after == pytest.approx(np.mean(scores))
        else:
            assert (act,) not in found


def test_the_cup_is_the_replay_by_hand():
    log = scoops(np.random.default_rng(3), 8)
    (cup,) = (trial for trial in trials(log) if trial.acts == (Act.HOLD_CUP,))

    by_hand = []
    for i, each in enumerate(log):
        others = [*log[:i], *log[i + 1 :]]
        share, around = ridge(others)
        by_hand.append(score(each.estimate + share * (each.parts.cup_g - around), 100))
    assert cup.after == pytest.approx(np.mean(by_hand))


def ridge(log):
    """Share of the cup's mass by the normal equations, and the middle cup."""
    y = np.array([each.estimate - 100 for each in log])
    cup = np.array([each.parts.cup_g for each in log])
    rho = np.log([each.parts.density_g_cm3 for each in log])
    x = np.column_stack([np.ones(len(log)), cup.mean() - cup, rho.mean() - rho]) / 8.0
    sds = np.array([LEVEL_SD_G, TARE_SHARE[1], DENSITY_EFFECT_G[1]])
    mean = np.array([0, TARE_SHARE[0], DENSITY_EFFECT_G[0]])
    inverse_ = np.linalg.inv(x.T @ x + np.diag(sds**-2))
    beta = inverse_ @ (x.T @ (y / 8.0) + mean / sds**2)
    clear = stats.norm.sf(0.2, beta[1], np.sqrt(inverse_[1, 1])) >= 0.8
    return (beta[1] if clear else 0.0), np.median(cup)


def test_one_attempt_is_told_what_gains_most_of_all_that_could_be_done():
    # The finding of a coach: 250 = 25 x 10 for 303, where 37 show in a layer and 10.54 layers.
    rows = np.array([[250, 303, 25, 10, 37, 10.54]])
    ways = {acts: score(250 * (factor_of(rows) or 1), 303) for acts, factor_of in BY_HAND.items()}

    found = would_have(as_log(rows)[0])

    assert ways[Act.LAYER,] < score(250, 303)  # one alone loses
    assert ways[Act.TRIM,] < score(250, 303)
    assert found is not None
    assert found.acts == (Act.LAYER, Act.TRIM)
    assert found.after == pytest.approx(ways[Act.LAYER, Act.TRIM]) == pytest.approx(97.69, abs=0.01)


def test_no_candidate_stands_twice():
    assert len(set(CANDIDATES)) == len(CANDIDATES)
    assert all(len(acts) in (1, 2) for acts in CANDIDATES)


@pytest.mark.parametrize(
    ("recorded", "sides", "slip"),
    [
        (4800, (12, 8, 5), Slip.DECIMAL),
        (48, (12, 8, 5), Slip.DECIMAL),
        (96, (12, 8, 5), Slip.TWO_SIDES),
        (25, (12, 8, 5), Slip.SUM),
        (960, (12, 8, 5), Slip.DOUBLED),
        (240, (12, 8, 5), Slip.HALVED),
        (392, (12, 8, 5), Slip.SURFACE),
        (768, (12, 8, 5), Slip.TWICE),
        (387, (13.5, 7, 4), Slip.TRANSPOSED),
        (3333, (12, 8, 5), Slip.OTHER),
        (500, (12, 8, 5), Slip.NONE),
        (2000, (13.5, 14.9, 8), Slip.NONE),
    ],
)
def test_the_printed_slips(recorded, sides, slip):
    assert find_slip(recorded, Sides(*sides)).slip is slip


def significant(value, digits):
    """An honest answer, rounded to so many figures, a half upwards."""
    place = digits - 1 - math.floor(math.log10(value))
    return float(np.floor(value * 10.0**place + 0.5) / 10.0**place)


@pytest.mark.parametrize("digits", [1, 2, 3, 12])
def test_no_honest_rounding_is_called_a_slip(digits):
    rng = np.random.default_rng(digits)
    found = []
    for sides in np.round(rng.uniform(3, 30, (3000, 3)) * 2) / 2:
        own = Sides(*sides.tolist())
        found.append(find_slip(significant(math.prod(own.cm), digits), own).slip)

    assert set(found) == {Slip.NONE}


def test_most_swapped_digits_are_found():
    rng = np.random.default_rng(9)
    caught = []
    for sides in np.round(rng.uniform(3, 30, (2000, 3)) * 2) / 2:
        own = Sides(*sides.tolist())
        digits = list(str(round(math.prod(own.cm))))
        i = int(rng.integers(len(digits) - 1))
        if digits[i] == digits[i + 1]:
            continue
        digits[i], digits[i + 1] = digits[i + 1], digits[i]
        caught.append(find_slip(max(1, int("".join(digits))), own).slip is Slip.TRANSPOSED)

    # Model notes: 89 % of true transpositions; those that move the number by less than 0.5 % and
    # those that leave a leading zero cannot be told.
    assert 0.80 < np.mean(caught) < 0.97


def scoops(rng, n, *, f=0.55, d=9.0, s=8.0):
    cups, densities = rng.choice([5, 25, 60, 90], n), rng.choice([0.3, 0.6, 0.8, 1.5], n)
    net = 100 - f * (cups - cups.mean()) - d * (np.log(densities) - np.log(densities).mean())
    net = net + s * rng.standard_normal(n)
    return [
        Attempt(date(2027, 2, 3), "A", Station.MASS, "beans", m, 100, parts=Scoop(c, r))
        for m, c, r in zip(net.tolist(), cups.tolist(), densities.tolist(), strict=True)
    ]


def test_the_scoop_habit_is_least_squares_with_the_priors_as_further_rows():
    # A normal prior is one more observation of the coefficient itself (ridge as augmented rows).
    ols = pytest.importorskip("statsmodels.api").OLS
    attempts = scoops(np.random.default_rng(12), 6)
    y = np.array([each.estimate - 100 for each in attempts])
    cup = np.array([each.parts.cup_g for each in attempts])
    rho = np.log([each.parts.density_g_cm3 for each in attempts])
    x = np.column_stack([np.ones(6), cup.mean() - cup, rho.mean() - rho]) / 8.0
    sds = (LEVEL_SD_G, TARE_SHARE[1], DENSITY_EFFECT_G[1])
    rows = np.vstack([x, np.diag(1 / np.array(sds))])
    wanted = np.append(y / 8.0, [0, TARE_SHARE[0] / sds[1], DENSITY_EFFECT_G[0] / sds[2]])
    fit = ols(wanted, rows).fit()

    found = fit_scoops(attempts)

    assert found.beta == pytest.approx(fit.params)
    assert found.covariance.diagonal() == pytest.approx(np.diag(fit.normalized_cov_params))


def test_many_scoops_find_the_truth_again():
    attempts = scoops(np.random.default_rng(4), 400)
    found = fit_scoops(attempts)
    _, tare_share_sd, density_sd_g = np.sqrt(found.covariance.diagonal())

    assert found.beta[1] == pytest.approx(0.55, abs=4 * tare_share_sd)
    assert found.beta[2] == pytest.approx(9, abs=4 * density_sd_g)
    assert tare_share_sd < 0.02
    assert scoop_habit(attempts).p_tare > 0.999
