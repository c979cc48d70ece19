"""Heats filled school by school, and moves by hand."""

from collections import Counter

import pytest

from nearmark.contest import (
    fill_heats,
    move_pair,
    n_cuts,
    scheduled,
    split_schools,
    swap_pairs,
    with_heats,
)
from nearmark.contest.event import Pair, PairStatus
from nearmark.errors import InputError, RuleError


def field(**sizes: int) -> list[Pair]:
    """Pairs of schools of the given sizes; codes are the school's initial and a number."""
    return [
        Pair(f"{school[0].upper()}{n}", school, ("Ada", "Bo"))
        for school, size in sizes.items()
        for n in range(1, size + 1)
    ]


def loads(heats):
    return [len(heat.pairs) for heat in heats]


def test_no_pairs_need_no_heat():
    assert fill_heats([]) == ()


def test_schools_that_fill_heats_together_are_put_together():
    heats = fill_heats(field(ash=7, birch=5, cedar=8, dale=4))

    assert loads(heats) == [12, 12]
    assert split_schools(heats) == {}


def test_a_school_larger_than_a_heat_is_cut_once():
    heats = fill_heats(field(ash=14, birch=5, cedar=5))

    assert split_schools(heats) == {"ash": (1, 2)}
    assert n_cuts(heats) == 1


def test_absent_and_withdrawn_pairs_get_no_place():
    pairs = field(ash=4)
    pairs[1] = Pair("A2", "ash", ("Ada",), PairStatus.ABSENT, "heat 1")
    pairs[2] = Pair("A3", "ash", ("Ada",), PairStatus.WITHDRAWN, "heat 1")
    pairs[3] = Pair("A4", "ash", ("Ada",), PairStatus.GUEST)

    heats = fill_heats(pairs, kept={"A2": 3})

    assert [heat.codes for heat in heats] == [("A1", "A4")]
    assert [p.heat for p in with_heats(pairs, heats)] == ["heat 1", "", "", "heat 1"]


def test_the_last_heat_is_not_left_nearly_empty_when_whole_schools_can_move():
    heats = fill_heats(field(ash=6, birch=6, cedar=1))

    assert sorted(loads(heats)) == [6, 7]


def test_levelling_never_cuts_a_school():
    assert loads(fill_heats(field(ash=12, birch=1))) == [12, 1]


def test_kept_pairs_stay_and_their_school_joins_them():
    pairs = field(ash=3, birch=3, cedar=3, dale=3)

    heats = fill_heats(pairs, places=6, kept={"A1": 2, "B1": 1})

    at = {code: heat.number for heat in heats for code in heat.codes}
    assert (at["A1"], at["B1"]) == (2, 1)
    assert split_schools(heats) == {}


def test_a_heat_kept_with_a_late_number_stays_there():
    heats = fill_heats(field(ash=2), kept={"A1": 5})

    assert [(heat.name, heat.codes) for heat in heats] == [("heat 5", ("A1", "A2"))]


def test_kept_heats_are_read_from_the_event():
    pairs = [
        Pair("P1", "ash", ("Ada",), heat="Heat 2"),
        Pair("P2", "ash", ("Bo",), heat=" 3 "),
        Pair("P3", "ash", ("Cy",)),
        Pair("P4", "ash", ("Di",), PairStatus.ABSENT, "after lunch"),
    ]

    assert scheduled(pairs) == {"P1": 2, "P2": 3}


@pytest.mark.parametrize("heat", ["after lunch", "heat 0", "heat 2b", "heat ²"])
def test_a_heat_that_is_no_number_is_refused_with_the_pair(heat):
    with pytest.raises(InputError, match="heat of pair P1"):
        scheduled([Pair("P1", "ash", ("Ada",), heat=heat)])


@pytest.mark.parametrize(
    ("pairs", "options", "message"),
    [
        (field(ash=2), {"places": 0}, "places: must be above zero"),
        (field(ash=2) * 2, {}, "is there twice"),
        (field(ash=2), {"kept": {"Z9": 1}}, "no pair of this event"),
        (field(ash=2), {"kept": {"A1": 0}}, "must be from 1 to 99"),
        (field(ash=2), {"kept": {"A1": 10**9}}, "must be from 1 to 99"),
        (field(ash=2001), {}, "more than 2,000"),
    ],
)
def test_what_makes_no_plan_is_refused(pairs, options, message):
    with pytest.raises(InputError, match=message):
        fill_heats(pairs, **options)


def test_more_kept_pairs_than_places_are_refused_with_the_heat():
    with pytest.raises(RuleError, match="heat 1: has 2 places, 3 pairs are to stay in it"):
        fill_heats(field(ash=3), places=2, kept={"A1": 1, "A2": 1, "A3": 1})


def test_a_pair_moves_to_a_heat_with_a_free_place():
    heats = fill_heats(field(ash=3, birch=2), places=3)

    moved = move_pair(heats, "A1", 2, places=3)

    assert moved[1].codes == ("B1", "B2", "A1")
    assert {pair.heat for pair in moved[1].pairs} == {"heat 2"}


def test_a_move_to_where_the_pair_is_changes_nothing():
    heats = fill_heats(field(ash=3), places=3)

    assert move_pair(heats, "A1", 1, places=3) == heats


def test_a_move_can_open_a_new_heat_and_leave_one_empty():
    heats = move_pair(fill_heats(field(ash=1)), "A1", 2)

    assert [heat.codes for heat in heats] == [(), ("A1",)]


def test_a_full_heat_refuses_and_names_the_swap_that_splits_least():
    heats = fill_heats(field(ash=3, birch=2, cedar=1), places=3)
    assert [heat.codes for heat in heats] == [("A1", "A2", "A3"), ("B1", "B2", "C1")]

    with pytest.raises(RuleError, match="heat 2: is full: all 3 places are taken") as refused:
        move_pair(heats, "A1", 2, places=3)

    assert "Swap A1 with C1 or B1 or B2" in refused.value.mend


def test_two_pairs_change_places():
    heats = fill_heats(field(ash=2, birch=2), places=2)

    swapped = swap_pairs(heats, "A1", "B2")

    assert [set(heat.codes) for heat in swapped] == [{"A2", "B2"}, {"B1", "A1"}]
    assert swap_pairs(heats, "A1", "A2") == heats


@pytest.mark.parametrize(
    ("code", "to", "message"),
    [("A11", 1, "Did you mean A1"), ("zz", 1, "absent pairs"), ("A1", 4, "or 3 for a new one")],
)
def test_a_move_of_or_to_what_is_not_there_is_refused(code, to, message):
    with pytest.raises(InputError, match=message):
        move_pair(fill_heats(field(ash=2, birch=2), places=2), code, to)


def test_a_large_event_is_planned_and_nobody_is_twice_in_it():
    pairs = [Pair(f"P{n}", f"school {n * n % 61}", ("Ada",)) for n in range(800)]

    heats = fill_heats(pairs)

    assert len(heats) == 67
    assert Counter(code for heat in heats for code in heat.codes) == Counter(p.code for p in pairs)
