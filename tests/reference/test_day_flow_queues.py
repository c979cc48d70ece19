"""The simulated queues against closed forms and an independent queueing package.

Erlang C: L. Kleinrock, *Queueing Systems*, volume 1 (1975), section 3.5 (from memory).  Ciw is an
open-source package for queueing networks; it samples a service when it starts.
"""

import math
from dataclasses import replace

import ciw
import numpy as np
import pytest

from nearmark.contest.day_flow.day import Day, RoomDay
from nearmark.contest.day_flow.draws import Draws
from nearmark.contest.day_flow.room import RoomPlan
from nearmark.contest.day_flow.summary import days_played
from nearmark.contest.day_flow.times import Minutes
from nearmark.contest.day_flow.walk import Walk, walked

ANY = Minutes(0, 0, 0)


def only_scales(scales, *, places=60):
    return RoomPlan(
        (),
        places=places,
        scales=scales,
        helpers=scales,
        minutes=240,
        arrive=ANY,
        scoop=ANY,
        weigh=ANY,
        put_back=ANY,
    )


def given(scoop, weigh, *, starts):
    n = len(weigh)
    none = np.zeros((n, 0))
    zero = np.zeros(n)
    return Draws(
        np.asarray(starts, float),
        np.asarray(scoop, float),
        np.asarray(weigh, float),
        zero,
        none,
        none.astype(int),
        zero,
    )


class AnyNumber(Day):
    """A day of one heat for as many pairs as a closed form needs."""

    def __post_init__(self):
        assert len(self.heats) == 1


def played(room, starts, scoop, weigh) -> Walk:
    return walked(RoomDay(room, AnyNumber((len(weigh),))), given(scoop, weigh, starts=starts))


def erlang_c(servers, load):
    """Chance to wait, from arrivals times mean service ``load`` (erlang)."""
    last = load**servers / math.factorial(servers) * servers / (servers - load)
    return last / (sum(load**k / math.factorial(k) for k in range(servers)) + last)


def test_erlang_c_of_one_server_is_its_load():
    assert erlang_c(1, 0.7) == pytest.approx(0.7)
    # M/M/2: rho = 0.75, 2 rho^2 / (1 + rho)
    assert erlang_c(2, 1.5) == pytest.approx(2 * 0.75**2 / 1.75)


@pytest.mark.slow
@pytest.mark.parametrize(("servers", "load"), [(1, 0.5), (1, 0.7), (2, 1.4), (3, 2.1)])
def test_random_arrivals_wait_as_erlang_says(servers, load):
    n, rng = 15_000, np.random.default_rng(20261126)
    starts = np.cumsum(rng.exponential(1 / load, n))
    walk = played(only_scales(servers), starts, np.zeros(n), rng.exponential(1.0, n))

    expected = erlang_c(servers, load) / (servers - load)
    batches = walk.scale_wait_min.reshape(30, -1).mean(axis=1)
    u = batches.std(ddof=1) / math.sqrt(len(batches))
    assert abs(walk.scale_wait_min.mean() - expected) < 3.5 * u
    assert u < 0.1 * expected  # else it could not fail


@pytest.mark.parametrize(("n", "scales", "each"), [(12, 1, 0.75), (12, 2, 0.75), (11, 3, 1.0)])
def test_a_batch_waits_in_steps(n, scales, each):
    walk = played(only_scales(scales), np.zeros(n), np.zeros(n), np.full(n, each))

    assert sorted(walk.scale_wait_min) == pytest.approx([each * (k // scales) for k in range(n)])


def test_batches_in_two_rooms_wait_in_steps_of_their_own():
    """Room A: 12 pairs at one scale, 0.75 min each; room B: 9 pairs at two scales, 1 min each."""
    plans = [
        RoomDay(replace(only_scales(scales), weigh=Minutes(each, each, each)), Day((n, n), 30))
        for n, scales, each in ((12, 1, 0.75), (9, 2, 1.0))
    ]
    (day,) = days_played(plans, n_days=1)

    for heat in range(2):
        first = np.sort(day[0].walk.scale_wait_min[12 * heat : 12 * (heat + 1)])
        second = np.sort(day[1].walk.scale_wait_min[9 * heat : 9 * (heat + 1)])
        assert first == pytest.approx([0.75 * k for k in range(12)])
        assert second == pytest.approx([1.0 * (k // 2) for k in range(9)])


def test_a_batch_waits_for_helpers_who_put_cups_away():
    """One scale, two helpers, weighing w, putting away p: turn k begins at max(w, (w + p) / 2) k.

    With p = w the scale is the limit, with p = 3 w the helpers: pairs of turns begin (w + p) apart.
    """
    room = replace(only_scales(1), helpers=2, weigh=Minutes(1, 1, 1))
    for p, begins in ((1.0, [0, 1, 2, 3, 4, 5]), (3.0, [0, 1, 4, 5, 8, 9])):
        plan = RoomDay(replace(room, put_back=Minutes(p, p, p)), Day((6,)))
        (day,) = days_played([plan], n_days=1)
        assert day[0].walk.scale_wait_min.tolist() == begins


def ciw_waits(starts, services, servers):
    """Waits by arrival at each node of a line of nodes, by Ciw."""
    gaps = np.diff([0.0, *starts]).tolist()
    nodes = len(services)
    route = [[float(j == i + 1) for j in range(nodes)] for i in range(nodes)]
    network = ciw.create_network(
        arrival_distributions=[
            ciw.dists.Sequential([*gaps, float("inf")]),
            *[None] * (nodes - 1),
        ],
        service_distributions=[ciw.dists.Sequential(list(s)) for s in services],
        number_of_servers=servers,
        routing=route,
    )
    run = ciw.Simulation(network)
    run.simulate_until_max_customers(len(starts), method="Finish")
    waits = np.zeros(nodes)
    for record in run.get_all_records():
        waits[record.node - 1] += record.waiting_time
    return waits


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("scales", [1, 2])
def test_ciw_agrees_on_the_waits_at_a_scale(seed, scales):
    rng = np.random.default_rng(seed)
    starts = np.cumsum(rng.exponential(0.6, 200)).tolist()
    weigh = rng.triangular(0.5, 0.75, 1.5, 200)
    walk = played(only_scales(scales), starts, np.zeros(200), weigh)

    assert walk.scale_wait_min.sum() == pytest.approx(ciw_waits(starts, [weigh], [scales])[0])


def test_ciw_agrees_on_places_and_scales_in_a_line():
    # Equal weighings, so that it does not matter who comes to the scale first.
    rng = np.random.default_rng(3)
    starts = np.cumsum(rng.exponential(0.4, 150)).tolist()
    scoop, weigh = rng.triangular(2, 3, 5, 150), np.full(150, 0.5)
    walk = played(only_scales(1, places=6), starts, scoop, weigh)

    places, scale = ciw_waits(starts, [scoop, weigh], [6, 1])
    assert walk.scoop_wait_min.sum() == pytest.approx(places)
    assert walk.scale_wait_min.sum() == pytest.approx(scale)
