"""A room: its middle against other libraries and a crowd of 1907, its games by hand."""

import math
import statistics

import pytest
from scipy import stats

from nearmark.coaching.acts import guess_points
from nearmark.coaching.room import middle_of, middle_result, spread_of
from nearmark.coaching.room_games import closest_at_tables, personal_bests, relays, team_total
from nearmark.contest import score
from nearmark.errors import InputError

GALTON_LB = (
    *(1074, 1109, 1126, 1148, 1162, 1174, 1181, 1188, 1197),
    *(1207, 1214, 1219, 1225, 1230, 1236, 1243, 1254, 1267, 1293),
)
"""Guesses of 787 people at the weight of a dressed ox, at each 5 % from 5 % to 95 %; it weighed
1,198 lb (Galton, "Vox populi", Nature 75, 1907; from memory)."""

ROOM = (312, 350, 380, 390, 401, 420, 455, 480, 520, 610, 700, 4200)


@pytest.mark.parametrize("guesses", [ROOM, ROOM[:-1], ROOM[:1], ROOM[:2]])
def test_the_middle_is_the_median_of_the_logarithms(guesses):
    expected = math.exp(statistics.median(math.log(guess) for guess in guesses))

    assert middle_of(guesses) == pytest.approx(expected, rel=1e-12)


def test_two_middle_guesses_meet_in_their_geometric_mean():
    assert middle_of([90, 100, 400, 900]) == pytest.approx(statistics.geometric_mean([100, 400]))


def test_a_slip_of_ten_hardly_moves_the_middle_and_moves_the_geometric_mean_by_a_fifth():
    slipped = (*ROOM[:-1], 420)
    moved = middle_of(ROOM) / middle_of(slipped)
    mean_moved = stats.gmean(ROOM) / stats.gmean(slipped)

    assert abs(moved - 1) < 0.05
    assert mean_moved == pytest.approx(10 ** (1 / 12), rel=1e-9)
    assert 1.2 < mean_moved < 1.25


def test_the_geometric_mean_of_all_would_scatter_a_fifth_less_without_slips():
    """The median of normal errors has pi / 2 the variance of their mean (any text on robust
    statistics; asymptotic)."""
    drawn = stats.norm(0, 0.3).rvs((4000, 101), random_state=5)
    middles = [math.log(middle_of(list(row))) for row in _exp(drawn)]

    ratio = statistics.stdev(middles) / drawn.mean(axis=1).std(ddof=1)
    assert ratio == pytest.approx(math.sqrt(math.pi / 2), rel=0.05)


def _exp(drawn):
    return [[math.exp(x) for x in row] for row in drawn]


def test_the_crowd_of_1907_is_less_than_a_percent_high():
    found = middle_result(GALTON_LB, 1198)

    assert middle_of(GALTON_LB) == pytest.approx(1207)
    assert found.points == pytest.approx(100 * (1 - 9 / 1198))
    # Every guess but 1,197 is as far from 1,198 as 1,207, or farther.
    assert (found.n, found.n_beaten) == (19, 17)


def test_quarters_are_those_of_another_library_on_the_scale_of_ratios():
    found = spread_of(ROOM)
    cut = statistics.quantiles([math.log(guess) for guess in ROOM], n=4, method="inclusive")

    assert (found.n, found.low, found.high) == (12, pytest.approx(312), pytest.approx(4200))
    assert [math.log(v) for v in (found.quarter, found.middle, found.three_quarters)] == (
        pytest.approx(cut)
    )


@pytest.mark.parametrize("guess", [1, 250, 419, 420, 421.5, 839, 840, 5000])
def test_points_are_those_of_the_contest(guess):
    assert guess_points(guess, 420) == pytest.approx(float(score(guess, 420)))


@pytest.mark.parametrize("guesses", [[], [0.0], [-3], [math.inf], [math.nan]])
def test_what_is_no_guess_is_refused(guesses):
    for act in (middle_of, spread_of):
        with pytest.raises(InputError):
            act(guesses)


def test_the_team_has_what_its_guesses_brought_and_who_did_not_guess_costs_nothing():
    assert team_total([{1: 80.0, 2: 10.0}, {2: 70.0}]) == (160.0, 300.0)
    assert team_total([]) == (0, 0)


def test_a_best_is_better_than_all_before_and_needs_a_before():
    before = {1: [70.0, 88.0], 2: [90.0], 3: [], 4: [50.0]}

    # 1 is better, 2 as good, 3 and 5 never guessed before, 4 did not guess now.
    assert personal_bests({1: 90.0, 2: 90.0, 5: 99.0}, before) == (1,)
    assert personal_bests({3: 90.0}, {}) == ()


def test_who_sits_at_no_table_plays_in_the_room():
    assert closest_at_tables({4: 400, 9: 415, 2: 425}, 420, {4: 3}) == {0: (2, 9), 3: (4,)}


def test_a_relay_takes_turns_and_a_missed_turn_is_worth_nothing():
    rounds = [{1: 80.0, 2: 99.0, 3: 60.0, 4: 1.0}, {1: 99.0, 3: 99.0, 4: 50.0}, {1: 10.0, 3: 20.0}]
    found = relays(rounds, [(1, 2), (3, 4)])

    # 60 + 50 + 20, and 80 + 0 + 10.
    assert [(relay.seats, relay.points) for relay in found] == [((3, 4), 130.0), ((1, 2), 90.0)]
