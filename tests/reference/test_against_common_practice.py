"""What people who weigh and count for a living expect to come out."""

from decimal import Decimal

import pytest

from nearmark.kit import Sample, agreement, batch_tare, count_by_weighing, hand_count, net_mass
from nearmark.kit.unit_mass import unit_mass
from nearmark.measurement.instruments import Instrument, Reading

SCALE = Instrument("bench scale", "g", 0.1)

# United States Mint, "Coin Specifications" (stored copy of the page opened): weight in g.
COINS_G = {"cent": 2.500, "5 cents": 5.000, "10 cents": 2.268, "25 cents": 5.670}


def test_three_samples_of_a_hundred_divided_give_the_piece_mass():
    # common practice, no source: count 100, weigh, three times; add up, divide by 300
    samples = [Sample(100, 24.9), Sample(100, 25.0), Sample(100, 25.1)]

    assert unit_mass(samples).mass_g == pytest.approx((24.9 + 25.0 + 25.1) / 300)


def test_a_container_is_its_net_mass_over_the_piece_mass():
    # common practice, no source: 900.0 g of pieces of 0.25 g are 3600
    samples = [Sample(100, 24.9), Sample(100, 25.0), Sample(100, 25.1)]
    result = count_by_weighing(samples, Reading((1100.0,), SCALE), Reading((200.0,), SCALE))

    assert result.key == Decimal(3600)


@pytest.mark.parametrize(("coin", "pieces"), [("cent", 40), ("5 cents", 20)])
def test_a_hundred_grams_of_coins_are_as_many_as_the_mint_says(coin, pieces):
    # 100 g / 2.500 g = 40 cents; 100 g / 5.000 g = 20 pieces of 5 cents
    samples = [Sample(n, n * COINS_G[coin]) for n in (10, 12, 14)]
    result = count_by_weighing(samples, Reading((100.0,), SCALE), Reading((0.0,), SCALE))

    assert result.key == Decimal(pieces)


@pytest.mark.parametrize("coin", COINS_G)
def test_a_roll_of_fifty_coins_weighed_on_a_bench_scale_is_counted_right(coin):
    # the scale rounds to 0.1 g, which is 4 % of the lightest coin
    samples = [Sample(n, round(n * COINS_G[coin], 1)) for n in (20, 25, 30)]
    gross = round(50 * COINS_G[coin] + 20, 1)
    result = count_by_weighing(samples, Reading((gross,), SCALE), Reading((20.0,), SCALE))

    assert result.key == Decimal(50)
    low, high = result.interval
    assert low <= 50 <= high


def test_forty_cents_fill_a_cup_to_a_hundred_grams():
    # 40 coins of 2.500 g are 100 g, in a cup of 12.4 g
    result = net_mass(Reading((112.4,), SCALE), Reading((12.4,), SCALE))

    assert result.key == Decimal("100.0")


def test_a_count_by_weighing_and_one_by_hand_of_the_same_jar_agree():
    # common practice, no source: a second way to the same key is its best check
    samples = [Sample(n, n * COINS_G["cent"]) for n in (20, 30, 40)]
    weighed = count_by_weighing(samples, Reading((1125.0,), SCALE), Reading((100.0,), SCALE))

    assert agreement(weighed, hand_count([410, 410])).agrees  # 1025.0 g / 2.500 g = 410
    assert not agreement(weighed, hand_count([430, 430])).agrees


def test_e_n_is_the_difference_over_the_joint_expanded_uncertainty():
    # ISO 13528 E_n score, formula as in the NIST Dataplot reference manual (page opened):
    # (x - X) / sqrt(U_x^2 + U_ref^2). Counts 400, 400 and 404, 404: U = 1.95996 *
    # sqrt(0.0005 * N / 2) = 0.61979 and 0.62288; E_n = 4 / 0.87872 = 4.5521
    found = agreement(hand_count([400, 400]), hand_count([404, 404]))

    assert found.e_n == pytest.approx(4.5521, abs=5e-4)


def test_a_modified_z_score_above_three_and_a_half_marks_a_cup():
    # Iglewicz and Hoaglin 1993 (from memory): 0.6745 |x - median| / MAD > 3.5.  Median 12.4 g,
    # MAD 0.2 g: the limit lies 3.5 * 0.2 / 0.6745 = 1.0378 g away
    cups = [12.2, 12.2, 12.4, 12.6, 12.6, 12.4, 12.2]

    assert batch_tare([*cups, 13.4], SCALE).outlying == ()
    assert batch_tare([*cups, 13.5], SCALE).outlying == (8,)
