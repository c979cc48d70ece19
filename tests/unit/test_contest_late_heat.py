"""Which heat a late pair joins."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nearmark.contest.event import Pair
from nearmark.contest.heat_records import Heat
from nearmark.contest.late_heat import late_heat
from nearmark.words.heats import why_this_heat


def heat(number: int, *schools: str) -> Heat:
    return Heat(number, tuple(Pair(f"{number}-{i}", s, ("A",)) for i, s in enumerate(schools)))


HEATS = (heat(1, "Elm", "Elm", "Oak"), heat(2, "Oak", "Oak"), heat(3))


@pytest.mark.parametrize(
    ("school", "places", "started", "number", "why"),
    [
        ("Oak", 12, (), 2, "its school has 2 there"),
        ("oak", 12, (2,), 1, "its school has 1 there"),
        ("Elm", 3, (), 2, "heat 1, where its school is, is full; it has room"),
        ("Elm", 12, (1,), 2, "heat 1, where its school is, has started; it has room"),
        ("Ash", 12, (), 1, "its school has no pair yet; it has room"),
        ("Ash", 2, (3,), 4, "its school has no pair yet; no heat has room, so this one is new"),
    ],
)
def test_a_late_pair_joins_its_school(school, places, started, number, why):
    chosen = late_heat(HEATS, school, places=places, started=started)

    assert (chosen.number, why_this_heat(chosen)) == (number, why)


@pytest.mark.slow
@settings(suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(st.lists(st.sampled_from("ABC"), max_size=4), max_size=5),
    st.sampled_from("ABCD"),
    st.integers(1, 4),
    st.sets(st.integers(1, 5)),
)
def test_the_heat_has_room_and_has_not_started(plan, school, places, started):
    heats = [heat(n, *schools) for n, schools in enumerate(plan, 1)]
    chosen = late_heat(heats, school, places=places, started=started)

    assert chosen.number not in started
    for one in heats:
        if one.number == chosen.number:
            assert len(one.pairs) < places
        of_school = sum(pair.school == school for pair in one.pairs)
        if of_school > chosen.n_of_school:
            assert one.number in started or len(one.pairs) >= places
