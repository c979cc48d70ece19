"""Slips of the sum, single figures and the scoop habit at their edges, and their words."""

from datetime import date

import numpy as np
import pytest

from nearmark.coaching.attempt import Attempt, Layers, Scoop, Sides
from nearmark.coaching.scoop_fit import fit_scoops
from nearmark.coaching.scoop_habit import scoop_habit
from nearmark.coaching.slips import Slip, find_slip, is_one_figure, slips_among
from nearmark.errors import InputError, TooFewReadings
from nearmark.station import Station
from nearmark.words.coaching_habits import cup_words
from nearmark.words.coaching_steps import slip_words

DAY = date(2027, 2, 3)
BOX, JAR = Sides(12, 8, 5), Layers(42, 9)


def test_a_slip_shows_its_sum():
    assert slip_words(find_slip(25, BOX)) == (
        "Added instead of multiplied (12 + 8 + 5): 12 x 8 x 5 is 480 cm3."
    )


@pytest.mark.parametrize(
    ("recorded", "parts"),
    [(480, BOX), (500, BOX), (400, JAR), (380, JAR), (2000, Sides(13.5, 14.9, 8))],
)
def test_a_right_product_honestly_rounded_is_no_slip(recorded, parts):
    # 378 -> 400 and 1,609 -> 2,000: one figure of a right product, found to be accused before
    assert find_slip(recorded, parts).slip is Slip.NONE


def test_a_lean_of_a_fifth_is_hardly_ever_called_a_slip():
    # By chance alone 0.8 of a product lies near one of its mixed-up sums; a coach found it called
    # "one side used twice" in half of the boxes.
    rng = np.random.default_rng(6)
    called = [
        find_slip(round(0.8 * own.product), own).is_known
        for own in (Sides(a, b, c) for a, b, c in np.round(rng.uniform(3, 25, (1000, 3)), 1))
    ]

    assert np.mean(called) < 0.05


def test_one_figure_is_told_from_two():
    assert is_one_figure(400, 378)
    assert not is_one_figure(380, 378)
    assert not is_one_figure(400, 400)  # the product itself


def test_only_known_slips_are_listed():
    log = [
        Attempt(DAY, "Ada", Station.COUNT, "jar", estimate, 400, parts=JAR)
        for estimate in (378, 400, 302, 3780)
    ]

    assert [(each.estimate, slip.slip) for each, slip in slips_among(log)] == [(3780, Slip.DECIMAL)]


@pytest.mark.parametrize("recorded", [0, -5, float("nan")])
def test_a_volume_of_nothing_is_refused(recorded):
    with pytest.raises(InputError, match="recorded number"):
        find_slip(recorded, BOX)


def scoop(net_g, cup_g):
    return Attempt(DAY, "Ada", Station.MASS, "rice", net_g, 100, parts=Scoop(cup_g, 0.8))


def test_two_scoops_are_too_few():
    jar = Attempt(DAY, "Ada", Station.COUNT, "jar", 400, 480)

    with pytest.raises(TooFewReadings, match="at least 3 needed, 2 given"):
        scoop_habit([scoop(95, 8), scoop(95, 8), jar])


def test_scoops_of_one_cup_and_material_leave_the_priors_alone():
    scoops = [scoop(95, 8)] * 4
    fit = fit_scoops(scoops)

    assert fit.beta[:2].tolist() == pytest.approx([-5, 0.4], abs=0.01)
    assert fit.covariance[1, 1] ** 0.5 == pytest.approx(0.35)
    assert not scoop_habit(scoops).cup_misleads


def test_a_quarter_too_much_at_every_cup_is_not_the_cup():
    found = scoop_habit([scoop(124, cup) for cup in (8, 180, 54, 9, 178, 8)])

    assert not found.cup_misleads


def test_a_forgotten_tare_is_said_with_both_cups():
    # The clean case of a coach: paper 112, 108, 115 g; glass 50, 52, 47 g; slope 0.36 of the cup.
    found = scoop_habit([scoop(net, 8.6) for net in (112, 108, 115)]
                        + [scoop(net, 182) for net in (50, 52, 47)])  # fmt: skip

    assert found.cup_misleads
    assert found.tare_share == pytest.approx(0.36, abs=0.01)
    light, heavy = found.cups
    assert (light.off_g, heavy.off_g) == pytest.approx((11.7, -50.3), abs=1)
    assert cup_words(found) == (
        "The cup's own mass is taken for content: with the light cup (9 g) about 12 g too much, "
        "with the heavy one (182 g) about 50 g too little."
    )
    assert light.next_score.score > 85
    assert heavy.next_score.score < 55
