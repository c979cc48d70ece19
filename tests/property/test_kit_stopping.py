"""Intervals hold although weighing ends at the first key that is fit.

The draws are those of ``benchmarks/stopping.py``, with a fixed seed and fewer leads.
"""

import numpy as np
import pytest

from benchmarks import stopping
from benchmarks.stopping import Cell
from nearmark.errors import ReadingsDisagree
from nearmark.kit import Sample, count_by_weighing
from nearmark.measurement.instruments import Instrument, Reading

LEADS = 3000
NOISE = 2 * (0.95 * 0.05 / LEADS) ** 0.5
"""Two binomial standard deviations of the share of intervals that hold: 0.8 %."""

CELLS = {
    "beans, piece spread 20 %": Cell(cv=0.2),
    "beans, piece spread 10 %": Cell(cv=0.1),
    "rice, 300 at a time": Cell(pieces=300, cv=0.2, sample_g=6.0, step_g=0.01),
    "beans, first look at two": Cell(cv=0.1, first_look=2),
    "lognormal, a kitchen scale": Cell(
        pieces=300,
        cv=0.25,
        sample_g=200.0,
        step_g=1.0,
        law="lognormal",
        first_look=2,
    ),
    "10 g on a 0.1 g scale": Cell(sample_g=10.0, cv=0.05, first_look=2),
    "the dish weighed once": Cell(sample_g=20.0, cv=0.1, dish="weighed"),
}


@pytest.fixture(scope="module")
def drawn():
    return {
        name: stopping.weigh_ins(np.random.default_rng(7), cell, LEADS)
        for name, cell in CELLS.items()
    }


@pytest.mark.parametrize("name", CELLS)
def test_keys_called_fit_hold_in_945_of_a_thousand(drawn, name):
    found = stopping.stopped(drawn[name], stopping.guarded(drawn[name]))

    assert found.fit > 0.5, "else those few are the lucky ones"
    assert found.holds >= 0.945 - NOISE
    assert found.wrong <= 0.055 + NOISE


LARGE_SPREAD = Cell(pieces=300, cv=0.25, sample_g=60.0, container=5000)
"""Under the bound alone, version 0.2, more than 5.5 % of the keys of leads who give up after 30
samples were wrong by more than 1 %."""

MANY = 12_000


def test_large_spreads_are_seldom_wrong_and_were_too_often_under_the_bound_alone():
    weighed = stopping.weigh_ins(np.random.default_rng(7), LARGE_SPREAD, MANY)
    before = stopping.stopped(weighed, stopping.bounded(weighed))
    now = stopping.stopped(weighed, stopping.guarded(weighed))

    assert before.wrong > 0.055
    assert now.wrong <= 0.055
    # giving up keeps the lucky keys: 94.0 to 94.5 of 100 hold here, 95 for who weighs on
    assert now.holds > before.holds
    assert now.fit > 0.8 > before.fit


@pytest.mark.parametrize(
    "cell",
    [
        LARGE_SPREAD,
        Cell(cv=0.25, container=5000, first_look=2),
        Cell(cv=0.25, first_look=2),
    ],
)
def test_who_weighs_on_keeps_the_promise_where_pieces_vary_most(cell):
    # with samples of 100 fewer than half of the leads come to fit within 30: none gives up here
    weighed = stopping.weigh_ins(np.random.default_rng(7), cell, LEADS, stopping.PATIENT)
    found = stopping.stopped(weighed, stopping.guarded(weighed), stopping.PATIENT)

    assert found.fit > 0.99
    assert found.holds >= 0.945 - NOISE
    assert found.wrong <= 0.055 + NOISE


@pytest.mark.parametrize("name", ["beans, piece spread 20 %", "beans, first look at two"])
def test_keys_called_fit_did_not_hold_before(drawn, name):
    """The check above has power, and what it checks costs at most 1.6 times the samples."""
    before = stopping.stopped(drawn[name], stopping.plain_t(drawn[name]))
    after = stopping.stopped(drawn[name], stopping.guarded(drawn[name]))

    assert before.holds < 0.93
    assert after.median <= 1.6 * before.median


def test_the_benchmark_computes_what_the_public_function_does(drawn):
    for weighed in drawn.values():
        looks, cell = stopping.guarded(weighed), weighed.cell
        scale = Instrument("scale", "g", cell.step_g)
        for lead, k in ((0, 2), (1, 3), (2, 5), (3, 12), (4, 30)):
            samples = [Sample(cell.pieces, float(m)) for m in weighed.samples_g[lead, :k]]
            gross = Reading((float(weighed.net_g[lead]) + 300,), scale)
            try:
                found = count_by_weighing(samples, gross, Reading((300.0,), scale))
            except ReadingsDisagree:
                assert np.isnan(looks.high[lead, k - 2])
                continue
            assert found.relative_expanded_u == pytest.approx(looks.relative_u[lead, k - 2])
            ends = looks.low[lead, k - 2], looks.high[lead, k - 2]
            assert found.interval == pytest.approx(ends)


@pytest.mark.parametrize("k", [2, 3, 4, 6, 10, 20])
@pytest.mark.parametrize("case", [0, 1, 2])
def test_equal_readings_on_a_coarse_scale_do_not_promise_too_much(case, k):
    _, cell = stopping.COARSE[case]
    _, after = stopping.coarse_shares(cell, k, 2000, seed=11)

    assert after >= 0.94


def test_two_display_values_do_not_hide_the_resolution():
    # six samples of about 2.5 g that show two neighbouring steps, their mass anywhere between them
    held = []
    rng = np.random.default_rng(12)
    for offset in np.linspace(0, 0.1, 20, endpoint=False):
        cell = Cell(sample_g=2.5 + offset, cv=0.04)
        weighed = stopping.weigh_ins(rng, cell, 500)
        two = np.ptp(np.round(weighed.samples_g[:, :6] / 0.1), axis=1) == 1
        looks = stopping.guarded(weighed)
        low, high = looks.low[two, 4], looks.high[two, 4]
        held += list((low <= cell.container) & (cell.container <= high))

    assert np.mean(held) >= 0.94
