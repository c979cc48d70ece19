"""Laws of heats: everybody once, nobody beyond the places, and a clock that only runs down."""

import math
from collections import Counter
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nearmark.contest import HeatState, fill_heats, heat_clock, move_pair, n_cuts, timetable
from nearmark.contest.event import Pair, PairStatus
from nearmark.contest.heat_levels import levelled
from nearmark.contest.heat_packing import n_shares, shares
from nearmark.errors import RuleError

START = datetime(2027, 5, 8, 9, tzinfo=UTC)
PLACES = st.integers(1, 14)
SIZES = st.lists(st.integers(1, 16), min_size=1, max_size=9)
SECONDS = st.floats(-1e6, 1e6)


@st.composite
def fields(draw):
    """Pairs of a few schools, in any order, some of them absent."""
    schools = draw(st.lists(st.sampled_from("ABCDEFGH"), min_size=1, max_size=40))
    statuses = st.sampled_from([*PairStatus, PairStatus.ENTERED, PairStatus.ENTERED])
    return [
        Pair(f"P{n}", school, ("Ada",), draw(statuses)) for n, school in enumerate(schools, start=1)
    ]


def of(heats):
    """Number of pairs of each school in each heat."""
    return Counter((heat.number, pair.school) for heat in heats for pair in heat.pairs)


@given(fields(), PLACES)
def test_everybody_who_takes_part_is_in_one_heat_and_heats_are_as_few_as_can_be(pairs, places):
    heats = fill_heats(pairs, places=places)

    here = [p.code for p in pairs if p.status in {PairStatus.ENTERED, PairStatus.GUEST}]
    assert sorted(code for heat in heats for code in heat.codes) == sorted(here)
    assert len(heats) == math.ceil(len(here) / places)
    assert all(len(heat.pairs) <= places for heat in heats)


@given(fields(), PLACES, st.randoms(use_true_random=False))
def test_the_order_of_the_rows_does_not_matter(pairs, places, random):
    mixed = list(pairs)
    random.shuffle(mixed)

    assert of(fill_heats(mixed, places=places)) == of(fill_heats(pairs, places=places))


@pytest.mark.slow
@given(fields(), PLACES, st.data())
def test_kept_pairs_stay_where_they_are(pairs, places, data):
    plan = fill_heats(pairs, places=places)
    codes = [code for heat in plan for code in heat.codes]
    chosen = set(data.draw(st.lists(st.sampled_from(codes)))) if codes else set()
    kept = {code: heat.number for heat in plan for code in heat.codes if code in chosen}

    heats = fill_heats(pairs, places=places, kept=kept)

    at = {code: heat.number for heat in heats for code in heat.codes}
    assert {code: at[code] for code in kept} == kept
    assert set(at) == set(codes)
    assert all(len(heat.pairs) <= places for heat in heats)


@given(fields(), PLACES, st.data())
def test_a_move_keeps_everybody_and_never_overfills(pairs, places, data):
    heats = fill_heats(pairs, places=places)
    codes = [code for heat in heats for code in heat.codes]
    if not codes:
        return
    code = data.draw(st.sampled_from(codes))
    to = data.draw(st.integers(1, len(heats) + 1))

    try:
        moved = move_pair(heats, code, to, places=places)
    except RuleError:
        assert len(heats[to - 1].pairs) == places
        return

    assert Counter(c for heat in moved for c in heat.codes) == Counter(codes)
    assert all(len(heat.pairs) <= places for heat in moved)
    assert code in moved[to - 1].codes


@given(SIZES, PLACES)
def test_cuts_are_never_more_than_one_less_than_heats(sizes, places):
    n_heats = math.ceil(sum(sizes) / places)
    packed = shares([places] * n_heats, sizes)

    assert [sum(school) for school in packed] == sizes
    assert all(sum(column) <= places for column in zip(*packed, strict=True))
    assert n_shares(packed) <= len(sizes) + n_heats - 1
    assert n_shares(packed) >= sum(math.ceil(size / places) for size in sizes)


@given(SIZES, PLACES)
def test_levelling_cuts_nobody_and_only_levels(sizes, places):
    packed = shares([places] * math.ceil(sum(sizes) / places), sizes)
    level = levelled(packed, [[0] * len(school) for school in packed])

    assert n_shares(level) <= n_shares(packed)
    assert [sum(school) for school in level] == sizes
    before, after = ([sum(column) for column in zip(*s, strict=True)] for s in (packed, level))
    assert max(after) <= max(before)
    assert min(after) >= min(before)


@given(st.integers(1, 60), PLACES)
def test_one_school_is_cut_only_by_the_places(size, places):
    heats = fill_heats([Pair(f"P{n}", "Fernhollow", ("Ada",)) for n in range(size)], places=places)

    assert n_cuts(heats) == math.ceil(size / places) - 1
    assert max(len(h.pairs) for h in heats) - min(len(h.pairs) for h in heats) <= 1


@given(SECONDS, SECONDS, st.integers(1, 120))
def test_the_clock_only_runs_down(one, other, minutes):
    earlier, later = sorted((one, other))
    first = heat_clock(START, START + timedelta(seconds=earlier), minutes)
    second = heat_clock(START, START + timedelta(seconds=later), minutes)

    assert minutes * 60 >= first.seconds_left >= second.seconds_left >= 0
    states = list(HeatState)
    assert states.index(first.state) <= states.index(second.state)
    assert (second.state is HeatState.OVER) == (second.seconds_left == 0)


@pytest.mark.slow
@given(st.sets(st.integers(1, 200), max_size=20), st.integers(1, 90), st.integers(1, 90))
def test_starts_lie_whole_intervals_apart(numbers, minutes, interval):
    plan = timetable(numbers, START, minutes=minutes, interval_minutes=interval)

    assert [t.number for t in plan] == sorted(numbers)
    for time in plan:
        assert time.start - START == (time.number - 1) * timedelta(minutes=interval)
        assert time.end - time.start == timedelta(minutes=minutes)
