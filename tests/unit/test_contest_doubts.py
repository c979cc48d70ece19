"""Planted slips are doubted, each with the likeliest cause; sound readings are not."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from nearmark.contest.doubts import DoubtKind, answer_doubts, doubts, new_doubts, not_closed
from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    BoxReading,
    Closing,
    ContainerWeighing,
    CountedSample,
    Cup,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Material,
    Pair,
    PairStatus,
    Side,
)
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.doubts import blind_sentence, doubt_question, doubt_sentence, what_is_odd

SCALE = Instrument("bench scale", "g", 0.01)
RULER = Instrument("ruler", "cm", 0.1)
JAR = Item("J2", Station.COUNT, "jar of peas", "green-pea")
BOX = Item("B1", Station.VOLUME, "tea box", box=BoxFaces(Faces.INSIDE))
SCOOP = Item("M1", Station.MASS, "scoop", "green-pea")
PAIRS = tuple(Pair(f"P{n:02d}", "Northfield", ("Lena", "Mo")) for n in range(1, 9))
DAY = Event(
    "Larkspur Valley Estimation Day",
    date(2027, 5, 8),
    instruments=(SCALE, RULER),
    items=(JAR, BOX, SCOOP),
    pairs=PAIRS,
)


def samples(*typed, item="J2"):
    return tuple(CountedSample(item, n, Decimal(g), "bench scale") for n, g in typed)


def edges(**read):
    return tuple(
        BoxReading("B1", Side(side), Decimal(cm), "ruler")
        for side, readings in read.items()
        for cm in readings
    )


def asked(**changes):
    """Questions about the newest of the changes, by what was there before it."""
    ((what, rows),) = changes.items()
    before = replace(DAY, **{what: rows[:-1]})
    return [doubt_question(doubt) for doubt in new_doubts(before, replace(DAY, **{what: rows}))]


@pytest.mark.parametrize(
    ("typed", "ask"),
    [
        ([(75, "18.91")], "Did you count 100 pieces?"),
        ([(100, "14.2")], "Did you count 75 pieces?"),
        ([(100, "189.1")], "Is the decimal point in the wrong place: 18.91 g?"),
        ([(100, "19.1"), (100, "91.1")], "Are two digits exchanged: 19.11 g?"),
        ([(100, "19.1"), (100, "1.92")], "Is the decimal point in the wrong place: 19.2 g?"),
        ([(100, "19.1"), (50, "19.2")], "Did you count 100 pieces?"),
        ([(100, "19.1"), (100, "24.7")], "Count it again, and weigh it again?"),
        ([(100, "54.1")], "Was the dish tared away? Is it this material?"),
    ],
)
def test_a_slip_in_a_sample_is_asked_about_with_its_likeliest_cause(typed, ask):
    if typed[-1] == (100, "91.1"):
        ask = "Are two digits exchanged: 19.1 g?"

    assert asked(samples=samples(*typed)) == [ask]


def test_a_dish_that_is_known_is_named():
    day = replace(DAY, cups=(Cup("7", Decimal("35.2"), "bench scale"),))
    after = replace(day, samples=samples((100, "54.1")))

    assert [doubt_question(d) for d in new_doubts(day, after)] == [
        "Was cup 7 (35.2 g) left on the scale?"
    ]


@pytest.mark.parametrize(
    "typed", [[(100, "18.9")], [(100, "22.9")], [(75, "14.1"), (100, "19.1")], [(100, "15.5")]]
)
def test_a_sound_sample_is_not_asked_about(typed):
    assert asked(samples=samples(*typed)) == []


def test_samples_that_agree_are_asked_about_once():
    three = samples((75, "18.91"), (75, "18.84"), (75, "18.97"))

    assert [doubt.id for doubt in doubts(replace(DAY, samples=three))] == ["sample:J2:75:18.91"]


def test_the_right_sample_after_a_kept_slip_is_not_asked_about():
    assert asked(samples=samples((100, "189.1"), (100, "19.0"))) == []


def test_an_item_weighed_before_is_a_closer_measure_than_the_catalogue():
    other = Item("J1", Station.COUNT, "first jar", "green-pea")
    day = replace(DAY, items=(other, *DAY.items), samples=samples((100, "20.4"), item="J1"))
    after = replace(day, samples=(*day.samples, *samples((100, "15.6"))))
    (doubt,) = new_doubts(day, after)

    assert doubt_question(doubt) == "Did you count 75 pieces?"
    assert "24 % lighter than usual (0.204 g, J1)" in what_is_odd(doubt)


def test_a_spread_typed_as_a_fraction_is_asked_about_by_catalogue_and_by_samples():
    def asks(code, cv, typed=()):
        items = (replace(JAR, material=code),)
        used = (Material(code, "Peas", Decimal(cv)),)
        day = replace(DAY, items=items, materials=used, samples=samples(*typed))
        return [doubt_question(d) for d in doubts(day) if d.kind is DoubtKind.SPREAD]

    typed = [(100, "61.2"), (100, "63.4"), (100, "59.9")]
    assert asks("green-pea", "0.0015") == ["Did you mean 15 %?"]
    assert asks("own-beans", "0.0015") == []
    assert asks("own-beans", "0.0015", typed) == ["Did you mean 15 %?"]
    assert asks("own-beans", "0.15", typed) == []
    assert asks("green-pea", "0.14", [(100, "19.1"), (100, "18.9"), (100, "18.7")]) == []


def test_a_full_container_lighter_than_the_empty_one_is_asked_about():
    rows = (
        ContainerWeighing("J2", None, Decimal("712.4"), "bench scale"),
        ContainerWeighing("J2", Decimal("212.4"), None, "bench scale"),
    )

    assert asked(containers=rows) == ["Are full and empty exchanged, or is it another container?"]


def test_a_second_count_by_hand_with_exchanged_digits_is_asked_about():
    counts = (HandCount("J2", 412, "Rowan"), HandCount("J2", 421, "Sorrel"))

    assert asked(hand_counts=counts) == ["Are two digits exchanged: 412?"]
    assert asked(hand_counts=(counts[0], HandCount("J2", 411, "Sorrel"))) == []


@pytest.mark.parametrize(
    ("read", "ask"),
    [
        ({"length": ["16.2", "6.4"]}, "Was it read in inches? That would be 16.3 cm."),
        ({"length": ["162"]}, "Was it read in millimetres? That would be 16.2 cm."),
        ({"length": ["16.2", "17.0"]}, "Was this one read outside, with the walls?"),
        ({"length": ["16.2", "12.6"]}, "Are two digits exchanged: 16.2 cm?"),
        (
            {"length": ["6.4"], "width": ["4.8"], "height": ["3.3"]},
            "Was the ruler read in inches? That would be 1660 cm3.",
        ),
    ],
)
def test_a_slip_at_a_box_is_asked_about_with_its_likeliest_cause(read, ask):
    if "12.6" in read["length"]:
        ask = "Are two digits exchanged: 16.2 cm?"

    assert asked(box_readings=edges(**read)) == [ask]


def test_a_sound_box_is_not_asked_about():
    read = edges(
        length=["16.2", "16.3", "16.2"], width=["12.1", "12.0", "12.1"], height=["8.4", "8.4"]
    )

    assert doubts(replace(DAY, box_readings=read)) == ()


def test_walls_taken_off_an_inside_reading_are_asked_about():
    walled = replace(BOX, box=BoxFaces(Faces.INSIDE, Decimal("0.4")))
    (doubt,) = doubts(replace(DAY, items=(JAR, walled)))

    assert doubt.kind is DoubtKind.FACES


def test_a_decided_key_far_from_the_measured_one_is_asked_about():
    counts = (HandCount("J2", 14984, "Rowan"), HandCount("J2", 14984, "Sorrel"))
    day = replace(DAY, hand_counts=counts)
    wrong = replace(day, key_decisions=(KeyDecision("J2", Decimal(24984), "Rowan", "as read"),))
    (doubt,) = new_doubts(day, wrong)

    assert doubt_sentence(doubt) == (
        "J2: 24984 is 67 % more than the 14984 that was measured. Is one digit wrong: 14984?"
    )


def test_a_cup_without_its_decimal_point_is_asked_about():
    cups = [Cup(str(n), Decimal(g), "bench scale", "thin") for n, g in ((1, "8.6"), (2, "86"))]

    assert asked(cups=tuple(cups)) == ["Is the decimal point in the wrong place: 8.6 g?"]
    assert asked(cups=tuple(cups[1:])) == ["Is the decimal point in the wrong place: 8.6 g?"]
    assert asked(cups=tuple(cups[:1])) == []


def test_cups_that_stand_alone_are_not_compared_with_each_other():
    cups = [Cup(str(n), Decimal(g), "bench scale") for n, g in ((1, "8.6"), (2, "25.4"))]

    assert asked(cups=tuple(cups)) == []


def test_what_was_weighed_later_does_not_question_what_was_weighed_before():
    other = Item("J1", Station.COUNT, "first jar", "green-pea")
    first = samples((100, "23.0"), item="J1")
    day = replace(DAY, items=(other, *DAY.items), samples=(*first, *samples((100, "17.6"))))

    assert [doubt.item for doubt in doubts(day)] == ["J2"]


def reading(pair, value, *, item="J2", clerk="Rowan", cup=""):
    status = AnswerStatus.ANSWERED
    return AnswerReading(pair, item, 1, clerk, status, Decimal(value), cup)


FIELD = tuple(
    reading(f"P{n:02d}", v) for n, v in enumerate((14200, 15000, 21000, 9500, 12800), start=3)
)


@pytest.mark.parametrize("value", [2400, 419, 980, 704])
def test_a_number_far_from_the_field_is_asked_about_blind(value):
    (doubt,) = answer_doubts(replace(DAY, answers=FIELD), [reading("P02", value)])

    assert blind_sentence(doubt) == (
        "P02, J2: This is far from what others wrote, or from what an answer can be. "
        "Please read the sheet again."
    )


def test_a_number_in_the_row_of_another_item_is_asked_about_sooner():
    other = Item("J1", Station.COUNT, "other jar", "green-pea")
    field = tuple(reading(f"P{n:02d}", 3000 + 100 * n, item="J1") for n in range(3, 8))
    day = replace(DAY, items=(other, *DAY.items), answers=(*FIELD, *field))

    asks = [
        [doubt_question(d) for d in answer_doubts(day, [reading("P02", v)])] for v in (3480, 6000)
    ]
    assert asks == [["Is it the answer on J1?"], []]


@pytest.mark.parametrize("value", [6000, 14500, 40000])
def test_a_wide_miss_is_no_slip(value):
    assert answer_doubts(replace(DAY, answers=FIELD), [reading("P02", value)]) == ()


def test_what_the_first_reader_read_has_no_say_in_the_question_to_the_second():
    typed = reading("P02", 1500, clerk="Sorrel")
    kept = [reading("P02", v) for v in (1500, 15000)]

    asks = {answer_doubts(replace(DAY, answers=(*FIELD, one)), [typed]) for one in kept}
    assert len(asks) == 1


def weighed(pair, gross, cup="7"):
    return reading(pair, gross, item="M1", cup=cup)


def test_a_weighing_is_asked_about():
    cups = (Cup("7", Decimal("8.6"), "bench scale"), Cup("8", Decimal("8.7"), "bench scale"))
    pairs = (replace(PAIRS[0], status=PairStatus.ABSENT), *PAIRS[1:])
    day = replace(DAY, cups=cups, pairs=pairs, answers=(weighed("P03", "101.2", "8"),))

    def kinds(typed):
        return [doubt.kind for doubt in answer_doubts(day, [typed])]

    assert kinds(weighed("P02", "104.3")) == []
    assert kinds(weighed("P02", "1043")) == [DoubtKind.WEIGHING]
    assert kinds(weighed("P02", "8.1")) == [DoubtKind.WEIGHING]
    assert kinds(weighed("P02", "104.3", "8")) == [DoubtKind.CUP_TWICE]
    assert kinds(weighed("P01", "104.3")) == [DoubtKind.ABSENT]


def test_a_changed_reading_is_another_doubt():
    first, second = (doubts(replace(DAY, samples=samples((100, g)))) for g in ("189.1", "188.7"))

    assert first[0].id != second[0].id


@pytest.mark.parametrize(
    ("value", "ask"),
    [
        ("17", "Is that thousands?"),
        ("1450", "Is a digit missing?"),
        ("145000", "Is there a digit too many?"),
        ("14500000", "Are three digits too many?"),
        ("250", "Was it read correctly?"),
        ("0", "Was it read correctly?"),
    ],
)
def test_the_likely_slip_of_an_answer_is_named_to_the_lead(value, ask):
    (doubt,) = answer_doubts(replace(DAY, answers=FIELD), [reading("P02", value)])

    assert what_is_odd(doubt) == f"{value} is far from what others wrote"
    assert doubt_question(doubt) == ask


def test_with_few_answers_only_the_limits_of_the_rules_ask():
    few = replace(DAY, answers=FIELD[:2])

    asks = [
        [what_is_odd(d) for d in answer_doubts(few, [reading("P02", v)])]
        for v in (3, 21, 20, 10**5)
    ]
    assert asks == [["3 is outside 20 to 100000"], [], [], []]


def test_a_decided_answer_is_doubted_and_what_it_overruled_is_not():
    wrong = reading("P02", 150)
    right = Adjudication("P02", "J2", "Ash", AnswerStatus.ANSWERED, Decimal(15000), "", "a zero")
    day = replace(DAY, answers=(*FIELD, wrong))

    assert [d.pair for d in doubts(day)] == ["P02"]
    assert doubts(replace(day, adjudications=(right,))) == ()
    assert len(doubts(replace(day, adjudications=(replace(right, value=Decimal(150)),)))) == 1


def test_a_doubt_that_was_closed_with_a_reason_is_no_longer_open():
    day = replace(DAY, samples=samples((75, "18.91")))
    (doubt,) = doubts(day)
    closed = replace(day, closings=(Closing(doubt.id, "Juniper", "counted again, a heavy lot"),))

    assert not_closed(day, doubts(day)) == (doubt,)
    assert not_closed(closed, doubts(closed)) == ()
