"""A true value seen before is no practice: marks in a log, and the things that are still fresh."""

from dataclasses import replace
from datetime import date, timedelta

from nearmark.coaching.attempt import Attempt
from nearmark.coaching.seen_truth import Thing, fresh_things, truths_seen, with_history
from nearmark.station import Station

DAY = date(2027, 2, 3)
BEANS = Attempt(DAY, "Ada", Station.COUNT, "jar of beans", 380, 420, "small", pair="P1")
LATER = DAY + timedelta(days=7)


def marks(*log):
    return [each.is_known for each in with_history(log)]


def test_the_first_try_counts_and_the_second_does_not():
    assert marks(BEANS, replace(BEANS, day=LATER, estimate=420)) == [False, True]


def test_the_order_of_days_decides_and_not_that_of_rows():
    found = with_history([replace(BEANS, day=LATER, estimate=421), BEANS])

    assert [(each.estimate, each.is_known) for each in found] == [(380, False), (421, True)]


def test_a_jar_filled_anew_is_another_thing():
    assert marks(BEANS, replace(BEANS, day=LATER, true=388)) == [False, False]


def test_another_pupil_has_not_seen_it():
    assert marks(BEANS, replace(BEANS, pupil="Bo")) == [False, False]


def test_a_hundred_grams_are_never_given_away():
    scoop = Attempt(DAY, "Ada", Station.MASS, "rice", 95, 100)

    assert marks(scoop, scoop, replace(scoop, day=LATER)) == [False, False, False]
    assert truths_seen([scoop]) == {}


def test_a_mark_that_is_there_stays():
    assert marks(replace(BEANS, is_known=True)) == [True]


def test_the_partner_of_a_thing_is_found():
    other = replace(BEANS, pupil="Bo", estimate=450)
    found = with_history([BEANS, other, replace(BEANS, pupil="Cleo", pair="P2", estimate=1)])

    assert [each.partner for each in found] == [450, 380, None]


def test_fresh_things_come_first_and_the_others_say_who_knows_them():
    things = [
        Thing(Station.COUNT, "small", name, true)
        for name, true in (("jar of beans", 420), ("jar of beans", 388), ("jar of peas", 90))
    ]
    seen = truths_seen(
        [BEANS, replace(BEANS, pupil="Bo"), replace(BEANS, thing="jar of peas", true=90)]
    )

    found = fresh_things(["Ada", "Bo", "Cleo"], things, seen)

    assert [(each.thing.true, each.pupils) for each in found] == [
        (388, ()),
        (90, ("Ada",)),
        (420, ("Ada", "Bo")),
    ]
    assert [each.is_fresh for each in found] == [True, False, False]
    assert [each.is_known_to_most for each in found] == [False, False, True]
