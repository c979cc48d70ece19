"""How sure the places of an event are."""

import math
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest

from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    Cup,
    Event,
    HandCount,
    Item,
    Pair,
    PairStatus,
)
from nearmark.contest.placed_answers import placed_answers
from nearmark.contest.rank_confidence import rank_confidence
from nearmark.contest.rank_margin import explain_margin
from nearmark.contest.rank_places import break_ties, rank_losses, tied_draws
from nearmark.contest.remeasure import remeasure_gains
from nearmark.contest.results import results
from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.errors import InputError
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station
from nearmark.words.standings import act_words

SCALE = Instrument("bench scale", "g", 0.1)
ITEMS = (
    Item("A1", Station.MASS, "cup"),
    Item("B1", Station.COUNT, "jar"),
    Item("B2", Station.COUNT, "tub"),
)
KEYS = {"B1": 1000, "B2": 400}


def readings(pair, item, value, cup=""):
    status = AnswerStatus.BLANK if value is None else AnswerStatus.ANSWERED
    number = None if value is None else Decimal(str(value))
    return [
        AnswerReading(pair, item, reading, f"clerk {reading}", status, number, cup)
        for reading in (1, 2)
    ]


def event(answers, rules=None, items=ITEMS, statuses=None):
    """An event with one row (gross g, pieces, pieces) a pair; every cup weighs 20 g."""
    rows = []
    for i, (pair, values) in enumerate(answers.items()):
        for item, value in zip(items, values, strict=True):
            cup = str(i) if item.station is Station.MASS and value is not None else ""
            rows += readings(pair, item.code, value, cup)
    return Event(
        "Larkspur Valley Estimation Day",
        date(2026, 4, 18),
        rules=rules or RuleSet(),
        instruments=(SCALE,),
        items=items,
        hand_counts=tuple(
            HandCount(item, pieces, f"counter {n}")
            for item, pieces in KEYS.items()
            for n in range(3)
        ),
        cups=tuple(Cup(str(i), Decimal("20.0"), "bench scale") for i in range(len(answers))),
        pairs=tuple(
            Pair(pair, "school", ("one", "two"), (statuses or {}).get(pair, PairStatus.ENTERED))
            for pair in answers
        ),
        answers=tuple(rows),
    )


def with_key_u(found, relative_u, dof=math.inf):
    """The same results, the keys' uncertainty as given."""
    keys = {
        code: replace(key, u=relative_u[code] * float(key.key), dof=dof)
        if code in relative_u
        else key
        for code, key in found.keys.items()
    }
    return replace(found, keys=keys)


def exact(found):
    answers = {at: replace(answer, u=0.0) for at, answer in found.answers.items()}
    return replace(with_key_u(found, {"B1": 0.0, "B2": 0.0}), answers=answers)


def places_hold(sure, found):
    """Whether every pair has its place of the results in every draw."""
    held = zip(sure.place_probability, found.pairs, strict=True)
    return all(row[pair.place - 1] == 1 for row, pair in held)


FIELD = {
    "P1": (118, 960, 395),
    "P2": (125, 1040, 410),
    "P3": (110, 900, 380),
    "P4": (95, 1300, None),
}


def sampling_u(sure, probability):
    """Standard uncertainty of a drawn probability from the number of draws alone."""
    return math.sqrt(probability * (1 - probability) / sure.n_draws)


def test_with_exact_keys_every_pair_is_certain_of_its_place():
    found = exact(results(event(FIELD)))

    sure = rank_confidence(found, seed=1)

    np.testing.assert_array_equal(sure.place_probability, np.eye(4))
    assert sure.codes == tuple(p.pair.code for p in found.pairs)
    assert (sure.winner, sure.podium_order, sure.podium_set, sure.tie) == (1, 1, 1, 0)
    assert sure.remeasure_first == ()


def test_an_actual_tie_is_certain_too():
    tied = FIELD | {"P5": FIELD["P2"], "P6": FIELD["P1"]}
    found = exact(results(event(tied)))

    sure = rank_confidence(found, seed=1)

    assert places_hold(sure, found)
    assert (sure.winner, sure.podium_order, sure.tie) == (1, 1, 1)


def test_pairs_with_the_same_answers_tie_under_uncertain_keys():
    found = results(event({"P1": (None, 960, 395), "P2": (None, 960, 395), "P3": (None, 500, 300)}))

    sure = rank_confidence(with_key_u(found, {"B1": 0.02, "B2": 0.02}), seed=1)

    assert sure.tie == 1
    assert sure.place_probability[0, 0] == sure.place_probability[1, 0] == 1


