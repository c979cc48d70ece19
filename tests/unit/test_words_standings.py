"""What the standings say, and in which states they say it."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from nearmark.contest.answers import AnswerState
from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    Closing,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Pair,
)
from nearmark.contest.podium import key_doubts
from nearmark.contest.rank_confidence import RemeasureGain, rank_confidence
from nearmark.contest.rank_margin import explain_margin
from nearmark.contest.results import ItemScore, results
from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.station import Station
from nearmark.words.standings import (
    draws_text,
    margin_sentences,
    score_text,
    standing_words,
    tie_sentences,
)

JARS = {"C1": (1000, 1008), "C2": (400, 402)}


def day(answers, **changes):
    """An event of two jars, each counted twice, and a row of answers (or ``None``) a pair."""
    readings = tuple(
        AnswerReading(
            pair,
            jar,
            n,
            f"clerk {n}",
            AnswerStatus.BLANK if value is None else AnswerStatus.ANSWERED,
            None if value is None else Decimal(value),
        )
        for pair, row in answers.items()
        for jar, value in zip(JARS, row, strict=True)
        for n in (1, 2)
    )
    event = Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        items=tuple(Item(jar, Station.COUNT, "jar") for jar in JARS),
        hand_counts=tuple(
            HandCount(jar, pieces, name)
            for jar, counts in JARS.items()
            for pieces, name in zip(counts, ("Ana", "Ben"), strict=True)
        ),
        pairs=tuple(Pair(pair, "Quillbank", ("a", "b")) for pair in answers),
        answers=readings,
    )
    return replace(event, **changes)


FIELD = {
    "P1": (1000, 401),
    "P2": (950, 390),
    "P3": (950, 390),
    "P4": (1090, 450),
    "P5": (700, 300),
}


def words(event):
    found = results(event)
    return standing_words(found, rank_confidence(found, seed=3, n_draws=400))


def test_a_shared_place_is_said_in_words_and_first():
    said = words(day(FIELD))

    tie = "Second place is shared by P2 and P3: equal in total; the rule set leaves it so."
    assert said.ties == (tie,)
    assert said.sentences[0] == tie
    assert "fewer than 1" not in said.headline
    assert any(line.startswith("A shared place counts as the same") for line in said.details)


def test_a_tie_that_the_rule_set_breaks_is_none():
    broken = FIELD | {"P3": (900, 401)}
    rules = RuleSet(tie_breaks=(TieBreak.WORST_ITEM,))

    assert not words(day(broken, rules=rules)).ties


def test_a_tie_beyond_the_tie_breaks_says_so():
    (tie,) = words(day(FIELD, rules=RuleSet(tie_breaks=(TieBreak.WORST_ITEM,)))).ties

    assert "equal in total and in all that the rule set breaks ties by" in tie


def test_pairs_without_a_scored_answer_share_nothing():
    nothing = dict.fromkeys(FIELD, (None, None))

    assert tie_sentences(results(day(nothing))) == ()


def test_many_pairs_on_one_place_are_counted():
    many = {f"P{i}": (950, 390) for i in range(9)}

    (tie,) = tie_sentences(results(day(many)))
    assert tie.startswith("First place is shared by 9 pairs:")


def test_the_headline_states_its_conditions():
    said = words(day(FIELD))

    assert said.headline.startswith("If every key and cup is as certain as stated, and every")
    assert said.headline.endswith(f"the first three places stay the same in {said.share}.")
    assert any("400 draws" in line and "seed 3" in line for line in said.details)


@pytest.mark.parametrize(
    ("codes", "podium"),
    [(("P1",), "first place stays"), (("P1", "P4"), "the first two places stay")],
)
def test_a_small_field_has_a_small_podium(codes, podium):
    said = words(day({code: FIELD[code] for code in codes}))

    assert podium in said.headline


@pytest.mark.parametrize("share", [0.0, 0.004, 0.5, 0.991, 1.0])
def test_never_surer_than_the_draws(share):
    assert draws_text(share) not in {"100 of 100 draws", "0 of 100 draws"}


def doubted():
    """A jar whose key is somebody's word: nobody knows how sure it is."""
    decision = KeyDecision("C1", Decimal(1300), "lead", "from the notes")
    return day(FIELD, key_decisions=(decision,))


def test_nothing_is_said_of_how_sure_while_a_key_is_in_doubt():
    said = words(doubted())

    assert said.doubts
    assert said.share == ""
    assert said.headline == ("How sure the places are cannot be said: the key of C1 may be wrong.")
    assert not any("draws" in line or "trusted" in line for line in said.sentences)


