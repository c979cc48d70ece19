"""Which sheets are read again."""

import json
from datetime import date
from decimal import Decimal

import numpy as np
import pytest

from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    Cup,
    Event,
    HandCount,
    Item,
    Pair,
)
from nearmark.contest.keying_errors import KeyingRates, papers_behind
from nearmark.contest.paper_audit import plan_audit
from nearmark.contest.results import results
from nearmark.contest.scoring import score
from nearmark.errors import InputError
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.paper_audit import how_to_draw, plan_sentences
from nearmark.words.results_json import audit_as_json

KEYS = {"B1": 1420, "B2": 600, "B3": 2500}
ITEMS = tuple(Item(code, Station.COUNT, code) for code in KEYS)


def event(rows, readings=2, items=ITEMS, **records):
    answers = tuple(
        AnswerReading(pair, item.code, n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(value))
        for pair, values in rows.items()
        for item, value in zip(items, values, strict=True)
        for n in range(1, readings + 1)
    )
    return Event(
        "Larkspur Valley Estimation Day",
        date(2026, 4, 18),
        items=items,
        hand_counts=tuple(
            HandCount(c, k, f"counter {i}") for c, k in KEYS.items() for i in range(3)
        ),
        pairs=tuple(Pair(pair, "school", ("one", "two")) for pair in rows),
        answers=answers,
        **records,
    )


def field(n=40, seed=3):
    rng = np.random.default_rng(seed)
    return {
        f"P{i:02d}": [round(k * np.exp(rng.normal(-0.1, 0.25))) for k in KEYS.values()]
        for i in range(n)
    }


def test_the_first_sheets_and_the_liftable_ones_are_named_and_the_rest_drawn():
    found = results(event(field()))

    plan = plan_audit(found, seed=7, top=10)

    named = {sheet.code for sheet in plan.targeted}
    first = {pair.pair.code for pair in found.pairs[:10]}
    assert first <= named
    assert not named & set(plan.sample)
    assert len(named) + plan.n_others == plan.n_sheets == 40
    third = found.pairs[2].total
    for pair in found.pairs:
        liftable = any(s.score < 70 and pair.total - s.score + 100 >= third for s in pair.items)
        assert (pair.pair.code in named) == (pair.pair.code in first or liftable)


def test_sheets_are_listed_by_falling_risk():
    risks = [sheet.risk for sheet in plan_audit(results(event(field())), seed=7).targeted]

    assert risks == sorted(risks, reverse=True)
    assert risks[0] > 0


def podium(totals):
    """The three first places with all who share them."""
    held = {i: sum(other > t for other in totals) for i, t in enumerate(totals)}
    return {i: place for i, place in held.items() if place < 3}


@pytest.mark.slow
@pytest.mark.parametrize(
    ("rows", "items"),
    [
        (field(n=9, seed=5), ITEMS),
        # one item, key 600: a digit misread makes many exact ties
        ({"P1": [590], "P2": [620], "P3": [570], "P4": [530], "P5": [640]}, ITEMS[1:2]),
    ],
)
def test_the_risk_is_that_of_trying_every_paper_behind_every_number(rows, items):
    # By exact scores and full re-ranking, with no short cut.
    found = results(event(rows, items=items))
    keys = [KEYS[item.code] for item in items]
    totals = {p.pair.code: p.total for p in found.pairs}
    expected = {}
    for pair, values in rows.items():
        risk = 0.0
        for key, value in zip(keys, values, strict=True):
            for paper, chance in papers_behind(Decimal(value)):
                moved = totals | {pair: totals[pair] - score(value, key) + score(int(paper), key)}
                if podium(list(moved.values())) != podium(list(totals.values())):
                    risk += 0.0014 * chance
        expected[pair] = risk

    plan = plan_audit(found, seed=1, top=9)

    assert {s.code: s.risk for s in plan.targeted} == pytest.approx(expected)
    assert plan.risk_before == pytest.approx(sum(expected.values()))
    assert plan.risk_after == 0


def test_answers_read_once_are_at_the_rate_of_single_entry():
    twice = plan_audit(results(event(field())), seed=1)
    once = plan_audit(results(event(field(), readings=1)), seed=1)

    # 120 fields: 0.14 % and 0.29 % (Garza et al. 2025)
    assert twice.expected_wrong_fields == pytest.approx(120 * 0.0014)
    assert once.expected_wrong_fields == pytest.approx(120 * 0.0029)
    assert once.risk_before == pytest.approx(twice.risk_before * 29 / 14)


def test_own_rates_replace_the_published_ones():
    plan = plan_audit(results(event(field())), seed=1, rates=KeyingRates(single=0.02, double=0.01))

    assert plan.expected_wrong_fields == pytest.approx(1.2)


def test_reading_the_named_sheets_takes_most_of_the_risk_away():
    plan = plan_audit(results(event(field())), seed=1)

    assert plan.risk_after < 0.2 * plan.risk_before


def test_a_longer_list_leaves_less_risk():
    found = results(event(field()))
    left = [plan_audit(found, seed=1, top=top).risk_after for top in (3, 6, 10, 20, 40)]

    assert left == sorted(left, reverse=True)
    assert left[-1] == 0


def test_the_usual_sample_shows_one_wrong_sheet_in_eight():
    plan = plan_audit(results(event(field(n=80))), seed=1)

    assert plan.tolerable_wrong <= plan.n_others // 8


def test_a_sample_size_of_ones_own_tells_what_it_can_show():
    plan = plan_audit(results(event(field(n=60))), seed=1, sample_size=5)

    assert len(plan.sample) == 5
    assert plan.tolerable_wrong > plan.n_others // 8