def test_two_pairs_astride_one_key_stand_as_often_as_the_normal_says():
    # 950 and 1060 of 1000 +- 1 %: the first stays ahead up to t = 1005, Phi(0.5) = 0.6915
    found = results(event({"P1": (None, 950, None), "P2": (None, 1060, None)}))

    sure = rank_confidence(with_key_u(found, {"B1": 0.01}), seed=5)

    assert sure.winner == pytest.approx(0.6915, abs=4 * sampling_u(sure, 0.69))


def test_the_key_that_decides_is_named_first():
    found = results(event({"P1": (None, 950, 390), "P2": (None, 1060, 391)}))

    sure = rank_confidence(with_key_u(found, {"B1": 0.01, "B2": 0.01}), seed=5)

    first, second = sure.remeasure_first
    assert first.item == "B1"
    assert first.is_clear
    assert not second.is_clear


def test_the_mass_station_has_no_key_to_measure_again():
    sure = rank_confidence(results(event(FIELD)), seed=1)

    assert "A1" not in {gain.item for gain in sure.remeasure_first}


def test_the_net_mass_is_uncertain_for_each_pair_alone():
    # 97.0 and 96.9 g, u = 0.1 g each: Phi(0.1 / 0.1414) = 0.7602
    found = results(event({"P1": (117.0, None, None), "P2": (116.9, None, None)}))
    answers = {at: replace(a, u=0.1) for at, a in found.answers.items()}

    sure = rank_confidence(replace(found, answers=answers), seed=2)

    assert sure.winner == pytest.approx(0.7602, abs=4 * sampling_u(sure, 0.76))


def test_the_same_seed_gives_the_same_result_and_another_one_another():
    found = with_key_u(results(event(FIELD)), {"B1": 0.05, "B2": 0.05})

    first, again = (rank_confidence(found, seed=3, n_draws=2000) for _ in range(2))
    other = rank_confidence(found, seed=4, n_draws=2000)

    np.testing.assert_array_equal(first.place_probability, again.place_probability)
    assert first.remeasure_first == again.remeasure_first
    assert (first.place_probability != other.place_probability).any()


def test_guests_and_absent_pairs_are_not_ranked():
    found = results(event(FIELD, statuses={"P1": PairStatus.GUEST}))

    assert "P1" not in rank_confidence(found, seed=1).codes


def test_a_tie_break_of_the_rules_is_applied_in_every_draw():
    # B1: 950 and 1050 of 1000 both score 95; B2 is blank.  P1 and P2 tie in total with exact keys;
    # the mass total is the same (blank), the worst item too: a real tie stays one.
    answers = {"P1": (118, 950, None), "P2": (120, 930, None)}
    rules = RuleSet(tie_breaks=(TieBreak.MASS_TOTAL,))
    found = exact(results(event(answers, rules=rules)))

    sure = rank_confidence(found, seed=1)

    # totals 98 + 95 and 100 + 93 are equal; the heavier cup's pair is first
    assert [p.pair.code for p in found.pairs] == ["P2", "P1"]
    assert sure.tie == 0
    np.testing.assert_array_equal(sure.place_probability, np.eye(2))


@pytest.mark.parametrize("rule", list(TieBreak))
def test_every_tie_break_gives_the_places_of_the_results(rule):
    answers = {
        "P1": (118, 950, 360),
        "P2": (120, 930, 360),
        "P3": (115, 980, 360),
        "P4": (120, 950, 352),
        "P5": (119, 940, 360),
    }
    found = exact(results(event(answers, rules=RuleSet(tie_breaks=(rule,)))))

    sure = rank_confidence(found, seed=1)

    assert len({pair.total for pair in found.pairs}) == 1
    assert places_hold(sure, found)


def test_rules_with_a_free_band_and_a_cap_are_drawn_as_scored():
    rules = RuleSet(
        zero_at=Fraction(1, 2),
        free_within=Fraction(1, 20),
        highest_score=Fraction(97),
        blank_score=Fraction(5),
    )
    found = exact(results(event(FIELD, rules=rules)))
    _, items, answers = placed_answers(found)

    for j, item in enumerate(items):
        expected = [
            float(score.weighted)
            for pair in found.pairs
            for score in pair.items
            if score.item == item
        ]
        assert answers.item_scores(j, answers.estimates[:, j]) == pytest.approx(expected)
    assert places_hold(rank_confidence(found, seed=1), found)


