"""Rank confidence with shared causes against a simulation written out step by step in numpy.

All answers and readings are invented.  The simulation shares no code with the program: it draws
what the instruments did, scores by the rule and counts who is first.
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import numpy as np
import pytest

from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Cup,
    Event,
    Item,
    Pair,
    Side,
)
from nearmark.contest.placed_answers import placed_answers
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.rank_margin import explain_margin, margin_variances
from nearmark.contest.results import results
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.standings import act_words

SIDES_CM = {
    "B1": (10.0, 8.0, 5.0),
    "B2": (12.0, 9.0, 7.0),
    "B3": (18.0, 12.0, 9.0),
    "B4": (22.0, 16.0, 10.0),
}
STEP_CM = 0.01
N_DRAWS = 40_000
TWO_POINTS = 0.02


def boxes(gain_u, zero_u=0.0, seed=5, n_pairs=14):
    """Fourteen close pairs on four boxes read with one ruler, three equal readings a side."""
    rng = np.random.default_rng(seed)
    ruler = Instrument("ruler", "cm", STEP_CM, gain_u=gain_u, zero_u=zero_u)
    pairs = tuple(Pair(f"P{i:02}", "Larkspur", ("one", "two")) for i in range(n_pairs))
    volumes = {code: np.prod(sides) for code, sides in SIDES_CM.items()}
    answers = []
    for pair in pairs:
        skill = rng.normal(0, 0.01)
        for code, volume in volumes.items():
            told = Decimal(round(volume * np.exp(skill + rng.normal(0, 0.05))))
            answers += [
                AnswerReading(pair.code, code, n, f"clerk {n}", AnswerStatus.ANSWERED, told)
                for n in (1, 2)
            ]
    return Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        instruments=(ruler,),
        items=tuple(Item(code, Station.VOLUME, "box") for code in SIDES_CM),
        box_readings=tuple(
            BoxReading(code, side, Decimal(str(length)), "ruler")
            for code, sides in SIDES_CM.items()
            for side, length in zip(Side, sides, strict=True)
            for _ in range(3)
        ),
        pairs=pairs,
        answers=tuple(answers),
    )


def simulated(event, gain_u, zero_u=0.0, *, common=True, seed=99):
    """Share of draws in which winner and podium are as under the stated keys."""
    rng = np.random.default_rng(seed)
    n_boxes = len(SIDES_CM)
    n_gains = 1 if common else n_boxes
    gain = rng.normal(0, gain_u, (N_DRAWS, n_gains))
    zero = rng.normal(0, zero_u, (N_DRAWS, n_gains))
    sides = np.array(list(SIDES_CM.values()))
    half = STEP_CM / 2
    rounding = rng.uniform(-half, half, (N_DRAWS, n_boxes, 3))
    true = (sides * (1 + gain[:, :, None]) + zero[:, :, None] + rounding).prod(axis=2)
    told = np.array(
        [
            [
                next(
                    float(a.value)
                    for a in event.answers
                    if (a.pair, a.item, a.reading) == (pair.code, code, 1)
                )
                for code in SIDES_CM
            ]
            for pair in event.pairs
        ]
    )

    def totals(keys):
        error = np.abs(told[None] / keys[:, None, :] - 1)
        return (100 * np.maximum(0, 1 - error)).sum(axis=2)

    now = np.argsort(-totals(sides.prod(axis=1)[None])[0])[:3]
    drawn = np.argsort(-totals(true), axis=1)[:, :3]
    order = (drawn == now).all(axis=1).mean()
    as_set = (np.sort(drawn, axis=1) == np.sort(now)).all(axis=1).mean()
    return (drawn[:, 0] == now[0]).mean(), order, as_set


@pytest.mark.parametrize(("gain_u", "zero_u"), [(0.004, 0.0), (0.001, 0.0), (0.0, 0.05)])
def test_podium_of_close_pairs_stands_as_often_as_with_one_common_ruler(gain_u, zero_u):
    event = boxes(gain_u, zero_u)

    sure = rank_confidence(results(event), seed=1, n_draws=N_DRAWS)

    expected = simulated(event, gain_u, zero_u)
    assert (sure.winner, sure.podium_order, sure.podium_set) == pytest.approx(
        expected, abs=TWO_POINTS
    )


def test_the_close_field_tells_one_ruler_from_independent_keys():
    """The check above has power: with an error of its own for each box the figures are others."""
    event = boxes(0.004)

    one = np.array(simulated(event, 0.004))
    several = np.array(simulated(event, 0.004, common=False))

    assert np.abs(one - several).max() > 4 * TWO_POINTS


def test_a_margin_of_first_order_knows_the_common_ruler():
    """Two pairs far from all keys, one above and one below: the gain moves them apart."""
    found = results(boxes(0.004))
    codes, items, table = placed_answers(found)
    estimates = table.estimates.copy()
    estimates[0], estimates[1] = 0.8 * table.keys, 1.2 * table.keys
    apart = replace(table, estimates=estimates)

    variances, near = margin_variances(apart, np.array([0, 1]))

    # Four boxes, three sides each: 100 (0.8 + 1.2) 3 g points a box.
    assert dict(zip((*items, "gain of ruler"), variances, strict=True))["gain of ruler"] == (
        pytest.approx((4 * 100 * 2 * 3 * 0.004) ** 2)
    )
    assert not near.any()
    # The public explanation names it beside the items.
    assert "gain of ruler" in {share.item for share in explain_margin(found, *codes[:2]).shares}


def test_cups_of_one_batch_share_the_error_of_its_mean_tare():
    """Cups as alike as two peas: the rounding of their tares is one error in every net mass."""
    scale = Instrument("bench scale", "g", 1.0)
    gross = {"P1": 115, "P2": 126}
    event = Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        instruments=(scale,),
        items=(Item("M1", Station.MASS, "cup"),),
        cups=tuple(Cup(f"{i}", Decimal(20), "bench scale", "paper") for i in range(6)),
        pairs=tuple(Pair(code, "Larkspur", ("one", "two")) for code in gross),
        answers=tuple(
            AnswerReading(
                code, "M1", n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(mass), "paper"
            )
            for code, mass in gross.items()
            for n in (1, 2)
        ),
    )

    sure = rank_confidence(results(event), seed=1, n_draws=N_DRAWS)

    # Nets of 95 and 106 g: P1 leads while 5 + t - a < 6 - t + b, t the tare's and a, b their own
    # rounding, all of them within half a gram; normal laws of the same size as the program's.
    rng = np.random.default_rng(4)
    u = 1 / np.sqrt(12)
    tare = rng.uniform(-0.5, 0.5, N_DRAWS)
    first, second = rng.normal(0, u, (2, N_DRAWS))
    expected = (abs(-5 - tare + first) < abs(6 - tare + second)).mean()
    assert sure.winner == pytest.approx(expected, abs=TWO_POINTS)
    assert {gain.cause for gain in sure.remeasure_first} == {"rounding of the tare of batch paper"}


def test_what_two_items_share_is_worth_knowing_and_measuring_them_again_is_not():
    """F4: where the ruler's gain decides, the act is to check it, not to read a box again."""
    event = boxes(0.004)

    sure = rank_confidence(results(event), seed=1, n_draws=N_DRAWS)

    first, *others = sure.remeasure_first
    assert act_words(first) == "check ruler against a second ruler or a gauge"
    assert first.is_clear
    assert {other.item for other in others} <= set(SIDES_CM)
    assert all(other.gain < first.gain / 3 for other in others)


