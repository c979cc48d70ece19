"""Lost points, slips and scoop habit at their edges, and their words."""

from datetime import date

import pytest

from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides, Station
from nearmark.coaching.lost_points import log_parts, lost_points, shapley, split_attempt
from nearmark.coaching.scoop_habit import scoop_habit
from nearmark.coaching.volume_slips import find_slip
from nearmark.errors import InputError, TooFewReadings

DAY = date(2027, 2, 3)


def jar(estimate, parts=None, true=480):
    return Attempt(DAY, "Ada", Station.COUNT, "jar", estimate, true, parts=parts)


def test_without_parts_nothing_is_split():
    assert log_parts(jar(400)) == {}
    assert log_parts(jar(400, Layers(40, 10))) == {}
    assert lost_points([jar(400)]) is None
    assert lost_points([]) is None


def test_errors_that_cancel_are_luck_and_shown_as_such():
    found = lost_points([jar(480, Layers(40, 12, 50, 9.6))])

    assert found.total == pytest.approx(0, abs=1e-9)
    assert found.by_part["the layer count"] == pytest.approx(-found.by_part["the number of layers"])
    assert found.words == "Hardly a point is lost here."


def test_the_mean_is_over_attempts_with_parts():
    found = lost_points(
        [jar(378, Layers(42, 9, 50, 9.6)), jar(480, Layers(50, 9.6, 50, 9.6)), jar(9)]
    )

    assert found.n == 2
    assert found.total == pytest.approx(21.25 / 2)


def test_beyond_double_no_more_than_all_is_lost():
    assert sum(split_attempt([3.0, 200.0])) == pytest.approx(100)


def test_too_many_parts_are_refused():
    with pytest.raises(InputError, match="at most 10 parts"):
        shapley(lambda _: 0.0, 11)


def test_a_slip_shows_its_sum():
    assert find_slip(25, Sides(12, 8, 5)).words == (
        "Sides added instead of multiplied (12 + 8 + 5): your sides give 480 cm3."
    )


def test_an_honest_product_is_no_slip():
    assert find_slip(480, Sides(12, 8, 5)).words == "The product fits the sides."


@pytest.mark.parametrize("recorded", [0, -5, float("nan")])
def test_a_volume_of_nothing_is_refused(recorded):
    with pytest.raises(InputError, match="recorded volume"):
        find_slip(recorded, Sides(12, 8, 5))


def test_two_scoops_are_too_few():
    scoop = Attempt(DAY, "Ada", Station.MASS, "rice", 95, 100, parts=Scoop(8, 0.8))

    with pytest.raises(TooFewReadings, match="at least 3 needed, 2 given"):
        scoop_habit([scoop, scoop, jar(400)])


def test_scoops_of_one_cup_and_material_leave_the_priors_alone():
    scoop = Attempt(DAY, "Ada", Station.MASS, "rice", 95, 100, parts=Scoop(8, 0.8))
    found = scoop_habit([scoop] * 4)

    assert found.level_g == pytest.approx(-5, abs=0.01)
    assert (found.tare_share, found.tare_share_sd) == pytest.approx((0.4, 0.35))
    assert "too early to tell" in found.words


def test_a_forgotten_tare_is_said():
    attempts = [
        Attempt(DAY, "Ada", Station.MASS, "rice", 100 - cup / 2, 100, parts=Scoop(cup, 0.8))
        for cup in (5, 60, 10, 90, 5, 65)
    ]

    assert "% of the cup's mass is not allowed for" in scoop_habit(attempts).words