def test_a_blank_with_points_of_its_own_beats_an_answer_with_fewer():
    rules = RuleSet(blank_score=Fraction(10))
    answers = {"P1": (None, 900, None), "P2": (None, 900, 20), "P3": (None, 900, 60)}
    found = exact(results(event(answers, rules=rules)))

    # on B2: 10 for the blank, 5 and 15 for 20 and 60 of 400
    assert [p.pair.code for p in found.pairs] == ["P3", "P1", "P2"]
    assert places_hold(rank_confidence(found, seed=1), found)


def test_the_worst_item_of_a_blank_is_what_the_blank_scores():
    rules = RuleSet(blank_score=Fraction(10), tie_breaks=(TieBreak.WORST_ITEM,))
    # totals 10 + 90 + 60 and 5 + 95 + 60: equal; the worst items are 10 and 5
    answers = {"P2": (None, 900, 240), "P1": (25, 950, 240)}
    found = exact(results(event(answers, rules=rules)))

    assert found.pairs[0].total == found.pairs[1].total
    assert [p.pair.code for p in found.pairs] == ["P2", "P1"]
    assert places_hold(rank_confidence(found, seed=1), found)


def test_an_item_of_no_weight_breaks_a_tie_and_counts_for_nothing_else():
    items = (ITEMS[0], ITEMS[1], replace(ITEMS[2], weight=Decimal(0)))
    rules = RuleSet(tie_breaks=(TieBreak.WORST_ITEM,))
    # B2 has no weight; P4 and P5 tie on the others and score 10 and 20 on it.
    answers = {
        "P1": (20, 900, 40),
        "P2": (20, 900, 400),
        "P3": (None, 890, 400),
        "P4": (118, 900, 40),
        "P5": (118, 900, 80),
    }
    found = exact(results(event(answers, rules=rules, items=items)))

    assert [p.place for p in found.pairs] == [1, 2, 3, 3, 5]
    assert places_hold(rank_confidence(found, seed=1), found)


def test_a_shared_third_place_is_a_tie_on_the_podium():
    answers = {"P1": (None, 990, 400), "P2": (None, 980, 400), "P3": (None, 970, 400)}
    found = exact(results(event(answers | {"P4": answers["P3"], "P5": (None, 500, 400)})))

    assert rank_confidence(found, seed=1).tie == 1


def test_a_shared_fourth_place_is_none():
    answers = {"P1": (None, 990, 400), "P2": (None, 980, 400), "P3": (None, 970, 400)}
    found = exact(results(event(answers | {"P4": (None, 500, 400), "P5": (None, 500, 400)})))

    assert rank_confidence(found, seed=1).tie == 0


def test_what_chance_alone_brings_is_taken_off_a_gain():
    rng = np.random.default_rng(8)
    tossed = rng.integers(2, size=10_000).astype(np.uint64)

    raw, gain, _ = remeasure_gains(tossed, rng.normal(size=(1, 10_000)), seed=1)

    # A bin of 250 tosses favours one side by 0.8 * sqrt(0.25 / 250) = 0.025 on average.
    assert raw[0] == pytest.approx(0.025, abs=0.01)
    assert gain[0] < 0.01


def test_weights_are_drawn_as_scored():
    items = (
        replace(ITEMS[0], weight=Decimal("0.5")),
        replace(ITEMS[1], weight=Decimal(3)),
        ITEMS[2],
    )
    found = exact(results(event(FIELD, items=items)))
    _, codes, answers = placed_answers(found)

    totals = sum(answers.item_scores(j, answers.estimates[:, j]) for j in range(len(codes)))

    assert totals == pytest.approx([float(pair.total) for pair in found.pairs])


def test_progress_is_told_to_the_end():
    told: list[int] = []

    rank_confidence(results(event(FIELD)), seed=1, progress=told.append)

    assert told[-1] == 10_000
    assert told == sorted(told)


