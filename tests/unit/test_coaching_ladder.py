"""The scoop ladder: one line a try, the next cup by its rule, two cups compared."""

from datetime import date

import numpy as np
import pytest

from nearmark.coaching import Attempt, Scoop
from nearmark.coaching.scoop_fit import fit_scoops
from nearmark.coaching.scoop_ladder import (
    RUNGS_G,
    Rung,
    Why,
    cup_comparison,
    next_rung,
    read_rung,
)
from nearmark.errors import InputError
from nearmark.station import Station

PAPER, TIN, GLASS = Scoop(8.6, 0.8), Scoop(54.0, 0.8), Scoop(182.0, 0.8)
CUPS = [PAPER, TIN, GLASS]


def scoop(cup, net_g, target_g=100):
    return Attempt(date(2027, 2, 3), "Juno", Station.MASS, "rice", net_g, target_g, parts=cup)


def climb(net_of, n, rng=None):
    """The tries that the ladder proposes, one after the other."""
    tried: list[Attempt] = []
    reasons = []
    for _ in range(n):
        found = next_rung(CUPS, tried)
        cup = CUPS[found.rung.cup]
        noise = 0.0 if rng is None else rng.normal(0, 8)
        net_g = max(1.0, net_of(cup, found.rung.target_g) + noise)
        tried.append(scoop(cup, net_g, found.rung.target_g))
        reasons.append(found)
    return tried, reasons


def cup_blind(cup, target_g):
    return target_g + 14 - 0.35 * cup.cup_g


def test_the_next_cup_is_the_one_whose_scoop_tells_most_by_refitting():
    """Brute force: each cup's scoop is added and all is fitted anew; the least variance wins."""
    rng = np.random.default_rng(3)
    for _ in range(20):
        tried = [
            scoop(CUPS[rng.integers(3)], rng.uniform(60, 120)) for _ in range(rng.integers(1, 4))
        ]
        fit = fit_scoops(tried)
        refitted = [float(fit_scoops([*tried, scoop(cup, 100)]).covariance[1, 1]) for cup in CUPS]

        assert [fit.share_variance_after(cup) for cup in CUPS] == pytest.approx(
            refitted,
            rel=1e-4,  # the level's weak prior is laid at the middle cup, which moves
        )
        found = next_rung(CUPS, tried)
        if found.why is Why.CUP_NOT_KNOWN:
            assert refitted[found.rung.cup] == pytest.approx(min(refitted), rel=1e-4)


def test_light_and_heavy_come_first_and_the_cup_is_known_after_a_few():
    _, reasons = climb(cup_blind, 8)

    assert [each.rung.cup for each in reasons[:2]] == [0, 2]
    assert reasons[0].why is Why.CUP_NOT_KNOWN
    assert [each.why for each in reasons].index(Why.POINTS_LOST) <= 5


def test_then_the_cup_comes_with_which_most_is_lost():
    tried, _ = climb(cup_blind, 6)
    found = next_rung(CUPS, tried)

    # Paper: 11 g too much, tin: 5 g too little, glass: 50 g too little.
    assert (found.why, found.rung.cup) == (Why.POINTS_LOST, 2)
    assert 30 < found.amount < 70


def test_the_rungs_with_one_cup_take_turns_the_lightest_first():
    tried, _ = climb(cup_blind, 12)

    glass = [each.true for each in tried if each.parts == GLASS]
    assert tuple(glass[:3]) == RUNGS_G
    counts = [glass.count(rung) for rung in RUNGS_G]
    assert max(counts) - min(counts) <= 1


@pytest.mark.slow
def test_the_ladder_finds_the_cup_blind_and_no_other():
    """Drawn: 200 pupils who take 35 % of the cup for content, 200 who take none; 8 tries each."""
    rng = np.random.default_rng(20270203)
    found = {
        share: sum(
            cup_comparison(CUPS, climb(lambda cup, g, s=share: g + 5 - s * cup.cup_g, 8, rng)[0])
            is not None
            for _ in range(200)
        )
        for share in (0.35, 0.0)
    }

    assert found[0.35] >= 180
    assert found[0.0] <= 10


def test_the_comparison_fills_the_light_cup_to_the_heavy_one():
    tried, _ = climb(cup_blind, 6)

    found = cup_comparison(CUPS, tried)

    assert found is not None
    assert (found.light, found.heavy) == (0, 2)
    assert found.poured_g == pytest.approx(182 - 8.6)
    assert cup_comparison([PAPER], tried) is None
    assert cup_comparison([PAPER, Scoop(900.0, 0.8)], tried) is None  # no paper cup holds that


def test_one_cup_alone_is_enough_for_a_ladder():
    tried = [scoop(PAPER, 120)] * 3

    found = next_rung([PAPER], tried)

    assert found.rung == Rung(0, 50)
    with pytest.raises(InputError, match="there is none"):
        next_rung([], tried)


@pytest.mark.parametrize(
    ("text", "rung", "net_g"),
    [
        ("cup 2: 100 -> 87", Rung(1, 100), 87),
        ("Cup 3:150->141.5 g", Rung(2, 150), 141.5),
        ("2: 50 g > 61,2", Rung(1, 50), 61.2),
        ("100 → 87", Rung(0, 100), 87),
        ("cup 2: 44", Rung(1, 50), 44),
        ("  44 ", Rung(0, 50), 44),
    ],
)
def test_a_line_is_read(text, rung, net_g):
    assert read_rung(text, 3, Rung(0, 50)) == (rung, net_g)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "cannot be read"),
        ("cup two: 87", "cannot be read"),
        ("cup 2: 100 -> ", "cannot be read"),
        ("100 87", "cannot be read"),
        ("-> 87", "cannot be read"),
        ("cup 4: 100 -> 87", "cups 1 to 3"),
        ("cup 0: 100 -> 87", "cups 1 to 3"),
        ("cup 2: 87 -> 100", "must be 50, 100 or 150"),
        ("0", "net mass"),
        ("99999", "net mass"),
    ],
)
def test_a_line_that_cannot_be_meant_is_refused_with_its_text(text, why):
    with pytest.raises(InputError, match=why) as refusal:
        read_rung(text, 3, Rung(0, 50))
    assert refusal.value.mend