def test_a_doubt_closed_with_a_reason_gives_the_headline_back():
    event = doubted()
    closings = tuple(
        Closing(point.id, "lead", "counted again") for point in key_doubts(results(event))
    )

    said = words(replace(event, closings=closings))

    assert not said.doubts
    assert said.share


def test_a_flagged_key_withholds_the_headline():
    # Ten pairs whose middle is three times the stated key.
    field = {f"P{i}": (3000 + 40 * i, 380 + i) for i in range(10)}

    said = words(day(field))

    assert [point.item for point in said.doubts] == ["C1"]
    assert said.share == ""


def test_the_act_that_helps_is_named_and_noise_is_not():
    found = results(day(FIELD))
    sure = rank_confidence(found, seed=3, n_draws=400)
    clear = RemeasureGain("C2", 0.062, is_clear=True)
    noise = RemeasureGain("C2", 0.002, is_clear=False)

    helped = standing_words(found, replace(sure, remeasure_first=(clear,)))
    idle = standing_words(found, replace(sure, remeasure_first=(noise,)))

    assert "measure C2 again: it could keep the order in up to 6 more of 100" in helped.details[-1]
    assert "would not make the order more certain" in idle.details[-1]


@pytest.mark.parametrize(
    ("status", "state", "shown"),
    [
        (AnswerStatus.BLANK, AnswerState.AGREED, "blank, 0"),
        (AnswerStatus.ILLEGIBLE, AnswerState.AGREED, "unreadable, 0"),
        (AnswerStatus.BLANK, AnswerState.CONFLICT, "differs, 0"),
        (AnswerStatus.BLANK, AnswerState.MISSING, "not typed, 0"),
        (AnswerStatus.ANSWERED, AnswerState.AGREED, "not scored, 0"),
    ],
)
def test_what_counts_without_a_number_is_named_with_its_points(status, state, shown):
    score = ItemScore("C1", None, Fraction(0), Fraction(0), state, status)

    assert score_text(score, 2) == shown


def test_a_blank_shows_the_points_of_its_rule_set():
    event = day(FIELD | {"P5": (700, None)}, rules=RuleSet(blank_score=Fraction(5)))
    (line,) = [p for p in results(event).pairs if p.pair.code == "P5"]

    assert [score_text(score, 1) for score in line.items][1] == "blank, 5"


def test_the_margin_of_the_podium_is_that_of_the_totals():
    found = results(day(FIELD))
    by_code = {line.pair.code: line for line in found.pairs}
    difference, trust = margin_sentences(found)

    # P3 shares second place; P4 is fourth.
    apart = float(by_code["P3"].total - by_code["P4"].total)
    assert f"P3 is {apart:.2f} points ahead of P4" in difference
    assert "Between second place and fourth place" in difference
    c1, c2 = (
        float(ours.weighted - theirs.weighted)
        for ours, theirs in zip(by_code["P3"].items, by_code["P4"].items, strict=True)
    )
    assert f"{'C2' if c2 > c1 else 'C1'} decides most ({max(c1, c2):.2f} points" in difference
    assert explain_margin(found, "P3", "P4").trustworthy
    assert trust.startswith("This difference can be trusted")


def test_a_margin_below_two_standard_uncertainties_cannot_be_trusted():
    close = FIELD | {"P4": (1062, 412), "P3": (948, 391), "P2": (952, 392)}
    found = results(day(close))
    margin = explain_margin(found, found.pairs[2].pair.code, found.pairs[3].pair.code)

    _, trust = margin_sentences(found)

    assert margin.points < 2 * margin.u
    assert trust.startswith("This difference cannot be trusted")


def test_an_answer_at_the_key_makes_the_slope_useless_and_it_says_so():
    at_key = FIELD | {"P4": (1004, 300), "P3": (950, 392)}
    found = results(day(at_key))

    assert "only the draws do" in " ".join(margin_sentences(found))


def test_nobody_behind_the_podium_nothing_decides():
    assert margin_sentences(results(day({"P1": FIELD["P1"], "P2": FIELD["P2"]}))) == ()


def test_behind_the_podium_ties_can_be_left_out():
    far = {f"P{i}": (1000 - 20 * i, 401) for i in range(4)} | {"P8": (700, 300), "P9": (700, 300)}
    found = results(day(far))

    assert len(tie_sentences(found)) == 1
    assert tie_sentences(found, last_place=3) == ()
