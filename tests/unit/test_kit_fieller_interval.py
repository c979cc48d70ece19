"""The interval of a count against the roots of its own definition, found by bisection.

Net mass G, mass of a piece m, N pieces: G - N m has the variance u_G^2 + N s^2 + N^2 u_m^2, where s
is the spread from piece to piece.  Every part weighs here, so that none can be lost unnoticed.
"""

import math

import pytest
from scipy.optimize import brentq

from nearmark.errors import ReadingsDisagree
from nearmark.kit import Sample, count_by_weighing
from nearmark.kit.count_budget import CountRows
from nearmark.kit.count_options import CountOptions
from nearmark.kit.counting import fieller_interval
from nearmark.kit.unit_mass import UnitMass
from nearmark.measurement.budget import Component
from nearmark.measurement.instruments import Instrument, Reading

NET_G, PIECE_G, PIECE_SD_G = 61.0, 0.61, 0.12
K = 2.5


def rows(net_u_g: float, piece_u_g: float) -> CountRows:
    """Two rows of each kind, of the same size."""
    count, half = NET_G / PIECE_G, math.sqrt(0.5)
    net = Component("net", NET_G, "g", half * net_u_g, 1 / PIECE_G)
    samples = Component("piece", PIECE_G, "g", half * piece_u_g, -count / PIECE_G)
    spread = Component("spread", 0, "g", PIECE_SD_G, -math.sqrt(count) / PIECE_G)
    unit = UnitMass(PIECE_G, PIECE_SD_G, 3, 300)
    return CountRows(unit, NET_G, (samples,), (net, net), spread, (samples,))


@pytest.mark.parametrize(("net_u_g", "piece_u_g"), [(1.5, 0.02), (6.0, 0.001), (0.01, 0.06)])
def test_both_ends_lie_k_standard_uncertainties_from_nothing(net_u_g, piece_u_g):
    def excess(n: float) -> float:
        variance = net_u_g**2 + n * PIECE_SD_G**2 + (n * piece_u_g) ** 2
        return (NET_G - n * PIECE_G) ** 2 - K**2 * variance

    expected = brentq(excess, 0, NET_G / PIECE_G), brentq(excess, NET_G / PIECE_G, 1e6)
    assert fieller_interval(rows(net_u_g, piece_u_g), K) == pytest.approx(expected)


def test_no_count_is_below_nothing():
    low, high = fieller_interval(rows(40.0, 0.001), K)

    assert low == 0
    assert high > NET_G / PIECE_G


def test_a_piece_that_may_weigh_nothing_has_no_interval():
    with pytest.raises(ReadingsDisagree, match="cannot be distinguished from zero"):
        fieller_interval(rows(1.0, 1.001 * PIECE_G / K), K)


def test_a_count_is_held_to_the_limit_that_was_asked_for():
    scale = Instrument("bench scale", "g", 0.1)
    samples = [Sample(100, grams) for grams in (61.2, 61.9, 61.5)]
    readings = Reading((2890.4,), scale), Reading((412.3,), scale)

    found = count_by_weighing(samples, *readings, options=CountOptions(u_limit=0.2))

    assert found.u_limit == 0.2
    assert found.fit