def test_no_sample_shows_nothing():
    plan = plan_audit(results(event(field())), seed=1, sample_size=0)

    assert plan.sample == ()
    assert plan.tolerable_wrong == 0


def test_the_draw_is_told_so_that_it_can_be_repeated():
    plan = plan_audit(results(event(field())), seed=20_260_418)

    assert 'SHA-256 of "20260418,CODE"' in how_to_draw(plan)
    assert plan.sample == plan_audit(results(event(field())), seed=20_260_418).sample
    assert plan.sample != plan_audit(results(event(field())), seed=20_260_419).sample


def test_a_small_field_is_read_whole():
    plan = plan_audit(results(event(field(n=4))), seed=1)

    assert len(plan.targeted) == 4
    assert plan.sample == ()


def test_the_adjudicated_number_is_the_one_that_is_doubted():
    rows = field(n=9, seed=5)
    day = event(rows)
    pair = results(day).pairs[0].pair.code
    decided = Adjudication(
        pair, "B1", "clerk 3", AnswerStatus.ANSWERED, Decimal(rows[pair][0]), "", "smudged"
    )

    plain, again = (
        plan_audit(results(event(rows, adjudications=a)), seed=1) for a in ((), (decided,))
    )

    assert plain.targeted == again.targeted


def test_at_the_mass_station_the_gross_mass_is_doubted():
    # Cups of 30 g, 128 and 120 g keyed: nets 98 and 90 g.  The second pair is ahead or level with a
    # gross mass from 128 to 132 g on paper.
    items = (Item("A1", Station.MASS, "cup"),)
    cups = tuple(Cup(n, Decimal(30), "bench scale") for n in ("1", "2"))
    scale = Instrument("bench scale", "g", 0.1)
    rows = {"P1": ("1", 128), "P2": ("2", 120)}
    day = Event(
        "Larkspur Valley Estimation Day",
        date(2026, 4, 18),
        instruments=(scale,),
        items=items,
        cups=cups,
        pairs=tuple(Pair(pair, "school", ("one", "two")) for pair in rows),
        answers=tuple(
            AnswerReading(p, "A1", n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(gross), cup)
            for p, (cup, gross) in rows.items()
            for n in (1, 2)
        ),
    )
    better = {
        paper: chance
        for paper, chance in papers_behind(Decimal(120))
        if abs(paper - 130) <= abs(128 - 130)
    }

    plan = plan_audit(results(day), seed=1)

    risk = {sheet.code: sheet.risk for sheet in plan.targeted}
    assert risk["P2"] == pytest.approx(0.0014 * sum(better.values()))
    assert set(better) >= {128.0, 129.0, 130.0}


def test_the_plan_is_told_in_sentences_that_name_every_sheet():
    plan = plan_audit(results(event(field())), seed=7)

    told = " ".join(plan_sentences(plan))
    assert all(sheet.code in told for sheet in plan.targeted)
    assert all(code in told for code in plan.sample)
    assert f"fewer than {plan.tolerable_wrong} of the other {plan.n_others} are" in told
    assert "at most 0.0 %" not in told


def test_a_plan_without_a_sample_does_not_speak_of_one():
    assert "at random" not in " ".join(
        plan_sentences(plan_audit(results(event(field(n=4))), seed=1))
    )


def test_the_plan_prints_as_json():
    plan = plan_audit(results(event(field())), seed=7)

    told = json.loads(json.dumps(audit_as_json(plan)))

    assert told["sample"] == list(plan.sample)
    assert told["targeted"][0]["code"] == plan.targeted[0].code


@pytest.mark.parametrize("size", [-1, 100])
def test_a_sample_that_cannot_be_drawn_is_refused(size):
    with pytest.raises(InputError, match="sample size: must be from 0 to the sheets"):
        plan_audit(results(event(field())), seed=1, sample_size=size)


@pytest.mark.parametrize("most", [1, 5, 14, 18, 25, 39, 40, 90])
def test_no_more_sheets_are_drawn_than_asked_for(most):
    found = results(event(field()))
    free = plan_audit(found, seed=7)

    plan = plan_audit(found, seed=7, most=most)

    assert plan.n_drawn == min(most, free.n_drawn)
    listed = [sheet.code for sheet in free.targeted]
    assert [sheet.code for sheet in plan.targeted] == listed[:most]
    assert list(plan.left_out) == listed[most:]
    assert plan.n_drawn == plan_audit(found, seed=8, most=most).n_drawn  # said before the dice


def test_a_short_list_says_what_it_leaves_out():
    found = results(event(field()))
    free, short = (plan_audit(found, seed=7, most=most) for most in (None, 5))

    told = " ".join(plan_sentences(short))

    left = {s.code: s.risk for s in free.targeted if s.code in short.left_out}
    assert short.risk_after == pytest.approx(free.risk_after + sum(left.values()))
    assert f"{len(left)} more sheets are left out although a slip there could" in told
    assert f"Nothing is said about the other {short.n_others} sheets." in told
    assert "confidence" not in told


def test_fourteen_sheets_take_about_twelve_minutes():
    plan = plan_audit(results(event(field())), seed=7, most=14)

    assert (plan.n_drawn, plan.minutes) == (14, 12)


def test_a_draw_of_no_sheet_is_refused():
    with pytest.raises(InputError, match="sheets at most: must be 1 or more"):
        plan_audit(results(event(field())), seed=1, most=0)


def test_a_list_of_no_sheets_is_refused():
    with pytest.raises(InputError, match="sheets from the top: must be 1 or more"):
        plan_audit(results(event(field())), seed=1, top=0)