def test_an_act_advised_raises_the_podium_when_it_is_done():
    """The gain drawn: nine rulers of the same kind, each then checked, against none checked."""
    event = boxes(0.004)
    before = rank_confidence(results(event), seed=1).podium_order
    gain = rank_confidence(results(event), seed=1).remeasure_first[0].gain
    rng = np.random.default_rng(7)
    after = []
    for error in rng.normal(0, 0.004, 25):
        longer = tuple(
            replace(r, reading_cm=Decimal(str(round(float(r.reading_cm) * (1 + error), 2))))
            for r in event.box_readings
        )
        checked = replace(
            event, instruments=(Instrument("ruler", "cm", STEP_CM),), box_readings=longer
        )
        after.append(rank_confidence(results(checked), seed=1, n_draws=2000).podium_order)

    assert np.mean(after) > before
    assert np.mean(after) - before > gain / 2


def test_one_scale_moves_cups_and_jars_and_the_fine_scale_the_other_way():
    """Samples on a fine scale, jars and cups on a bench scale: two gains, each with its sign."""
    gain_bench, gain_fine = 0.006, 0.003
    bench = Instrument("bench scale", "g", 0.001, gain_u=gain_bench)
    fine = Instrument("fine scale", "g", 0.001, gain_u=gain_fine)
    pieces_g, net_g = {"C1": 0.5, "C2": 0.2}, {"C1": 900.0, "C2": 600.0}
    rng = np.random.default_rng(41)
    pairs = tuple(Pair(f"P{i}", "Larkspur", ("one", "two")) for i in range(8))
    cup_g = {p.code: round(100 * np.exp(rng.normal(0, 0.02)), 3) for p in pairs}
    told = {
        (p.code, c): round(net_g[c] / pieces_g[c] * np.exp(rng.normal(0, 0.02)))
        for p in pairs
        for c in net_g
    }
    answers = [
        AnswerReading(p, c, n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(value))
        for (p, c), value in told.items()
        for n in (1, 2)
    ]
    answers += [
        AnswerReading(
            p, "M1", n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(str(round(20 + mass, 3))), p
        )
        for p, mass in cup_g.items()
        for n in (1, 2)
    ]
    event = Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        instruments=(bench, fine),
        items=(
            Item("M1", Station.MASS, "cup"),
            *(Item(code, Station.COUNT, "jar") for code in net_g),
        ),
        samples=tuple(
            CountedSample(c, 1000, Decimal(str(1000 * g + d)), "fine scale")
            for c, g in pieces_g.items()
            for d in (0, 0.001, -0.001)
        ),
        containers=tuple(
            ContainerWeighing(c, Decimal(str(300 + g)), Decimal(300), "bench scale")
            for c, g in net_g.items()
        ),
        cups=tuple(Cup(p.code, Decimal(20), "bench scale") for p in pairs),
        pairs=pairs,
        answers=tuple(answers),
    )

    found = results(event)
    sure = rank_confidence(found, seed=1, n_draws=N_DRAWS)

    rng = np.random.default_rng(12)
    # What is left of each jar's variance beside the two gains is its own.
    gains = gain_bench**2 + gain_fine**2
    own = {
        c: rng.normal(
            0, np.sqrt((found.keys[c].u / found.keys[c].assigned.value) ** 2 - gains), N_DRAWS
        )
        for c in net_g
    }
    by_bench = 1 + rng.normal(0, gain_bench, N_DRAWS)
    by_fine = 1 + rng.normal(0, gain_fine, N_DRAWS)

    def totals(bench_factor, fine_factor, own):
        lost = np.abs(np.outer(bench_factor, list(cup_g.values())) / 100 - 1)
        for code, net in net_g.items():
            true = net * bench_factor / (pieces_g[code] * fine_factor) * (1 + own[code])
            answered = np.array([told[p.code, code] for p in pairs])
            lost = lost + np.abs(answered / true[:, None] - 1)
        return -lost

    now = np.argsort(-totals(np.ones(1), np.ones(1), dict.fromkeys(net_g, 0))[0])[:3]
    drawn = np.argsort(-totals(by_bench, by_fine, own), axis=1)[:, :3]
    expected = (drawn[:, 0] == now[0]).mean(), (drawn == now).all(axis=1).mean()
    assert (sure.winner, sure.podium_order) == pytest.approx(expected, abs=TWO_POINTS)
    assert [gain.cause for gain in sure.remeasure_first if gain.cause] == [
        "gain of bench scale",
        "gain of fine scale",
    ]


