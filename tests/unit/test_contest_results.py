"""From an event to places: weights, statuses, ties, open points."""

import json
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    Cup,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Pair,
    PairStatus,
)
from nearmark.contest.results import results
from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.open_points import point_sentence, point_words
from nearmark.words.results_json import results_as_json

KEYS = {"C1": 300, "C2": 3000, "C3": 900}


def event_of(answers, **changes):
    """An event of three counted containers; ``answers``: code -> three values or None."""
    event = Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        items=tuple(Item(code, Station.COUNT, f"jar {code}") for code in KEYS),
        hand_counts=tuple(
            HandCount(code, pieces, who) for code, pieces in KEYS.items() for who in ("R", "S")
        ),
        pairs=tuple(Pair(code, "Fernhollow", ("Ada", "Bo")) for code in answers),
        answers=tuple(
            AnswerReading(
                code,
                item,
                n,
                clerk,
                AnswerStatus.BLANK if value is None else AnswerStatus.ANSWERED,
                None if value is None else Decimal(value),
            )
            for code, values in answers.items()
            for item, value in zip(KEYS, values, strict=True)
            for n, clerk in ((1, "Ash"), (2, "Birch"))
        ),
    )
    return replace(event, **changes)


def standings(event):
    return [(line.pair.code, line.place) for line in results(event).pairs]


def test_an_exact_tie_shares_the_place_where_floats_would_split_it():
    # 296/300 + 2950/3000 + 834/900 = 295/300 + 2780/3000 + 888/900 = 869/3 points, worked by hand.
    event = event_of({"A": (296, 2950, 834), "B": (295, 2780, 888), "D": (100, 1000, 300)})

    outcome = results(event)

    assert [line.total for line in outcome.pairs[:2]] == [Fraction(869, 3)] * 2
    assert standings(event) == [("A", 1), ("B", 1), ("D", 3)]
    floats = [
        sum(100 * (1 - abs(a - k) / k) for a, k in zip(answers, KEYS.values(), strict=True))
        for answers in ((296, 2950, 834), (295, 2780, 888))
    ]
    assert floats[0] != floats[1]


def test_the_rule_set_may_break_a_tie_by_the_worst_item():
    event = event_of(
        {"A": (296, 2950, 834), "B": (295, 2780, 888)},
        rules=RuleSet(tie_breaks=(TieBreak.WORST_ITEM,)),
    )

    # Worst items: A 834/900 = 92.67, B 2780/3000 = 92.67: equal too, so the tie stays.
    assert standings(event) == [("A", 1), ("B", 1)]


def test_the_better_worst_item_breaks_a_tie():
    event = event_of(
        {"A": (300, 3000, 630), "B": (270, 2700, 810)},  # 100 + 100 + 70 = 90 + 90 + 90 = 270
        rules=RuleSet(tie_breaks=(TieBreak.WORST_ITEM,)),
    )

    assert standings(event) == [("B", 1), ("A", 2)]


def test_the_number_of_items_at_90_breaks_a_tie():
    event = event_of(
        {"A": (270, 2700, 720), "B": (300, 2550, 675)},  # 90 + 90 + 80 = 100 + 85 + 75 = 260
        rules=RuleSet(tie_breaks=(TieBreak.ITEMS_AT_90,)),
    )

    assert standings(event) == [("A", 1), ("B", 2)]


def test_a_blank_scores_what_the_rules_give_a_blank():
    event = event_of({"A": (300, None, 900)})

    assert results(event).pairs[0].total == 200
    lenient = replace(event, rules=RuleSet(blank_score=Fraction(10)))
    assert results(lenient).pairs[0].total == 210


def test_the_weight_of_an_item_is_its_own_or_its_stations():
    event = event_of({"A": (150, 3000, 900)})
    heavy = replace(event, items=(replace(event.items[0], weight=Decimal(3)), *event.items[1:]))

    assert results(heavy).pairs[0].total == 3 * 50 + 100 + 100
    assert results(heavy).highest_total == 500


@pytest.mark.parametrize(
    ("status", "scored"),
    [(PairStatus.GUEST, True), (PairStatus.ABSENT, False), (PairStatus.WITHDRAWN, False)],
)
def test_who_is_not_entered_is_not_placed_and_takes_no_place_away(status, scored):
    event = event_of({"A": (300, 3000, 900), "B": (200, 2000, 600)})
    event = replace(event, pairs=(replace(event.pairs[0], status=status), event.pairs[1]))

    outcome = results(event)

    assert [(p.pair.code, p.place) for p in outcome.pairs] == [("B", 1), ("A", None)]
    assert bool(outcome.pairs[1].items) is scored