def stands_by_plain_draws(found, relative_u, n_draws=4000):
    """Shares of draws in which each group of pairs on one place fills the places it takes.

    A road of its own: plain loops over drawn keys and net masses, scores by the formula.
    """
    rng = np.random.default_rng(99)
    lines = [line for line in found.pairs if line.place]
    groups: dict[int, set[str]] = {}
    for line in lines:
        groups.setdefault(line.place, set()).add(line.pair.code)
    podium = {place: codes for place, codes in groups.items() if place <= 3}
    whole, first = 0, 0
    for _ in range(n_draws):
        keys = {
            code: KEYS[code] * (1 + u * rng.standard_normal()) for code, u in relative_u.items()
        }
        totals = {}
        for line in lines:
            total = 0.0
            for score in line.items:
                answer = found.answers[line.pair.code, score.item]
                if answer.estimate is None:
                    continue
                estimate = float(answer.estimate) + answer.u * rng.standard_normal()
                true = keys.get(score.item, 100.0)
                total += max(0.0, 100 * (1 - abs(estimate - true) / true))
            totals[line.pair.code] = total
        order = sorted(totals, key=lambda code: -totals[code])
        held = {
            place: set(order[place - 1 : place - 1 + len(codes)]) == codes
            for place, codes in podium.items()
        }
        whole += all(held.values())
        first += held[1]
    return whole / n_draws, first / n_draws


TWO_SECOND = {
    "P1": (119, 985, 402),
    "P2": (110, 960, 395),
    "P3": (110, 960, 395),
    "P4": (112, 1080, 409),
    "P5": (90, 700, 250),
}


def test_a_shared_place_stands_as_often_as_plain_draws_say():
    u = {"B1": 0.02, "B2": 0.02}
    found = with_key_u(results(event(TWO_SECOND)), u)
    assert [line.place for line in found.pairs] == [1, 2, 2, 4, 5]

    sure = rank_confidence(found, seed=5)
    whole, first = stands_by_plain_draws(found, u)

    # Three standard deviations of a share of 4,000 and of 10,000 draws.
    assert sure.podium_order == pytest.approx(whole, abs=0.03)
    assert sure.winner == pytest.approx(first, abs=0.03)
    assert 0.2 < whole < 0.98


def test_a_tie_never_reads_as_unsure_when_nothing_else_is():
    # Equal in every answer; each cup has a rounding of its own, so every draw parts the two.
    found = results(event(TWO_SECOND))

    sure = rank_confidence(with_key_u(found, {"B1": 1e-6, "B2": 1e-6}), seed=5)

    assert sure.podium_order > 0.99
    assert sure.place_stands("P2") > 0.99
    assert sure.place_stands("P3") > 0.99


def test_the_probability_that_a_place_stands_is_that_of_the_place_in_force():
    tied = FIELD | {"P5": FIELD["P1"]}
    found = results(event(tied))
    sure = rank_confidence(found, seed=1)

    assert sure.places == tuple(pair.place for pair in found.pairs)
    for row, pair in zip(sure.place_probability, found.pairs, strict=True):
        width = sure.places.count(pair.place)
        held = row[pair.place - 1 : pair.place - 1 + width].sum()
        assert sure.place_stands(pair.pair.code) == pytest.approx(held)
    assert sure.place_stands("P9") is None


def test_a_pair_alone_is_first():
    sure = rank_confidence(results(event({"P1": FIELD["P1"]})), seed=1)

    assert sure.place_probability.tolist() == [[1.0]]


def test_the_table_cannot_be_changed():
    sure = rank_confidence(results(event(FIELD)), seed=1)

    with pytest.raises(ValueError, match="read-only"):
        sure.place_probability[0, 0] = 0


def test_too_few_draws_are_refused():
    with pytest.raises(InputError, match="number of draws: at least 100 draws needed"):
        rank_confidence(results(event(FIELD)), seed=1, n_draws=99)


def test_a_negative_seed_is_refused():
    with pytest.raises(InputError, match="seed: must be zero or more"):
        rank_confidence(results(event(FIELD)), seed=-1)


def test_an_event_without_pairs_has_nothing_to_rank():
    with pytest.raises(InputError, match="nothing to rank"):
        rank_confidence(results(event({})), seed=1)


def test_a_margin_is_explained_by_the_item_on_which_the_pairs_lie_astride():
    found = with_key_u(
        results(event({"P1": (None, 950, 390), "P2": (None, 1060, 380)})), {"B1": 0.01, "B2": 0.01}
    )

    margin = explain_margin(found, "P1", "P2")

    # points 95 + 97.5 - 94 - 95; u: B1 100 (.95 + 1.06) .01 = 2.01, B2 100 (.975 - .95) .01 = .025
    assert margin.points == pytest.approx(3.5)
    assert margin.u == pytest.approx(math.hypot(2.01, 0.025))
    assert margin.shares[0].item == "B1"
    assert margin.shares[0].share > 0.99
    assert margin.trustworthy


