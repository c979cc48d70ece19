"""An open point in words: what is wrong, what to do, and what it does to the result."""

from collections.abc import Sequence
from functools import singledispatch
from typing import Final

from nearmark.contest.cup_tares import OddBatch, OddTare
from nearmark.contest.division_gaps import AnswersNotAsked, PairsWithoutDivision
from nearmark.contest.doubt import Doubt
from nearmark.contest.event import Adjudication, AnswerReading, AnswerStatus, AuditReading
from nearmark.contest.key_check import KeyCheck
from nearmark.contest.keys import ItemKey
from nearmark.contest.open_points import (
    AnswersAsked,
    OpenPoint,
    PaperDiffers,
    PointFact,
    PointKind,
    plain_value,
)
from nearmark.words.answers import nobody_has_read, question_words, status_name
from nearmark.words.doubts import doubt_question, doubt_words
from nearmark.words.key_advice import advice_words
from nearmark.words.key_check import check_words
from nearmark.words.keys import problem_words, whose_word
from nearmark.words.translation import message, say

MAX_NAMED: Final = 5
"""Pairs with the same question about the same item are named together, up to this many."""

_EFFECTS: Final = {
    PointKind.NO_KEY: message("This item counts for nobody"),
    PointKind.KEY_NOT_FIT: message("Every score on this item rests on this key"),
    PointKind.KEY_BY_WORD: message(
        "The key counts as exact, so the places look more certain than they are"
    ),
    PointKind.KEY_CHECK: message("If the key is wrong, every score on this item is wrong"),
    PointKind.KIT_DOUBT: message("If it is a slip, the key is wrong"),
    PointKind.CUP_DOUBT: message("If it is a slip, the net mass in this cup is wrong"),
    PointKind.ANSWER_DOUBT: message("If it is a slip, this pair has the wrong score"),
    PointKind.ABSENT: message("These answers count for nobody"),
    PointKind.MISSING: message("Counts as a blank"),
    PointKind.SINGLE: message("The one reading counts"),
    PointKind.CONFLICT: message("Counts as a blank"),
    PointKind.NOT_SCORED: message("Counts as a blank"),
    PointKind.DECIDED: message("The decision counts"),
    PointKind.AUDIT: message("What was typed counts, not what the paper shows"),
    PointKind.NO_DIVISION: message("They have no place in a division"),
    PointKind.NOT_ASKED: message("This answer counts for nothing"),
}


def point_effect(point: OpenPoint) -> str:
    """What a point of this kind does to the result while it is open."""
    return say(_EFFECTS[point.kind])


def point_words(point: OpenPoint) -> str:
    """What is wrong, with its place."""
    return _wrong(point.fact)


def point_action(point: OpenPoint) -> str:
    """What to do about it; empty when the words say it."""
    return _action(point.fact)


def point_sentence(point: OpenPoint) -> str:
    """What is wrong and what to do, the same on every page and in the terminal."""
    action = point_action(point)
    return f"{point_words(point)}. {action}" if action else point_words(point)


def closed_sentence(point: OpenPoint) -> str:
    """What was open, who settled it and why; while it is open, the same as ``point_sentence``."""
    if point.closed is None:
        return point_sentence(point)
    return say(
        "{point}. Closed by {person}: {reason}",
        point=point_words(point),
        person=point.closed.by,
        reason=point.closed.reason,
    )


def point_json(point: OpenPoint) -> dict[str, object]:
    """The stable keys of an open point in JSON.

    ``id``, ``kind``, ``words``, ``mend``, ``effect``, ``item``, ``pair``, ``cup``, ``can_close``,
    ``closed`` (``by``, ``reason``, or ``None``).
    """
    closed = point.closed
    return {
        "id": point.id,
        "kind": point.kind.value,
        "words": point_words(point),
        "mend": point_action(point),
        "effect": point_effect(point),
        "item": point.item,
        "pair": point.pair,
        "cup": point.cup,
        "can_close": point.can_close,
        "closed": None if closed is None else {"by": closed.by, "reason": closed.reason},
    }


@singledispatch
def _wrong(fact: PointFact) -> str:
    raise TypeError(type(fact).__name__)


@singledispatch
def _action(_: PointFact) -> str:
    return ""


@_wrong.register
def key_is_open(key: ItemKey) -> str:
    """True of a key that is missing, is somebody's word, has a problem, or is not fit."""
    item = key.item.code
    if key.key is None:
        return say(
            "{item} has no key and is not scored: {problem}", item=item, problem=problem_words(key)
        )
    if key.is_only_decided:
        return say(
            "the key of {item} is {whose_word}. It counts as exact, so the places look more "
            "certain than they are",
            item=item,
            whose_word=whose_word(key),
        )
    if key.problems:
        return say("the key of {item}: {problem}", item=item, problem=problem_words(key))
    return say("the key of {item} is not fit", item=item)


