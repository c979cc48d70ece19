import math

import pytest

from nearmark.errors import InputError
from nearmark.packing import box, cup, cylinder, rounded_jar

VESSELS = (cylinder(8, 12), box(8, 6, 12), cup(5, 9, 12), rounded_jar(8, 12, 2))


@pytest.mark.parametrize("vessel", VESSELS, ids=lambda v: v.form)
def test_the_height_that_holds_a_volume_undoes_the_volume_below_a_height(vessel):
    for height in (0.5, 3.0, 11.0):
        volume = vessel.volume_below_cm3(height)
        assert vessel.height_holding_cm(volume) == pytest.approx(height, rel=1e-6)


def test_a_rounded_edge_takes_away_what_pappus_says():
    r, e = 4.0, 1.5
    # The ring's section is a square less a quarter circle; its centroid turns about the axis.
    area = e * e * (1 - math.pi / 4)
    centroid = r - e + (e**3 / 2 - (e**3) / 3) / area
    lost = cylinder(8, 12).volume_below_cm3(5) - rounded_jar(8, 12, e).volume_below_cm3(5)

    assert lost == pytest.approx(2 * math.pi * centroid * area, rel=1e-3)


@pytest.mark.parametrize(
    ("make", "measures", "word"),
    [
        (cylinder, (0, 12), "above 0"),
        (cylinder, (8, 500), "at most 100 cm"),
        (cylinder, (8, math.nan), "above 0"),
        (cup, (8, 5, 12), "widen upwards"),
        (rounded_jar, (8, 12, 5), "rounded edge"),
    ],
)
def test_an_impossible_vessel_is_refused(make, measures, word):
    with pytest.raises(InputError, match=word):
        make(*measures)
