"""Rank confidence, key check and paper audit against exact results and independent programs.

All answers and keys here are invented.  Each expected figure is worked out in the test by another
road than the program's: a closed form, quadrature, plain loops, scipy.stats or statsmodels.
"""

import math

import numpy as np
import pytest
from scipy import integrate, stats
from scipy.special import ndtr
from statsmodels.robust.scale import Huber

from nearmark.contest.answer_table import AnswerTable
from nearmark.contest.audit_sampling import (
    drawn_sheets,
    sample_size,
    wrong_rate_limit,
    wrong_sheets_limit,
)
from nearmark.contest.field_offset import FieldBias, Offset, explain_offset, field_offsets
from nearmark.contest.rank_draws import draw_keys, placed_blocks
from nearmark.contest.rank_margin import margin_variances
from nearmark.contest.rank_tally import DrawCount
from nearmark.contest.remeasure import remeasure_gains
from nearmark.contest.rules import RuleSet
from nearmark.station import Station

N_DRAWS = 40_000
THREE_SIGMA = 3 * 0.5 / math.sqrt(N_DRAWS)
"""Three standard deviations of a share of N_DRAWS draws, at its widest: 0.0075."""


def table(estimates, keys, relative_u, dof=math.inf, own_u=0.0, rules=None):
    estimates = np.array(estimates, dtype=float)
    keys = np.array(keys, dtype=float)
    n_items = keys.size
    return AnswerTable(
        estimates=estimates,
        own_u=np.zeros_like(estimates) + own_u,
        keys=keys,
        key_u=keys * np.array(relative_u, dtype=float),
        key_dof=np.zeros(n_items) + dof,
        weights=np.ones(n_items),
        stations=(Station.COUNT,) * n_items,
        rules=rules or RuleSet(),
    )


def tallied(answers, places, seed=20_260_418):
    draws = draw_keys(answers, N_DRAWS, seed)
    return counted_blocks(answers, draws, places), draws


def counted_blocks(answers, draws, places):
    count = DrawCount(np.array(places), draws.keys.shape[1])
    for block in placed_blocks(answers, draws):
        count.add(block)
    return count.tally()


# Two pairs, one key of 1000 +- 1 %: answers 950 and 1060.  Scores 100*950/t and 100*(2 - 1060/t)
# (t the true value, between the answers).  The first is ahead when 2010/t > 2, that is t < 1005:
# half a standard uncertainty above the key.
@pytest.mark.parametrize(
    ("dof", "exact"),
    [(math.inf, stats.norm.cdf(0.5)), (4, stats.t.cdf(0.5, 4)), (2, stats.t.cdf(0.5, 2))],
)
def test_two_pairs_astride_one_key_stand_as_often_as_the_distribution_function_says(dof, exact):
    tally, _ = tallied(table([[950], [1060]], [1000], [0.01], dof=dof), [0, 1])

    assert tally.winner == pytest.approx(exact, abs=THREE_SIGMA)
    assert tally.place_probability[1, 0] == pytest.approx(1 - exact, abs=THREE_SIGMA)


def test_own_net_masses_are_drawn_for_each_pair_alone():
    # Nets of 97.0 and 96.9 g against an exact 100 g, u = 0.1 g each: the difference has
    # u = 0.1 sqrt(2) g, so P(first ahead) = Phi(0.1 / 0.1414) = 0.760.
    tally, _ = tallied(table([[97.0], [96.9]], [100], [0.0], own_u=0.1), [0, 1])

    assert tally.winner == pytest.approx(stats.norm.cdf(1 / math.sqrt(2)), abs=THREE_SIGMA)


def test_a_common_key_error_moves_two_pairs_on_one_side_together():
    # 900 and 910 under a key of 1000 +- 2 %: no key between 910 and infinity exchanges them, and
    # independent errors for each pair would (wrongly) do so with Phi(-10/28) = 0.36.
    tally, _ = tallied(table([[910], [900]], [1000], [0.02]), [0, 1])

    assert tally.winner == pytest.approx(1.0, abs=1e-4)  # P(t < 905) = Phi(-4.75) = 1e-6


