"""One sentence or two about one attempt, replayed on it, and the tasks to do at home."""

import re
from dataclasses import replace
from datetime import date

import pytest

from nearmark.coaching import (
    Attempt,
    HomeTask,
    KnownJar,
    Layers,
    Scoop,
    Sides,
    home_tasks,
    points,
    would_have,
)
from nearmark.coaching.home_tasks import TASKS
from nearmark.errors import InputError
from nearmark.station import Station
from nearmark.words.coaching_advice import attempt_words
from nearmark.words.coaching_jars import jar_words
from nearmark.words.home_tasks import task_fields, task_title, task_words

DAY = date(2027, 2, 3)


def one(station, estimate, true, parts=None):
    return Attempt(DAY, "Ada", station, "thing", estimate, true, parts=parts)


def words(station, estimate, true, parts=None):
    return attempt_words(one(station, estimate, true, parts))


@pytest.mark.parametrize("station", Station)
@pytest.mark.parametrize("ratio", [1e-5, 0.1, 0.3, 0.7, 0.95, 1.0, 1.05, 1.4, 2.5, 10, 1e5])
def test_there_is_always_a_sentence(station, ratio):
    found = words(station, 100 * ratio, 100)

    assert found.endswith(".")
    assert found[0].isupper() or found[0].isdigit()


def test_right_needs_no_advice():
    assert words(Station.COUNT, 425, 420) == "Very close: keep doing it this way."


def test_a_slipped_zero_is_named():
    assert words(Station.COUNT, 3900, 420) == "About 10 times too high: check the zeros."
    assert words(Station.COUNT, 5, 420) == "About 100 times too low: check the zeros."


def test_there_are_no_zeros_at_the_scales():
    assert words(Station.MASS, 10, 100) == (
        "Less than half of it: lift a known 100 g before you scoop."
    )


@pytest.mark.parametrize("net_g", [62, 55])
def test_a_heavy_cup_that_may_hide_what_is_missing_is_named(net_g):
    # A mug of 310 g, and about half of 100 g in it: more than "scoop a little more".
    assert words(Station.MASS, net_g, 100, Scoop(310, 0.8)) == (
        f"{100 - net_g} % low, and the empty cup weighs 310 g: hold it first, then scoop more."
    )
    assert "cup" not in words(Station.MASS, net_g, 100, Scoop(8.6, 0.8))
    assert "cup" not in words(Station.MASS, 200 - net_g, 100, Scoop(310, 0.8))


def test_far_but_no_power_of_ten_is_no_slipped_zero():
    assert words(Station.COUNT, 1400, 420).startswith("More than double")


def test_what_would_have_gained_is_said_with_what_it_gives():
    # Layer 38 of 52, layers 9 of 9: all of the error is the layer count; 52 x 9 is 468.
    assert words(Station.COUNT, 342, 468, Layers(38, 9, 52, 9)) == (
        "One layer shows 52, not 38. That gives 468: 100 points instead of 73."
    )


def test_layer_and_method_are_judged_together():
    # 250 = 25 x 10 of 303: more pieces in the layer alone would have lost points (finding).
    found = words(Station.COUNT, 250, 303, Layers(25, 10, 37, 10.54))

    assert "One layer shows 37, not 25." in found
    assert "Leave out one in five" in found
    assert found.endswith("That gives 296: 98 points instead of 83.")


def test_one_figure_of_a_right_product_is_no_slip():
    assert words(Station.VOLUME, 2000, 1620, Sides(13.5, 14.9, 8, (13.5, 15, 8))) == (
        "13.5 x 14.9 x 8 is 1,609 cm3: write more than one figure of it. 99 points instead of 77."
    )


def test_three_sides_alike_are_the_hand():
    assert words(Station.VOLUME, 1331, 1000, Sides(11, 11, 11, (10, 10, 10))) == (
        "Measure the hand again: all three sides are read about 10 % high. "
        "That gives 1,000: 100 points instead of 67."
    )


def test_a_heavy_cup_that_could_explain_it_is_named():
    assert words(Station.MASS, 50.3, 100, Scoop(182, 0.8)).startswith(
        "The empty cup weighs 182 g: hold it first."
    )
    assert words(Station.MASS, 80, 100, Scoop(8.6, 0.8)) == "20 % low: scoop more next time."


def test_a_slip_of_the_sum_is_said_with_its_points():
    assert words(Station.VOLUME, 4800, 480, Sides(12, 8, 5)) == (
        "A factor of ten: 12 x 8 x 5 is 480 cm3. 100 points instead of 0."
    )


def test_a_slip_that_came_out_right_is_left_alone():
    # Two digits swapped, and nearer to the truth so: replaying the right sum gains nothing.
    assert would_have(one(Station.VOLUME, 387, 390, Sides(13.5, 7, 4))) is None


def test_an_answer_at_a_known_value_gets_no_praise():
    known = replace(one(Station.COUNT, 420, 420), is_known=True)

    assert attempt_words(known) == "The true value was known already: this is not counted."


@pytest.mark.parametrize(
    "parts",
    [
        Layers(30, 9, 52, 9),
        Layers(52, 6, 52, 9),
        Layers(66, 9, 52, 9),
        Layers(30, 12, 52, 9),
        Layers(60, 12, 52, 9),
    ],
)
def test_nothing_is_said_that_gains_nothing(parts):
    attempt = one(Station.COUNT, parts.product, 440, parts)
    found = would_have(attempt)

    if found is not None:
        assert found.after >= points(attempt) + 3


def test_a_jar_says_what_helps_or_what_the_method_gives():
    jar = KnownJar(480, 50, 9.6)

    assert jar_words(jar, 378, 42, 9) == (
        "One layer shows 50, not 42. That gives 450: 94 points instead of 79."
    )
    assert jar_words(jar, 500).endswith("gives 480: the method works here.")
    assert jar_words(KnownJar(480), 300) == "38 % low: there were more than it looked."


def test_a_week_brings_other_tasks_and_three_weeks_bring_all():
    given = [task for week in range(3) for task in home_tasks([], week)]

    assert sorted(given) == sorted(HomeTask)


def test_the_most_needed_station_comes_first():
    assert home_tasks([Station.VOLUME], 0)[0] in TASKS[Station.VOLUME]


@pytest.mark.parametrize("task", HomeTask)
def test_every_task_has_a_name_and_a_number_to_check_after_the_estimate(task):
    assert task_title(task)
    assert len(task_fields(task)) >= 2
    # Whatever is estimated is weighed, counted or taken again afterwards.
    assert re.search(
        r"[Tt]hen (weigh|count|take|check|work)|[Cc]ount,|Weigh both", task_words(task)
    )


@pytest.mark.parametrize(("week", "n"), [(-1, 3), (0, 0), (0, 4)])
def test_numbers_that_make_no_sense_are_refused(week, n):
    with pytest.raises(InputError):
        home_tasks([], week, n=n)