def test_a_child_alone_is_placed_only_where_the_rules_say_so():
    event = event_of({"A": (300, 3000, 900), "B": (200, 2000, 600)})
    event = replace(event, pairs=(replace(event.pairs[0], members=("Ada",)), event.pairs[1]))

    assert standings(event) == [("A", 1), ("B", 2)]
    assert standings(replace(event, rules=RuleSet(solo_allowed=False))) == [("B", 1), ("A", None)]


def test_an_item_without_a_key_is_scored_for_nobody():
    event = event_of({"A": (300, 3000, 900), "B": (300, 1, 900)})
    event = replace(event, hand_counts=tuple(c for c in event.hand_counts if c.item != "C2"))

    outcome = results(event)

    assert {line.total for line in outcome.pairs} == {Fraction(200)}
    assert any(
        point_words(p).startswith("C2 has no key and is not scored") for p in outcome.open_points
    )


def test_an_unfit_key_is_used_for_now_and_is_an_open_point_until_decided():
    event = event_of({"A": (300, 3000, 900)})
    once = replace(event, hand_counts=(HandCount("C1", 10, "R"), *event.hand_counts[2:]))
    decision = KeyDecision("C1", None, "lead Juniper", "no time for a second count")

    outcome = results(once)

    assert outcome.pairs[0].items[0].score == 0
    assert [
        p for p in outcome.open_points if point_sentence(p).startswith("the key of C1 is not fit. ")
    ]
    assert results(replace(once, key_decisions=(decision,))).open_points == ()


@pytest.mark.parametrize(
    ("breaker", "winner"),
    [(TieBreak.COUNT_TOTAL, "A"), (TieBreak.MASS_TOTAL, "B"), (TieBreak.VOLUME_TOTAL, None)],
)
def test_the_total_of_a_station_breaks_a_tie(breaker, winner):
    # A: 100 + 90, B: 90 + 100; the target of the cup is 100 g, its tare 8 g.
    event = event_of(
        {"A": (300, 3000, 900), "B": (270, 3000, 900)}, rules=RuleSet(tie_breaks=(breaker,))
    )
    scoops = tuple(
        AnswerReading(code, "M1", n, clerk, AnswerStatus.ANSWERED, Decimal(gross), "7")
        for code, gross in (("A", 98), ("B", 108))
        for n, clerk in ((1, "Ash"), (2, "Birch"))
    )
    event = replace(
        event,
        instruments=(Instrument("bench scale", "g", 0.1),),
        items=(Item("M1", Station.MASS, "scoop"), *event.items),
        cups=(Cup("7", Decimal(8), "bench scale"),),
        answers=(*event.answers, *scoops),
    )

    places = dict(standings(event))

    assert places == {"A": 1, "B": 1} | ({} if winner is None else {"A": 2, "B": 2, winner: 1})


def test_a_target_that_no_decimal_can_write_scores_exactly():
    rules = RuleSet(target_mass_g=Fraction(100, 3))
    event = replace(
        event_of({"A": (300, 3000, 900)}, rules=rules),
        instruments=(Instrument("bench scale", "g", 0.1),),
        items=(Item("M1", Station.MASS, "scoop"),),
        cups=(Cup("7", Decimal(8), "bench scale"),),
        answers=(AnswerReading("A", "M1", 1, "Ash", AnswerStatus.ANSWERED, Decimal(38), "7"),),
    )

    assert results(event).pairs[0].total == 90  # 30 g of 33 1/3 g


def test_a_settled_event_has_no_open_point():
    assert results(event_of({"A": (296, 2950, 834), "B": (295, 2780, 888)})).open_points == ()


def test_the_json_is_plain_and_exact():
    told = json.loads(json.dumps(results_as_json(results(event_of({"A": (296, 2950, 834)})))))

    pair = told["pairs"][0]
    assert (pair["code"], pair["place"], pair["total_exact"]) == ("A", 1, "869/3")
    assert [item["score_exact"] for item in pair["items"]] == ["296/3", "295/3", "278/3"]
    assert told["keys"][0]["key"] == 300