def test_places_equal_those_of_plain_loops_over_the_same_drawn_keys():
    rng = np.random.default_rng(11)
    keys = [100, 412, 2894, 652]
    estimates = np.rint(np.array(keys) * np.exp(rng.normal(0, 0.1, (7, 4))))
    estimates[3, 2] = np.nan
    estimates[5] = estimates[4]  # the same answers: a tie in every draw
    answers = table(estimates, keys, [0, 0.01, 0.02, 0.01], dof=3)
    draws = draw_keys(answers, 300, seed=4)

    counted = np.zeros((7, 7))
    for d in range(300):
        totals = []
        for answer in estimates:
            scores = [
                0 if math.isnan(e) else max(0.0, 100 * (1 - abs(e - t) / t))
                for e, t in zip(answer, draws.keys[:, d], strict=True)
            ]
            totals.append(sum(scores))
        for i, mine in enumerate(totals):
            counted[i, sum(other > mine + 1e-7 for other in totals)] += 1
    tally = counted_blocks(answers, draws, range(7))

    np.testing.assert_allclose(tally.place_probability, counted / 300, atol=1e-12)
    np.testing.assert_array_equal(tally.place_probability[4], tally.place_probability[5])


def test_exact_keys_give_certainty():
    tally, _ = tallied(table([[99], [98], [90], [80]], [100], [0.0]), [0, 1, 2, 3])

    np.testing.assert_array_equal(tally.place_probability, np.eye(4))
    assert (tally.winner, tally.podium_order, tally.podium_set, tally.tie) == (1, 1, 1, 0)


# Margin of two pairs over two keys, all answers far from the bends: it is a - b1 z1 - b2 z2 to
# first order.  Pair 1 answers 900 and 1100, pair 2 answers 1095 and 890 (keys 1000).
ASTRIDE = table([[900, 1100], [1095, 890]], [1000, 1000], [0.004, 0.008])


def test_the_margin_of_first_order_agrees_with_drawing():
    _, draws = tallied(ASTRIDE, [0, 1])
    ratio = ASTRIDE.estimates[:, :, np.newaxis] / draws.keys
    margin = np.diff(np.maximum(0, 100 * (1 - np.abs(ratio - 1))).sum(axis=1), axis=0)

    variances, near = margin_variances(ASTRIDE, np.array([0, 1]))

    # d(margin) = 100 (r1 + r2) u: by hand 100*1.995*.004 = .798 and 100*1.99*.008 = 1.592 points
    np.testing.assert_allclose(np.sqrt(variances), [0.798, 1.592], rtol=1e-12)
    assert not near.any()
    # Sampling of a variance from 40,000 draws: sqrt(2/40000) = 0.7 %; three of it, and the bend of
    # 1/t, second order: below 0.1 %.
    assert margin.var() == pytest.approx(variances.sum(), rel=0.025)


def test_an_answer_beside_the_key_is_named_as_unfit_for_first_order():
    _, near = margin_variances(table([[1005], [900]], [1000], [0.004]), np.array([0, 1]))

    assert near.all()


def test_the_gain_of_a_key_equals_quadrature_of_the_value_of_perfect_information():
    tally, draws = tallied(ASTRIDE, [0, 1])
    raw, _, floor = remeasure_gains(tally.podium_codes, draws.keys, seed=1)

    # Scores under the keys: 90 + 90 and 90.5 + 89, so the margin is 0.5 and varies by 0.798 points
    # with the first key and 1.592 with the second: P(order | z1) = Phi((0.5 + 0.798 z1) / 1.592).
    mean, parts = 0.5, (0.798, 1.592)
    stands = ndtr(mean / math.hypot(*parts))
    for item, (known, other) in enumerate([parts, parts[::-1]]):

        def likelier(z, known=known, other=other):
            p = ndtr((mean + known * z) / other)
            return max(p, 1 - p) * stats.norm.pdf(z)

        exact = integrate.quad(likelier, -8, 8, points=[0], limit=200)[0] - stands
        # Binning adds about 0.01 (40 bins) and sampling 0.0075.
        assert raw[item] == pytest.approx(exact, abs=0.015)
        assert raw[item] > floor


