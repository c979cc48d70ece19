"""Slips that could be behind a wrong key."""

from datetime import date
from decimal import Decimal

import pytest

from nearmark.contest.event import BoxReading, ContainerWeighing, Event, Item, Side
from nearmark.contest.key_slips import digit_slips, possible_slips
from nearmark.measurement.slips import exchanged_digits
from nearmark.station import Station
from nearmark.words.key_check import slip_words

JAR = Item("B1", Station.COUNT, "jar")
BOX = Item("C1", Station.VOLUME, "box")


def event(**records):
    return Event("Larkspur Valley Estimation Day", date(2026, 4, 18), **records)


def keys(slips):
    return {slip_words(slip): slip.key for slip in slips}


def test_every_pair_of_unequal_neighbours_is_exchanged_once():
    assert list(exchanged_digits(Decimal(4120))) == [(1, 1420), (2, 4210), (3, 4102)]


def test_equal_neighbours_and_a_leading_zero_are_no_slip():
    assert list(exchanged_digits(Decimal(1104))) == [(2, 1014), (3, 1140)]
    assert list(exchanged_digits(Decimal(104))) == [(2, 140)]


def test_a_decimal_point_stays_where_it_is():
    assert list(exchanged_digits(Decimal("52.4"))) == [(1, Decimal("25.4")), (2, Decimal("54.2"))]


def test_a_factor_of_ten_goes_both_ways():
    found = keys(digit_slips(Decimal(500)))

    assert found["key ten times too large"] == 50
    assert found["key ten times too small"] == 5000


def test_a_tare_left_in_or_subtracted_twice_gives_the_key_of_the_other_net_mass():
    # gross 700 g, tare 200 g, net 500 g, key 1000: net 300 g would be 600, net 700 g 1400 pieces
    weighings = (ContainerWeighing("B1", Decimal(700), Decimal(200), "bench scale"),)

    found = keys(possible_slips(event(containers=weighings), JAR, Decimal(1000)))

    assert found["tare left in"] == pytest.approx(600)
    assert found["tare subtracted twice"] == pytest.approx(1400)


def test_exchanged_digits_of_the_gross_mass_are_followed_to_the_key():
    # gross 4120 g for 1420 g, tare 120 g: net 1300 g instead of 4000 g
    weighings = (ContainerWeighing("B1", Decimal(4120), Decimal(120), "bench scale"),)

    found = keys(possible_slips(event(containers=weighings), JAR, Decimal(2000)))

    words = "digits 1 and 2 of the gross mass exchanged (4120 g for 1420 g)"
    assert found[words] == pytest.approx(2000 * 1300 / 4000)


def test_a_count_without_weighings_still_has_the_slips_of_its_digits_and_batches():
    found = keys(possible_slips(event(), JAR, Decimal(412)))

    assert found["pieces of the counted samples taken as twice as many"] == 206
    assert "tare left in" not in found


def box_event():
    edges = ((Side.LENGTH, "30"), (Side.WIDTH, "20"), (Side.HEIGHT, "10"))
    return event(
        box_readings=tuple(BoxReading("C1", side, Decimal(cm), "ruler") for side, cm in edges)
    )


def test_an_edge_read_in_inches_makes_the_box_2_54_times_as_large():
    found = keys(possible_slips(box_event(), BOX, Decimal(6000)))

    assert found["length read in inches"] == pytest.approx(15_240)
    assert found["all edges read in inches"] == pytest.approx(6000 * 2.54**3)


def test_walls_are_taken_off_each_edge_twice():
    found = keys(possible_slips(box_event(), BOX, Decimal(6000)))

    assert found["measured outside instead of inside"] == pytest.approx(29.2 * 19.2 * 9.2)


def test_slips_too_small_for_any_field_to_see_are_left_out():
    # 1442 for 1424 is 1.3 %
    words = keys(possible_slips(event(), JAR, Decimal(1442)))

    assert not [w for w in words if "1424" in w]


def test_two_slips_with_the_same_key_are_listed_once():
    slips = possible_slips(box_event(), BOX, Decimal(6000))

    assert len({round(slip.key, 3) for slip in slips}) == len(slips)


def test_the_measured_value_is_offered_where_the_lead_put_another():
    found = keys(possible_slips(event(), JAR, Decimal(4120), measured=1420.0))

    assert found["the decided value wrong, the measured one right"] == 1420
