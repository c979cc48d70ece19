"""The pupil model at its edges: one attempt, equal attempts, slips, long logs; and its words."""

import math
from datetime import date, timedelta

import pytest

from nearmark.coaching.attempt import Attempt
from nearmark.coaching.belief import SEASON_START, Belief
from nearmark.coaching.club import club_belief
from nearmark.coaching.posterior import Habits, posterior
from nearmark.coaching.prediction import predicted_score
from nearmark.coaching.pupil_habit import read_club
from nearmark.errors import InputError
from nearmark.station import Station
from nearmark.words.coaching_habits import habit_words
from nearmark.words.sides import side_words

FIRST_DAY = date(2027, 2, 3)


def log(ratios, *, pupil="Ada", station=Station.COUNT, size="", per_day=3):
    return [
        Attempt(
            FIRST_DAY + timedelta(days=7 * (i // per_day)),
            pupil,
            station,
            f"jar {i}",
            1000 * ratio,
            1000,
            size,
        )
        for i, ratio in enumerate(ratios)
    ]


def habit(ratios, **options):
    return read_club(log(ratios, **options))["Ada"][0]


def test_one_attempt_says_that_nothing_can_be_told():
    found = habit([0.8])

    assert habit_words(found).startswith("One attempt only: too early to tell. Expect the next")
    assert abs(found.posterior.bias - math.log(0.8)) < abs(-0.1 - math.log(0.8))
    assert found.posterior.bias_sd > 0.1


def test_equal_attempts_are_no_proof_of_no_scatter():
    found = habit([0.9] * 5)

    assert found.posterior.bias == pytest.approx(math.log(0.9), abs=0.01)
    assert 0.03 < found.posterior.scatter < 0.2
    assert habit_words(found).startswith("Reads about 10 % low, give or take")


@pytest.mark.parametrize("factor", [10, 0.1, 100, 50_000])
def test_a_slip_of_a_factor_is_kept_out_of_the_habit(factor):
    found = habit([0.9, 0.95, 0.9 * factor, 0.85, 0.92])

    assert [each.thing for each in found.suspects] == ["jar 2"]
    assert found.posterior.bias == pytest.approx(math.log(0.9), abs=0.05)
    assert "1 of 5 attempts looks like a slip" in habit_words(found)
    assert found.blunder_share == pytest.approx((1 + 1) / 25, abs=0.01)


@pytest.mark.slow
def test_five_hundred_attempts_forget_the_first_ones():
    found = habit([0.6] * 400 + [1.1] * 100, per_day=10)

    assert found.n == 500
    assert len(found.posterior.p_blunder) == 500
    assert found.posterior.bias == pytest.approx(math.log(1.1), abs=0.08)


def test_attempts_may_come_in_any_order():
    attempts = log([0.9, 0.8, 1.0, 1.1, 0.95, 0.7])

    forth, back = (read_club(order)["Ada"][0] for order in (attempts, attempts[::-1]))

    assert forth.posterior.bias == pytest.approx(back.posterior.bias)


def test_stations_and_sizes_are_learnt_apart():
    found = read_club([*log([0.9]), *log([1.2], size="large"), *log([1], station=Station.MASS)])

    assert [(each.station, each.size) for each in found["Ada"]] == [
        (Station.COUNT, ""),
        (Station.COUNT, "large"),
        (Station.MASS, ""),
    ]


def test_a_newcomer_starts_from_what_is_usual_in_the_club():
    others = [
        attempt
        for name, ratios in {
            "Bo": [0.7, 0.72, 0.69],
            "Cleo": [0.75, 0.7, 0.72],
            "Dov": [0.66, 0.71, 0.7],
        }.items()
        for attempt in log(ratios, pupil=name)
    ]
    alone = habit([1.0])
    among = read_club([*log([1.0]), *others])["Ada"][0]

    assert among.posterior.bias < alone.posterior.bias


def test_no_attempt_gives_the_prior_back():
    found = posterior([], SEASON_START[Station.COUNT])

    assert found.n == 0
    assert found.bias == -0.10
    assert found.variance == pytest.approx(0.04)


def test_a_club_of_three_keeps_the_start():
    start = Belief(0.05, 1, 3, 0.03)

    assert club_belief([[0.1], [0.2], [0.3], []], start=start) is start


def test_a_pupil_of_slips_alone_is_called_wild_and_not_certain():
    found = habit([10, 0.1, 12])

    assert found.posterior.scatter > 0.5
    assert "not sure yet" in habit_words(found)


@pytest.mark.parametrize(
    ("ratio", "words"),
    [(1, "right"), (0.88, "12 % low"), (1.05, "5 % high"), (2.2, "2.2 times too high")],
)
def test_sides_in_words(ratio, words):
    assert side_words(ratio) == words


@pytest.mark.parametrize(("estimate", "true"), [(0, 10), (10, 0), (-3, 5), (float("nan"), 5)])
def test_an_attempt_without_a_number_is_refused(estimate, true):
    with pytest.raises(InputError, match="of jar: must be above zero"):
        Attempt(FIRST_DAY, "Ada", Station.COUNT, "jar", estimate, true)


def test_what_is_no_estimate_is_refused():
    with pytest.raises(InputError, match="log ratio"):
        posterior([[float("inf")]], SEASON_START[Station.COUNT])


def test_a_share_of_blunders_above_one_is_refused():
    with pytest.raises(InputError, match="blunder_share"):
        Habits(blunder_share=1.5)


def test_weights_of_a_club_must_match():
    with pytest.raises(InputError, match="weights of the club"):
        club_belief([[0.1, 0.2]], weights=[[1.0]])


def test_a_lopsided_few_are_a_perhaps_and_not_a_bound():
    # Mean 10 % high of five, standard error 3.8 % (finding of a coach): no bound, no silence.
    found = habit([1.22, 1.02, 1.17, 0.99, 1.12], per_day=1)

    assert 0.75 < max(found.p_low, 1 - found.p_low) < 0.9
    assert habit_words(found).startswith("Perhaps about ")
    assert "% high, not sure yet" in habit_words(found)


def test_a_true_value_seen_before_is_no_practice():
    again = [
        Attempt(FIRST_DAY + timedelta(days=7 * i), "Ada", Station.COUNT, "jar", estimate, 438)
        for i, estimate in enumerate([380, 440, 437, 438])
    ]

    (found,) = read_club([*again, *log([0.9, 0.95])])["Ada"]

    assert [each.estimate for each in found.attempts if each.thing == "jar"] == [380]
    assert (found.n, found.n_known) == (3, 3)
    assert "3 attempts more were at true values seen before" in habit_words(found)


def test_a_scoop_is_no_sum_and_no_slip():
    found = habit([0.472, 0.503, 0.414, 1.1, 1.05, 1.08, 1.12], station=Station.MASS, per_day=1)

    assert found.suspects == ()
    assert found.blunder_share == 0
    assert "slip" not in habit_words(found)


def test_the_expected_score_counts_the_slips_in():
    # 18 right ones and two of a factor ten: what comes is the mixture (docs/coaching.md).
    wild = habit([1.0, 0.98, 1.02, 0.97, 1.03, 1.0, 0.1, 1.01, 10.0, 0.99], per_day=2)
    clean = predicted_score(wild.posterior)

    assert wild.next_score.score < clean.score - 4
    assert wild.next_score.p_at_least < clean.p_at_least
