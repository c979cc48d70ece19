"""One sentence about one attempt, and the tasks to do at home."""

from datetime import date

import pytest

from nearmark.coaching import Attempt, HomeTask, Layers, Sides, Station, attempt_advice, home_tasks
from nearmark.coaching.home_tasks import TASKS
from nearmark.errors import InputError

DAY = date(2027, 2, 3)


def told(station, estimate, true, parts=None):
    return attempt_advice(Attempt(DAY, "Ada", station, "thing", estimate, true, parts=parts))


@pytest.mark.parametrize("station", Station)
@pytest.mark.parametrize("ratio", [1e-5, 0.1, 0.3, 0.7, 0.95, 1.0, 1.05, 1.4, 2.5, 10, 1e5])
def test_there_is_always_one_sentence(station, ratio):
    words = told(station, 100 * ratio, 100)

    assert words.endswith(".")
    assert words.count(". ") == 0
    assert words[0].isupper() or words[0].isdigit()


def test_right_needs_no_advice():
    assert told(Station.COUNT, 425, 420) == "Very close: keep doing it this way."


def test_a_slipped_zero_is_named():
    assert told(Station.COUNT, 3900, 420) == "About 10 times too high: check the zeros."
    assert told(Station.COUNT, 5, 420) == "About 100 times too low: check the zeros."


def test_far_but_no_power_of_ten_is_no_slipped_zero():
    assert told(Station.COUNT, 1400, 420).startswith("More than double")


def test_the_part_that_cost_most_is_named():
    # Layer 38 of 52, layers 9 of 9: all of the error is the layer count.
    words = told(Station.COUNT, 342, 468, Layers(38, 9, 52, 9))

    assert (
        words == "27 % low, most of it from the layer count: look at one layer again, row by row."
    )


def test_no_part_is_named_when_two_share():
    words = told(Station.VOLUME, 729, 1000, Sides(9, 9, 9, (10, 10, 10)))

    assert words == "27 % low: the box holds more than it looks."


def test_a_slip_of_the_sum_goes_before_everything():
    assert told(Station.VOLUME, 4800, 480, Sides(12, 8, 5)) == (
        "A factor of ten: your sides give 480 cm3."
    )


def test_a_week_brings_other_tasks_and_three_weeks_bring_all():
    titles = [task.title for week in range(3) for task in home_tasks([], week)]

    assert sorted(titles) == sorted(task.title for own in TASKS.values() for task in own)


def test_the_most_needed_station_comes_first():
    assert home_tasks([Station.VOLUME], 0)[0].station is Station.VOLUME


def test_every_task_checks_after_the_estimate():
    for task in (task for own in TASKS.values() for task in own):
        assert isinstance(task, HomeTask)
        assert len(task.fields) >= 2


@pytest.mark.parametrize(("week", "n"), [(-1, 3), (0, 0), (0, 4)])
def test_numbers_that_make_no_sense_are_refused(week, n):
    with pytest.raises(InputError):
        home_tasks([], week, n=n)