def test_measuring_the_item_that_is_named_again_raises_the_podium():
    """The own error of one box, drawn and then known: done for that box, and for the last one."""
    event = boxes(0.0, seed=9)
    coarse = Instrument("coarse ruler", "cm", 0.2)
    rows = tuple(
        replace(row, instrument="coarse ruler") if row.item in {"B1", "B2"} else row
        for row in event.box_readings
    )
    event = replace(event, instruments=(*event.instruments, coarse), box_readings=rows)
    before = rank_confidence(results(event), seed=1)
    acts = [gain for gain in before.remeasure_first if gain.item]
    rng = np.random.default_rng(5)

    def after(code):
        """Mean probability of the podium then in force, the box read on a fine ruler."""
        found = []
        for _ in range(25):
            off = {side: rng.uniform(-0.1, 0.1) for side in Side}
            read = tuple(
                replace(
                    row,
                    instrument="ruler",
                    reading_cm=Decimal(str(round(float(row.reading_cm) + off[row.side], 2))),
                )
                if row.item == code
                else row
                for row in event.box_readings
            )
            done = results(replace(event, box_readings=read))
            found.append(rank_confidence(done, seed=1, n_draws=2000).podium_order)
        return np.mean(found)

    assert acts[0].item in {"B1", "B2"}
    assert acts[0].is_clear
    assert after(acts[0].item) > before.podium_order + acts[0].gain / 2


def test_what_measuring_again_cannot_change_is_not_advised():
    """Faces that bulge: the edges may be read as often as one likes."""
    event = boxes(0.0, seed=9)
    bulging = tuple(
        replace(item, box=replace(item.box, bulge_cm=Decimal("0.3"))) for item in event.items
    )

    sure = rank_confidence(results(replace(event, items=bulging)), seed=1)

    assert sure.podium_order < 0.9
    # What is left to gain is the rounding of the readings, which is small.
    assert all(gain.gain < 0.05 for gain in sure.remeasure_first)
    assert not any("bulge" in gain.cause for gain in sure.remeasure_first)
