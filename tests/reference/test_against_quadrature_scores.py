"""Expected score and lean against numerical integration, and the figures of the model notes.

Figures: the project's model notes, section 1 (own prototypes, checked there by 4e6 draws).
"""

import itertools
import math

import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar
from scipy.stats import norm

from nearmark.coaching.expected_score import expected_net_score, expected_score
from nearmark.coaching.lean import Aim, best_bias, lean

PRINTED = 5e-5
"""Half a unit of the last of four printed decimals."""

INTEGRATION = 1e-7
"""Points; the quadrature's own error is smaller by two decades."""

CASES = [(0, 0.05), (0, 0.3), (0.15, 0.3), (-0.3, 0.5), (0.5, 0.4), (-1.5, 0.2), (0, 1.5)]

TABLE = [
    # sigma, best bias, score at the median, score at the best, chance of 90 at the median
    (0.05, -0.00250, 96.0073, 96.0122, 0.9541),
    (0.10, -0.01000, 91.9945, 92.0344, 0.6837),
    (0.15, -0.02250, 87.9416, 88.0765, 0.4962),
    (0.20, -0.03993, 83.8306, 84.1493, 0.3840),
    (0.25, -0.06162, 79.6769, 80.2777, 0.3118),
    (0.30, -0.08593, 75.5673, 76.5128, 0.2619),
    (0.35, -0.11123, 71.6156, 72.9094, 0.2256),
    (0.40, -0.13638, 67.9039, 69.5041, 0.1980),
    (0.45, -0.16078, 64.4691, 66.3124, 0.1764),
    (0.50, -0.18412, 61.3158, 63.3353, 0.1590),
]


def points(x: float) -> float:
    """The score of one answer, from its definition."""
    return max(0.0, 100 * (1 - abs(math.exp(x) - 1)))


def integrated(function, mu, sigma):
    """E[function(x)], piece by piece between the kinks of the score."""
    ends = (mu - 12 * sigma, 0.0, math.log(2))
    parts = [
        quad(lambda x: function(x) * norm.pdf(x, mu, sigma), low, high, epsabs=1e-10, limit=200)[0]
        for low, high in itertools.pairwise(ends)
        if high > low
    ]
    return sum(parts)


@pytest.mark.parametrize(("mu", "sigma"), CASES)
def test_the_mean_score_is_the_integral(mu, sigma):
    assert expected_score(mu, sigma).score == pytest.approx(
        integrated(points, mu, sigma), abs=INTEGRATION
    )


@pytest.mark.parametrize(("mu", "sigma"), CASES)
def test_the_spread_is_the_integral(mu, sigma):
    square = integrated(lambda x: points(x) ** 2, mu, sigma)
    mean = integrated(points, mu, sigma)

    assert expected_score(mu, sigma).sd == pytest.approx(
        math.sqrt(square - mean**2), abs=1000 * INTEGRATION
    )


@pytest.mark.parametrize("at_least", [50, 80, 90])
def test_the_chance_of_a_score_is_the_mass_between_its_two_ends(at_least):
    h = 1 - at_least / 100
    law = norm(-0.1, 0.2)
    mass = law.cdf(math.log(1 + h)) - law.cdf(math.log(1 - h))

    assert expected_score(-0.1, 0.2, at_least=at_least).p_at_least == pytest.approx(mass)


@pytest.mark.parametrize(
    ("mu", "sigma", "printed"),
    [(0.15, 0.3, 69.188780), (-0.3, 0.5, 62.596039), (0.5, 0.4, 38.422954)],
)
def test_the_printed_scores_off_the_centre(mu, sigma, printed):
    assert expected_score(mu, sigma).score == pytest.approx(printed, abs=5e-7)


@pytest.mark.parametrize(("sigma", "best", "at_median", "at_best", "p90"), TABLE)
def test_the_table_of_leans(sigma, best, at_median, at_best, p90):
    found = lean(sigma)

    assert found.shift == pytest.approx(best, abs=5.1e-6)
    assert expected_score(0, sigma).score == pytest.approx(at_median, abs=PRINTED)
    assert expected_score(found.shift, sigma).score == pytest.approx(at_best, abs=PRINTED)
    assert found.gain == pytest.approx(at_best - at_median, abs=2 * PRINTED)
    assert expected_score(0, sigma).p_at_least == pytest.approx(p90, abs=PRINTED)


@pytest.mark.parametrize("sigma", [0.03, 0.2, 0.5, 0.9])
def test_no_other_bias_scores_more_than_the_best(sigma):
    searched = minimize_scalar(
        lambda mu: -integrated(points, mu, sigma), bounds=(-sigma, sigma), method="bounded"
    )

    # A flat top: the place is known to the root of the precision of the height.
    assert best_bias(sigma) == pytest.approx(searched.x, abs=1e-4)


@pytest.mark.parametrize("sigma", [0.05, 0.2, 0.5])
def test_no_other_bias_reaches_90_more_often(sigma):
    def missed(mu):
        return -(norm.cdf((math.log(1.1) - mu) / sigma) - norm.cdf((math.log(0.9) - mu) / sigma))

    searched = minimize_scalar(missed, bounds=(-0.1, 0.1), method="bounded")

    assert best_bias(sigma, Aim.NINETY) == pytest.approx(searched.x, abs=1e-4)


@pytest.mark.parametrize(("mean", "sd"), [(0, 0.08), (0.2, 0.3), (-0.5, 0.4)])
def test_the_score_of_an_additive_error_is_the_integral(mean, sd):
    def density(m):
        return max(0.0, 100 * (1 - abs(m))) * norm.pdf(m, mean, sd)

    area = quad(density, -1, 0)[0] + quad(density, 0, 1)[0]

    assert expected_net_score(mean, sd) == pytest.approx(area, abs=1e-6)


def test_the_printed_score_of_an_additive_error():
    assert expected_net_score(0, 0.08) == pytest.approx(93.6169, abs=PRINTED)


def test_reading_high_costs_about_three_times_what_reading_low_costs():
    even = expected_score(0, 0.2).score

    assert even - expected_score(-0.2, 0.2).score == pytest.approx(4.0, abs=0.05)
    assert even - expected_score(0.2, 0.2).score == pytest.approx(11.4, abs=0.05)
