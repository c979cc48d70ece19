"""Split of the lost points, slips and scoop habit against brute force and other programs.

Printed figures: the project's model notes, section 3 (invented attempts).
"""

import itertools
import math
from datetime import date

import numpy as np
import pytest

from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides, Station
from nearmark.coaching.lost_points import log_parts, shapley, split_attempt, split_expected
from nearmark.coaching.scoop_habit import DENSITY_EFFECT_G, LEVEL_SD_G, TARE_SHARE, scoop_habit
from nearmark.coaching.volume_slips import Slip, find_slip

BIAS = (-0.15, -0.03, 0.02)
SD = (0.12, 0.06, 0.03)
COVARIANCE = np.diag(np.square(SD)).tolist()


def by_orders(worth, n):
    """Shapley's value from its story: every order of arrival, each adding what it adds."""
    shares = np.zeros(n)
    orders = list(itertools.permutations(range(n)))
    for order in orders:
        here: frozenset[int] = frozenset()
        for player in order:
            shares[player] += (worth(here | {player}) - worth(here)) / len(orders)
            here = here | {player}
    return shares.tolist()


def lost(x):
    return np.minimum(100, 100 * np.abs(np.exp(x) - 1))


def test_the_shares_are_the_mean_over_all_orders_of_arrival():
    table = dict(
        zip(
            (frozenset(s) for k in range(5) for s in itertools.combinations(range(4), k)),
            np.random.default_rng(7).normal(size=16).tolist(),
            strict=True,
        )
    )

    assert shapley(table.__getitem__, 4) == pytest.approx(by_orders(table.__getitem__, 4))


def test_the_printed_split_of_one_attempt():
    surface, layers = split_attempt([math.log(42 / 50), math.log(9 / 9.6)])

    assert (surface, layers) == pytest.approx((15.50, 5.75), abs=5e-3)
    assert surface + layers == pytest.approx(100 * (1 - 42 * 9 / (50 * 9.6)))


def test_the_printed_expected_split():
    bias, scatter = split_expected(BIAS, COVARIANCE)

    assert bias == pytest.approx((8.200, 1.470, -0.390), abs=5e-4)
    assert scatter == pytest.approx((4.285, 1.581, 0.595), abs=5e-4)
    assert sum(bias) + sum(scatter) == pytest.approx(15.7408, abs=PRINTED)


PRINTED = 5e-5


def test_the_expected_split_adds_up_to_the_simulated_loss():
    rng = np.random.default_rng(20270203)
    x = rng.normal(BIAS, SD, (400_000, 3)).sum(axis=1)
    points = lost(x)
    bias, scatter = split_expected(BIAS, COVARIANCE)

    assert sum(bias) + sum(scatter) == pytest.approx(
        points.mean(), abs=4 * points.std() / math.sqrt(len(points))
    )


def test_correlated_parts_are_split_with_their_covariance():
    rng = np.random.default_rng(3)
    covariance = [[0.02, -0.01], [-0.01, 0.03]]
    points = lost(rng.multivariate_normal([0.1, -0.05], covariance, 400_000).sum(axis=1))
    bias, scatter = split_expected([0.1, -0.05], covariance)

    assert sum(bias) + sum(scatter) == pytest.approx(points.mean(), abs=0.1)


@pytest.mark.parametrize(
    "attempt",
    [
        Attempt(
            date(2027, 2, 3), "A", Station.COUNT, "jar", 400, 500, parts=Layers(42, 9, 50, 9.6)
        ),
        Attempt(
            date(2027, 2, 3), "A", Station.VOLUME, "b", 90, 500, parts=Sides(12, 8, 5, (13, 8, 5))
        ),
    ],
)
def test_the_parts_add_up_to_the_whole_error(attempt):
    assert sum(log_parts(attempt).values()) == pytest.approx(
        math.log(attempt.estimate / attempt.true)
    )


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
    ],
)
def test_the_printed_slips(recorded, sides, slip):
    assert find_slip(recorded, Sides(*sides)).slip is slip


def significant(value, digits):
    """An honest answer, rounded to so many figures."""
    return float(f"{value:.{digits}g}")


@pytest.mark.parametrize("digits", [2, 3, 12])
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

    found = scoop_habit(attempts)

    assert (found.level_g, found.tare_share, found.density_g) == pytest.approx(tuple(fit.params))
    assert (found.level_sd_g, found.tare_share_sd, found.density_sd_g) == pytest.approx(
        tuple(np.sqrt(np.diag(fit.normalized_cov_params)))
    )


def test_many_scoops_find_the_truth_again():
    found = scoop_habit(scoops(np.random.default_rng(4), 400))

    assert found.tare_share == pytest.approx(0.55, abs=4 * found.tare_share_sd)
    assert found.density_g == pytest.approx(9, abs=4 * found.density_sd_g)
    assert found.tare_share_sd < 0.02
    assert found.p_tare > 0.999