@_action.register
def do_about_key(key: ItemKey) -> str:
    """What the readings themselves advise; a key that is somebody's word is measured."""
    if key.is_only_decided:
        return say("Weigh, count or measure it, or say why it may stay so")
    if key.key is None or key.problems or key.assigned is None:
        return ""
    return ". ".join(map(advice_words, key.assigned.advice))


@_wrong.register
def answers_against_key(check: KeyCheck) -> str:
    """True of a key that the field's own answers speak against."""
    return say("{item}: the answers speak against this key", item=check.item)


@_action.register
def do_about_check(check: KeyCheck) -> str:
    """The finding of the key check."""
    return check_words(check)


@_wrong.register
def looks_like_slip(doubt: Doubt) -> str:
    """True of a reading that was kept although it looks like a slip."""
    return doubt_words(doubt)


@_action.register
def do_about_doubt(doubt: Doubt) -> str:
    """The question what it might be."""
    return doubt_question(doubt)


@_wrong.register
def cup_unlike_batch(odd: OddTare) -> str:
    """True of a cup whose tare is not like the others of its batch."""
    return say(
        "cup {cup}: {tare} g is not like batch {batch}, mean {mean} g",
        cup=odd.cup,
        tare=odd.tare_g,
        batch=odd.batch,
        mean=f"{odd.mean_g:.4g}",
    )


@_wrong.register
def batch_without_mean(odd: OddBatch) -> str:
    """True of a batch whose tares bear no mean; the refusal says why."""
    return say("tares of batch {batch}: {refusal}", batch=odd.batch, refusal=odd.refusal)


@_action.register(OddTare)
@_action.register(OddBatch)
def do_about_cup(_: OddTare | OddBatch) -> str:
    """What to do with a cup that is not like its batch."""
    return say("Weigh it empty again")


@_wrong.register
def answers_asked(asked: AnswersAsked) -> str:
    """True of the answers of these pairs on one item."""
    return say(
        "{item}, {pairs}: {question}",
        item=asked.item,
        pairs=_named(asked.pairs),
        question=question_words(asked.question) if asked.question else nobody_has_read(),
    )


@_wrong.register
def without_division(found: PairsWithoutDivision) -> str:
    """True of pairs that compete in an event with divisions and are in none."""
    return say("{pairs}: in no division", pairs=_named(found.pairs))


def _named(pairs: Sequence[str]) -> str:
    """The first of some pairs, and how many more there are."""
    named = ", ".join(pairs[:MAX_NAMED])
    more = len(pairs) - MAX_NAMED
    return say("{pairs} and {n} more", pairs=named, n=more) if more > 0 else named


@_action.register
def do_about_division(_: PairsWithoutDivision) -> str:
    """What to do about pairs without a division."""
    return say("Choose the division of each pair")


@_wrong.register
def answers_not_asked(found: AnswersNotAsked) -> str:
    """True of answers on an item that the division of these pairs does not estimate."""
    pairs = _named(found.pairs)
    if not found.division:
        return say(
            "{item}, {pairs}: answered, but only pairs of a division estimate it",
            item=found.item,
            pairs=pairs,
        )
    return say(
        "{item}, {pairs}: answered, but {division} does not estimate it",
        item=found.item,
        pairs=pairs,
        division=found.division,
    )


@_action.register
def do_about_not_asked(_: AnswersNotAsked) -> str:
    """What to do about answers that their division does not estimate."""
    return say("Look whether the division or the code on the sheet is wrong")


@_wrong.register
def paper_differs(seen: PaperDiffers) -> str:
    """True of an answer that counts as another one than the paper shows."""
    return say(
        "{pair}, {item}: the paper shows {paper}, what counts is {counts}",
        pair=seen.paper.pair,
        item=seen.paper.item,
        paper=reading_words(seen.paper),
        counts=reading_words(seen.counts),
    )


@_action.register
def do_about_paper(_: PaperDiffers) -> str:
    """What to do where the paper differs from what counts."""
    return say("Put it right, or say why it stays")


def reading_words(reading: AnswerReading | Adjudication | AuditReading | None) -> str:
    """What a reading says, in one form for equal numbers.

    >>> from decimal import Decimal
    >>> reading_words(AuditReading("P1", "C1", "Ash", AnswerStatus.ANSWERED, Decimal("120.0")))
    '120'
    """
    if reading is None:
        return say("not typed")
    if reading.status is not AnswerStatus.ANSWERED or reading.value is None:
        return status_name(reading.status)
    value = plain_value(reading.value)
    return say("{value} in cup {cup}", value=value, cup=reading.cup) if reading.cup else value
