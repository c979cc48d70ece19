"""What to practise next: untried first, all stations in turn, one weight for each kind of thing."""

import itertools
from datetime import date, timedelta

import pytest

from nearmark.coaching.attempt import Attempt
from nearmark.coaching.expected_score import expected_score
from nearmark.coaching.kinds import items_of, kinds_to_practise
from nearmark.coaching.practice_plan import Need, club_next, needs, plan_session, what_next
from nearmark.coaching.pupil_habit import read_club
from nearmark.errors import InputError
from nearmark.station import Station
from nearmark.words.coaching_habits import reason_words

DAY = date(2027, 2, 3)
MASS, COUNT, VOLUME = (Station.MASS, ""), (Station.COUNT, ""), (Station.VOLUME, "")
NEEDS = [
    Need(*MASS, 0.02, 0.10, n=4, ago=2, station_ago=2),
    Need(*COUNT, -0.30, 0.25, n=4, ago=0, station_ago=0),
    Need(*VOLUME, 0.02, 0.08, n=9, ago=1, station_ago=1),
]


def log(*rows):
    """Attempts of Ada, one a day: station, size."""
    return [
        Attempt(DAY + timedelta(days=i), "Ada", station, f"thing {i}", 90, 100, size)
        for i, (station, size) in enumerate(rows)
    ]


def test_no_station_comes_twice_running():
    chosen = [item.station for item in plan_session(NEEDS, 20)]

    assert chosen[0] is not Station.COUNT  # it was the last one seen
    assert all(a is not b for a, b in itertools.pairwise(chosen))


def test_all_stations_come_in_turn_even_when_one_is_worth_hardly_anything():
    chosen = [item.station for item in plan_session(NEEDS, 40)]

    for station in Station:
        seen = [-1, *(i for i, each in enumerate(chosen) if each is station), len(chosen)]
        assert max(b - a for a, b in itertools.pairwise(seen)) <= 4


def test_the_largest_gain_comes_most_often():
    chosen = [item.station for item in plan_session(NEEDS, 12)]

    assert chosen.count(Station.COUNT) >= 4


def test_the_worth_is_the_difference_of_two_expected_scores_times_the_items():
    need = NEEDS[1]
    after = expected_score(0.82 * -0.30, 0.93**0.5 * 0.25).score

    assert need.worth == pytest.approx(3 * (after - expected_score(-0.30, 0.25).score))
    assert need.priority == pytest.approx(need.worth * (1 + 1 / 5**0.5))


def test_each_size_class_is_one_item_and_a_station_without_them_has_all():
    assert [items_of((Station.COUNT, size)) for size in ("small", "medium", "large")] == [1, 1, 1]
    assert [items_of(kind) for kind in (MASS, COUNT, VOLUME)] == [1, 3, 2]


def test_the_reason_says_that_the_worth_is_assumed():
    words = reason_words(plan_session(NEEDS, 2)[1])

    assert words.startswith("worth about")
    assert "if practice helps as assumed; tried 4 times, last" in words


def test_what_was_never_tried_comes_first():
    # After one jar of a size: the other stations, then the sizes that a contest also has.
    own = read_club(log((Station.COUNT, "small")))["Ada"]
    plan = what_next(own, [], 5)

    assert {item.station for item in plan[:2]} == {Station.MASS, Station.VOLUME}
    assert [(i.station, i.size) for i in plan if i.station is Station.COUNT][:2] == [
        (Station.COUNT, "medium"),
        (Station.COUNT, "large"),
    ]
    assert reason_words(plan[0]) == "not tried yet"


def test_sizes_of_the_own_kind_are_left_as_they_are():
    kinds = kinds_to_practise(
        [(Station.COUNT, "tub"), (Station.COUNT, "pot"), (Station.VOLUME, "")]
    )

    assert kinds == (MASS, (Station.COUNT, "pot"), (Station.COUNT, "tub"), VOLUME)


def test_a_sound_pupil_sees_all_stations():
    rows = [MASS, (Station.COUNT, "small"), VOLUME] * 4
    own = read_club(log(*rows))["Ada"]

    chosen = [item.station for item in what_next(own, [], 6)]

    assert set(chosen[:4]) == set(Station)


def test_a_single_station_comes_again():
    assert len(plan_session(NEEDS[1:2], 3)) == 3


def test_a_plan_of_nothing_is_refused():
    with pytest.raises(InputError, match="Log one attempt first"):
        plan_session([], 3)


def test_what_was_last_seen_is_read_from_the_log():
    own = read_club(log(COUNT, MASS))["Ada"]
    mass, count, volume = needs(own, [])

    assert (count.ago, mass.ago, volume.ago) == (1, 0, 2)
    assert (count.n, mass.n, volume.n) == (1, 1, 0)


def test_a_club_does_what_comes_first_for_most_and_is_there():
    habits = read_club(log((Station.COUNT, "small")))

    everything = club_next(habits, ["Ada", "Bo"])
    jars_only = club_next(habits, ["Ada", "Bo"], [(Station.COUNT, "medium")])

    assert everything is not None
    assert everything.n_pupils == 2
    assert jars_only is not None
    assert (jars_only.size, jars_only.pupils) == ("medium", ("Ada", "Bo"))
    assert club_next(habits, ["Ada"], []) is None
    assert club_next({}) is None
