"""One plan over the stations: size classes share it, and items weigh the stations."""

from types import SimpleNamespace
from typing import cast

import pytest

from nearmark.coaching import Mode, joint_plan
from nearmark.coaching.pair_advice import Advice, Option
from nearmark.station import Station


def told(first: float, average: float) -> Advice:
    """An advice, as far as the plan asks."""
    ways = Option(Mode.FIRST, first, 0.5, 0.5), Option(Mode.AVERAGE, average, 0.4, 0.5)
    return cast("Advice", SimpleNamespace(options=ways))


def test_without_a_common_station_there_is_no_plan():
    assert joint_plan([]) is None


def test_size_classes_of_a_station_share_the_way_that_is_best_on_average():
    # first: (90 + 70) / 2 = 80; average: (85 + 80) / 2 = 82.5 (worked by hand)
    plan = joint_plan([(Station.COUNT, told(90, 85)), (Station.COUNT, told(70, 80))])

    assert plan.modes == {Station.COUNT: Mode.AVERAGE}
    assert plan.mean_score == pytest.approx(82.5)


def test_the_mean_is_over_the_items_of_the_contest():
    per_station = [(Station.COUNT, told(90, 60)), (Station.VOLUME, told(70, 80))]

    # usual: 3 counts at 90 and 2 volumes at 80; then one of each (worked by hand)
    assert joint_plan(per_station).mean_score == pytest.approx((3 * 90 + 2 * 80) / 5)
    equal = joint_plan(per_station, {Station.COUNT: 1, Station.VOLUME: 1})
    assert equal.mean_score == pytest.approx(85)
    assert equal.modes == {Station.COUNT: Mode.FIRST, Station.VOLUME: Mode.AVERAGE}
    # one count by the first (0.5), one volume by the average (0.4)
    assert equal.p_all_90 == pytest.approx(0.2)