def test_a_key_that_decides_nothing_gains_nothing():
    answers = table([[950, 500], [1060, 500]], [1000, 1000], [0.01, 0.01])
    tally, draws = tallied(answers, [0, 1])

    raw, gain, floor = remeasure_gains(tally.podium_codes, draws.keys, seed=2)

    # Knowing the first key exactly decides the order: 1 - Phi(.5) = .3085, less the one bin of 40
    # that holds the turning point.
    assert raw[0] == pytest.approx(stats.norm.sf(0.5), abs=0.5 / 40 + THREE_SIGMA)
    assert gain[1] <= floor
    assert raw[1] < 0.02


# Sizes of a sample of 80 sheets that shows at least one of D wrong ones at 95 %.  Aslam, Popa and
# Rivest (EVT 2007, opened): U3(n, b, c) = ceil((n - (b-1)/2) (1 - (1-c)^(1/b))).
@pytest.mark.parametrize(
    ("wrong", "size"),
    [(1, 76), (2, 62), (3, 50), (4, 42), (5, 36), (8, 24), (10, 20), (20, 10)],
)
def test_the_sample_size_is_the_hypergeometric_one_and_that_of_the_pocket_formula(wrong, size):
    exact = next(n for n in range(81) if stats.hypergeom.pmf(0, 80, wrong, n) <= 0.05 + 1e-12)
    pocket = math.ceil((80 - (wrong - 1) / 2) * (1 - 0.05 ** (1 / wrong)) - 1e-9)

    assert sample_size(80, wrong) == size == exact == pocket
    assert wrong_sheets_limit(80, size, 0) < wrong


@pytest.mark.parametrize("n_sheets", [1, 2, 7, 45, 200])
def test_the_sample_size_is_the_smallest_for_every_number_of_wrong_sheets(n_sheets):
    for wrong in range(1, n_sheets + 1):
        n = sample_size(n_sheets, wrong)

        assert stats.hypergeom.pmf(0, n_sheets, wrong, n) <= 0.05 + 1e-9
        assert n == 1 or stats.hypergeom.pmf(0, n_sheets, wrong, n - 1) > 0.05


@pytest.mark.parametrize(("n_read", "n_wrong"), [(20, 0), (40, 0), (20, 1), (36, 2), (5, 5)])
def test_the_rate_limit_is_that_of_clopper_and_pearson(n_read, n_wrong):
    # The upper end of scipy's two-sided 90 % interval is the one-sided 95 % limit.
    interval = stats.binomtest(n_wrong, n_read).proportion_ci(0.90, method="exact")

    assert wrong_rate_limit(n_read, n_wrong) == pytest.approx(interval.high, rel=1e-9)


@pytest.mark.parametrize(("n_read", "n_wrong"), [(20, 0), (20, 1), (42, 0), (42, 3), (80, 2)])
def test_the_limit_of_wrong_sheets_is_the_last_one_the_finding_does_not_refute(n_read, n_wrong):
    plausible = [
        wrong
        for wrong in range(n_wrong, 81 - (n_read - n_wrong))
        if stats.hypergeom.cdf(n_wrong, 80, wrong, n_read) > 0.05
    ]

    assert wrong_sheets_limit(80, n_read, n_wrong) == max(plausible)


def test_the_draw_of_sheets_can_be_repeated_with_any_sha256_program():
    # printf '7,P01' | sha256sum, and so on (GNU coreutils): 8891cf... P01, 216ee3... P02,
    # 441432... P03, 74f7eb... P04
    assert drawn_sheets(["P01", "P02", "P03", "P04"], 4, seed=7) == ("P02", "P03", "P04", "P01")


def test_every_sheet_is_drawn_equally_often():
    codes = [f"P{i:02d}" for i in range(12)]
    drawn = [code for seed in range(600) for code in drawn_sheets(codes, 3, seed=seed)]
    counts = [drawn.count(code) for code in codes]

    # 150 each expected; 3 of 12 without replacement, so the statistic is a little below chi2(11).
    assert stats.chisquare(counts).pvalue > 0.01