def test_a_margin_with_an_answer_beside_the_key_is_not_trusted():
    found = with_key_u(
        results(event({"P1": (None, 1001, None), "P2": (None, 900, None)})), {"B1": 0.01}
    )

    assert not explain_margin(found, "P1", "P2").trustworthy


def test_a_margin_under_exact_keys_is_certain():
    found = exact(results(event(FIELD)))
    first, second = (pair.pair.code for pair in found.pairs[:2])

    assert explain_margin(found, first, second).probability == 1
    assert explain_margin(found, second, first).probability == 0


def test_a_margin_needs_placed_pairs():
    with pytest.raises(InputError, match="pair behind: is not a placed pair"):
        explain_margin(results(event(FIELD)), "P1", "P9")


def test_two_merits_break_a_tie_in_their_order():
    placed = rank_losses(np.array([[1.0, 1.0, 1.0, 0.0], [3.0, 2.0, 1.0, 0.0]]))
    merits = [np.array([[5.0, 5.0, 9.0, 0.0]]), np.array([[1.0, 2.0, 0.0, 0.0]])]

    after = break_ties(placed, tied_draws(placed), merits)

    assert after.order.tolist() == [[3, 2, 1, 0], [3, 2, 1, 0]]
    assert after.place.tolist() == [[0, 1, 2, 3], [0, 1, 2, 3]]


def test_equal_losses_that_round_to_neighbouring_steps_are_still_a_tie():
    middle = 1.5e-9  # between two steps of the ranking

    placed = rank_losses(np.array([[middle - 1e-13, middle + 1e-13, 1.0]]))

    assert placed.place.tolist() == [[0, 0, 2]]


def test_losses_of_unreasonable_size_are_still_ranked():
    placed = rank_losses(np.array([[3e12, 1e12, 2e12]]))

    assert placed.order.tolist() == [[1, 2, 0]]


def of_two_cups(first_g, second_g, scales):
    """Two pairs at the mass station alone; each cup of 20 g on its own of the scales."""
    day = event({"P1": [first_g + 20], "P2": [second_g + 20]}, items=ITEMS[:1])
    cups = tuple(replace(cup, instrument=s.name) for cup, s in zip(day.cups, scales, strict=True))
    instruments = tuple(dict.fromkeys(scales))
    return results(replace(day, hand_counts=(), cups=cups, instruments=instruments))


GAIN_U = 0.02
LEFT = Instrument("left scale", "g", 0.001, gain_u=GAIN_U)
RIGHT = Instrument("right scale", "g", 0.001, gain_u=GAIN_U)


def test_the_gain_of_the_one_scale_cannot_part_two_cups_on_the_same_side():
    sure = rank_confidence(of_two_cups(108, 109, (LEFT, LEFT)), seed=1)

    # Both stay above 100 g within four standard uncertainties of the gain.
    assert sure.winner > 0.999


def test_the_gain_of_the_one_scale_moves_two_cups_on_either_side_together():
    sure = rank_confidence(of_two_cups(95, 105.5, (LEFT, LEFT)), seed=1)

    # 95 (1 + g) leads while 5 - 95 g < 5.5 + 105.5 g, so while g > -0.5 / 200.5.
    expected = 0.5 * math.erfc(-0.5 / 200.5 / GAIN_U / math.sqrt(2))
    assert sure.winner == pytest.approx(expected, abs=4 * sampling_u(sure, expected))


def test_the_gains_of_two_scales_part_the_cups_they_weighed():
    sure = rank_confidence(of_two_cups(108, 109, (LEFT, RIGHT)), seed=1)

    expected = 0.5 * math.erfc(-1 / (GAIN_U * math.hypot(108, 109)) / math.sqrt(2))
    assert sure.winner == pytest.approx(expected, abs=4 * sampling_u(sure, expected))


def test_a_scale_is_told_of_as_something_to_check_and_no_item_to_measure_again():
    sure = rank_confidence(of_two_cups(95, 105.5, (LEFT, LEFT)), seed=1)

    (check,) = sure.remeasure_first
    assert (check.item, check.cause) == ("", "gain of left scale")
    assert check.is_clear
    assert act_words(check) == "check left scale against a second scale or a test weight"
