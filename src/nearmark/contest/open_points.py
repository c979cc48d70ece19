"""What has to be settled before a result is final, in words, each with what to do."""

from collections import defaultdict
from collections.abc import Iterable, Mapping

from nearmark.contest.answers import AcceptedAnswer, AnswerState
from nearmark.contest.cup_tares import CupTares
from nearmark.contest.event import Event, PairStatus
from nearmark.contest.keys import ItemKey

MOST_NAMED = 5
"""Pairs with the same question about the same item are named together, up to this many."""


def open_points(
    event: Event,
    keys: Mapping[str, ItemKey],
    answers: Mapping[tuple[str, str], AcceptedAnswer],
) -> tuple[str, ...]:
    """Everything that is still open: keys, cups, pairs, answers.

    Parameters
    ----------
    event : Event
    keys : mapping item code -> ItemKey
    answers : mapping (pair, item) -> AcceptedAnswer

    Returns
    -------
    tuple of str
        Empty when the result is final.

    Examples
    --------
    >>> from datetime import date
    >>> open_points(Event("Larkspur Valley Estimation Day", date(2027, 5, 8)), {}, {})
    ()
    """
    return (
        *(point for key in keys.values() for point in _key_points(key)),
        *CupTares.of(event).odd_cups(),
        *_absent_points(event),
        *_answer_points(answers.values()),
    )


def _key_points(key: ItemKey) -> Iterable[str]:
    """A problem that the lead has decided about is settled; a key that is missing never is."""
    code = key.item.code
    if key.key is None:
        yield f"{code} has no key and is not scored: {key.problem}"
    elif key.decision is not None:
        yield from _decided_points(key)
    elif key.problem:
        yield f"the key of {code}: {key.problem}"
    elif not key.fit and key.assigned is not None:
        yield f"the key of {code} is not fit. {'; '.join(key.assigned.advice)}".rstrip()


def _decided_points(key: ItemKey) -> Iterable[str]:
    """A decision settles what the readings leave open; a key out of nothing stays in sight."""
    if key.rests_on_a_word:
        yield (
            f"the key of {key.item.code} is {key.whose_word}. It counts as exact, so the "
            "confidence in the places is too good by what nobody knows. "
            "Weigh, count or measure it, or say so when you release"
        )


def _absent_points(event: Event) -> Iterable[str]:
    """An answer of a pair that did not come belongs to somebody else, or the pair did come."""
    came = {a.pair for a in event.answers} | {a.pair for a in event.adjudications}
    for pair in event.pairs:
        if pair.status is PairStatus.ABSENT and pair.code in came:
            yield f"{pair.code} is absent but has answers: were they another pair's?"


def _answer_points(answers: Iterable[AcceptedAnswer]) -> Iterable[str]:
    asked: dict[tuple[str, str], list[str]] = defaultdict(list)
    for answer in answers:
        is_missing = answer.state is AnswerState.MISSING
        question = "nobody has read the answer" if is_missing else answer.question
        if question:
            asked[answer.item, question].append(answer.pair)
    for (item, question), pairs in asked.items():
        named, more = ", ".join(pairs[:MOST_NAMED]), len(pairs) - MOST_NAMED
        yield f"{item}, {named}{f' and {more} more' if more > 0 else ''}: {question}"