# Twelve invented log ratios with one blunder of factor 2.6.
FIELD = [-0.31, -0.24, -0.19, -0.15, -0.12, -0.1, -0.07, -0.05, -0.02, 0.03, 0.08, 0.95]


def test_the_middle_of_a_field_is_hubers():
    # Algorithm A (ISO 13528:2005, annex C.1) is Huber's proposal 2 with c = 1.5.
    location, scale = Huber(c=1.5, tol=1e-10, maxiter=500)(np.array(FIELD))

    (offset,) = field_offsets(np.array([FIELD]).T, [400], [0.0], FieldBias(-0.3, 0.1))

    assert offset.mean == pytest.approx(float(location), abs=2e-4)
    # 1.134 is the rounded consistency factor; statsmodels computes it.
    assert offset.u == pytest.approx(1.25 * float(scale) / math.sqrt(12), rel=2e-3)


def test_a_count_entered_with_exchanged_digits_is_explained_by_them():
    # True 1420 entered as 4120; 40 pairs, middle -1.256, sd of the comparison 0.129.  Bayes' rule
    # by hand with scipy's densities, three slips: exchanged, doubled, ten times too large.
    offset = Offset(40, -1.256, 0.047, -0.12, 0.129)
    effects = [math.log(4120 / 1420), math.log(2), math.log(10)]
    seen = -1.256 + 0.12
    right = 0.98 * stats.norm.pdf(seen, 0, 0.129)
    slips = [0.005 * stats.norm.pdf(seen, -effect, 0.129) for effect in effects]
    other = 0.005 * stats.norm.pdf(seen, 0, math.hypot(0.129, 0.5))
    total = right + sum(slips) + other

    p_right, p_slips, p_other = explain_offset(offset, effects)

    assert p_right == pytest.approx(right / total, rel=1e-9)
    assert p_slips == pytest.approx([slip / total for slip in slips], rel=1e-9)
    assert p_other == pytest.approx(other / total, rel=1e-9)
    assert p_slips[0] > 0.95


# Shares of fields of 40 that flag a key wrong by a factor, from the model of the field alone: the
# offset is normal about the key error with the sd it is judged by, so power = Phi(e/sd - 3) + ...
@pytest.mark.parametrize(
    ("usual", "usual_sd", "answer_sd", "factor"),
    [
        (-0.12, 0.12, 0.25, 1.0),
        (-0.12, 0.12, 0.25, 1.5),
        (-0.12, 0.12, 0.25, 2.0),
        (-0.02, 0.05, 0.08, 1.2),
        (-0.02, 0.05, 0.08, 1.3),
    ],
)
def test_a_wrong_key_is_flagged_as_often_as_the_model_of_the_field_says(
    usual, usual_sd, answer_sd, factor
):
    rng = np.random.default_rng(5)
    n_fields, spread = 400, math.hypot(usual_sd, answer_sd)
    # An even spread has the standard deviation of its half width over the root of three.
    half = math.sqrt(3) * usual_sd
    bias = FieldBias(usual - half, usual + half, item_sd=1e-9)
    flagged = 0
    for _ in range(n_fields):
        day = rng.normal(usual, usual_sd)
        answers = rng.normal(day + math.log(factor), spread, 40)
        (offset,) = field_offsets(answers[:, np.newaxis], [400], [0.005], bias)
        flagged += abs(offset.z) > 3
    sd = math.hypot(usual_sd, 1.03 * spread / math.sqrt(40))  # a robust mean: 3 % wider
    shift = math.log(factor) / sd
    power = stats.norm.cdf(shift - 3) + stats.norm.cdf(-shift - 3)

    # Three standard deviations of a share of 400, and 0.03 for the estimated spread.
    assert flagged / n_fields == pytest.approx(
        power, abs=0.03 + 3 * math.sqrt(power * (1 - power) / n_fields)
    )
