"""What is wrong with a key, whether it may be used, and whose word it is."""

from functools import singledispatch
from typing import Final

from nearmark.contest.event import KeyDecision
from nearmark.contest.keys import ItemKey
from nearmark.contest.measured import (
    KeyNotAboveZero,
    KeyProblem,
    Method,
    NothingMeasured,
    ReadingsRefused,
    TargetIsFixed,
)
from nearmark.words.key_advice import outlook_words
from nearmark.words.translation import message, say


def problem_words(key: ItemKey) -> str:
    """All that is wrong with a key, or missing; empty when nothing is.  It follows its place."""
    problems = "; ".join(map(_problem, key.problems))
    outlook = outlook_words(key.outlook) if key.outlook else ""
    return " ".join(filter(None, (problems, outlook)))


@singledispatch
def _problem(problem: KeyProblem) -> str:
    raise TypeError(type(problem).__name__)


@_problem.register
def nothing_measured(_: NothingMeasured) -> str:
    """True of a container of which no sample was weighed and nothing was counted."""
    return say(
        "no count can be made yet: weigh counted samples and the container, or count all pieces "
        "by hand"
    )


_REFUSED: Final = {
    Method.WEIGHING: message("count by weighing: {refusal}"),
    Method.HAND: message("count by hand: {refusal}"),
}


@_problem.register
def readings_refused(problem: ReadingsRefused) -> str:
    """True of readings that bear no value; the refusal, in the words of the error, says why."""
    if problem.method not in _REFUSED:
        return problem.refusal
    return say(_REFUSED[problem.method], refusal=problem.refusal)


@_problem.register
def key_not_above_zero(problem: KeyNotAboveZero) -> str:
    """True of a key of zero or less."""
    return say("a key of {key} cannot be scored against: it must be above zero", key=problem.key)


@_problem.register
def target_is_fixed(problem: TargetIsFixed) -> str:
    """True of a decision about an item whose target mass is exact."""
    return say(
        "{person} decided a key of {value}, but the target mass is set by the rule set: change it "
        "there",
        person=problem.by,
        value=problem.value,
    )


def whose_word(key: ItemKey) -> str:
    """Whose word a key is, and what the readings say instead; empty when they bear it.

    >>> from decimal import Decimal
    >>> from nearmark.contest.event import Item
    >>> from nearmark.station import Station
    >>> decided = KeyDecision("C1", Decimal(400), "Ana", "counted at the shop")
    >>> jar = Item("C1", Station.COUNT, "jar")
    >>> whose_word(ItemKey(jar, None, Decimal(400), 0, 9, fit=False, decision=decided))
    "Ana's word: no reading bears it"
    """
    if key.decision is None or not key.is_only_decided:
        return ""
    if key.assigned is None:
        return say("{person}'s word: no reading bears it", person=key.decision.by)
    return say(
        "{person}'s word: the readings give {value}",
        person=key.decision.by,
        value=f"{key.assigned.key:f}",
    )


def counts_as_exact(key: ItemKey) -> str:
    """True of a key that is somebody's word: nobody knows how sure it is."""
    return say("It is {whose_word}. It counts as exact.", whose_word=whose_word(key))


def status_words(key: ItemKey) -> str:
    """Whether a key may be scored against, in a word or two."""
    if key.key is None:
        return say("no key yet")
    if key.is_only_decided:
        return say("by decision")
    if key.fit:
        return say("set by rule") if key.borne_by is None else say("fit")
    return say("not fit") if key.decision is None else say("used by decision")


def status_and_person(key: ItemKey) -> str:
    """The same with the person who decided, if the key needed a decision."""
    if key.decision is None or key.key is None or key.fit:
        return status_words(key)
    return say("{status} of {person}", status=status_words(key), person=key.decision.by)


def decision_words(decision: KeyDecision, value: str = "") -> str:
    """True of a key that the lead has decided about; the value as it is written where it is read.

    >>> decision_words(KeyDecision("C1", None, "lead Juniper", "jar sealed"))
    'Used as it is by decision of lead Juniper: jar sealed.'
    """
    reason = decision.reason.rstrip(".")
    if decision.value is None:
        return say(
            "Used as it is by decision of {person}: {reason}.", person=decision.by, reason=reason
        )
    return say(
        "Scored against {value} by decision of {person}: {reason}.",
        value=value,
        person=decision.by,
        reason=reason,
    )
