"""The one list of open points: what may change a result, in words, each with what to do.

Every page, paper and command that says what is open reads this list.  A point leaves it when what
it is about is put right; when the lead closes it with a reason it stays in sight as closed.  The
id of a point holds the values it is about: a changed value is another point, and open again.
"""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from nearmark.contest.answers import AcceptedAnswer, AnswerState
from nearmark.contest.cup_tares import CupTares
from nearmark.contest.doubts import Doubt, DoubtKind, doubts
from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    AuditReading,
    Closing,
    Event,
)
from nearmark.contest.key_check import check_keys
from nearmark.contest.keys import ItemKey
from nearmark.contest.read_event import ReadEvent

__all__ = ["Closing", "OpenPoint", "PointKind", "open_points"]

MAX_NAMED: Final = 5
"""Pairs with the same question about the same item are named together, up to this many."""


class PointKind(StrEnum):
    """What an open point is about."""

    NO_KEY = "no key"
    KEY_NOT_FIT = "key not fit"
    KEY_BY_WORD = "key by word"
    KEY_CHECK = "key check"
    KIT_DOUBT = "kit doubt"
    CUP_DOUBT = "cup doubt"
    ANSWER_DOUBT = "answer doubt"
    ABSENT = "absent"
    MISSING = "missing"
    SINGLE = "read once"
    CONFLICT = "conflict"
    NOT_SCORED = "not scored"
    DECIDED = "decided"
    AUDIT = "audit"


EFFECTS: Final = {
    PointKind.NO_KEY: "This item counts for nobody",
    PointKind.KEY_NOT_FIT: "Every score on this item rests on this key",
    PointKind.KEY_BY_WORD: "The key counts as exact, so the places look surer than they are",
    PointKind.KEY_CHECK: "If the key is wrong, every score on this item is wrong",
    PointKind.KIT_DOUBT: "If it is a slip, the key is wrong",
    PointKind.CUP_DOUBT: "If it is a slip, the net mass in this cup is wrong",
    PointKind.ANSWER_DOUBT: "If it is a slip, this pair has the wrong score",
    PointKind.ABSENT: "These answers count for nobody",
    PointKind.MISSING: "Counts as a blank",
    PointKind.SINGLE: "The one reading counts",
    PointKind.CONFLICT: "Counts as a blank",
    PointKind.NOT_SCORED: "Counts as a blank",
    PointKind.DECIDED: "The decision counts",
    PointKind.AUDIT: "What was typed counts, not what the paper shows",
}
"""What each kind does to the result while it is open."""

NOT_CLOSABLE: Final = frozenset(
    {PointKind.NO_KEY, PointKind.MISSING, PointKind.CONFLICT, PointKind.NOT_SCORED}
)
"""Nothing could be accepted here: there is no number yet."""

_KIND_OF_DOUBT: Final = {
    DoubtKind.CUP: PointKind.CUP_DOUBT,
    DoubtKind.ANSWER: PointKind.ANSWER_DOUBT,
    DoubtKind.WEIGHING: PointKind.ANSWER_DOUBT,
    DoubtKind.CUP_TWICE: PointKind.ANSWER_DOUBT,
    DoubtKind.ABSENT: PointKind.ABSENT,
}
"""All other doubts are about the kit."""


@dataclass(frozen=True, slots=True)
class OpenPoint:
    """One thing that may change the result.

    Attributes
    ----------
    id : str
        Kind, subject and values.
    kind : PointKind
    words : str
        What is wrong, with its place.
    mend : str
        What to do about it; may be empty when the words say it.
    item, pair, cup : str
        Codes of what it is about; empty when it is about none, or about several.
    can_close : bool
        Whether the lead may accept it with a reason.
    closed : Closing or None
        Who settled it, and why; ``None`` while it is open.
    shows : str
        Of an audit difference: what the paper shows, as it is typed into a correction.
    """

    id: str
    kind: PointKind
    words: str
    mend: str = ""
    item: str = ""
    pair: str = ""
    cup: str = ""
    can_close: bool = True
    closed: Closing | None = None
    shows: str = ""

    @property
    def sentence(self) -> str:
        """Words and mend in one, the same on every page and in the terminal."""
        return f"{self.words}. {self.mend}" if self.mend else self.words

    @property
    def closed_sentence(self) -> str:
        """What was open, who settled it and why."""
        if self.closed is None:
            return self.sentence
        return f"{self.words}. Closed by {self.closed.by}: {self.closed.reason}"

    @property
    def effect(self) -> str:
        """What it does to the result while it is open."""
        return EFFECTS[self.kind]

    def as_json(self) -> dict[str, object]:
        """The stable keys that ``--json`` prints.

        Returns
        -------
        dict
            ``id``, ``kind``, ``words``, ``mend``, ``effect``, ``item``, ``pair``, ``cup``,
            ``can_close``, ``closed`` (``by``, ``reason``, or ``None``).
        """
        closed = self.closed
        return {
            "id": self.id,
            "kind": self.kind.value,
            "words": self.words,
            "mend": self.mend,
            "effect": self.effect,
            "item": self.item,
            "pair": self.pair,
            "cup": self.cup,
            "can_close": self.can_close,
            "closed": None if closed is None else {"by": closed.by, "reason": closed.reason},
        }


def open_points(results: ReadEvent) -> tuple[OpenPoint, ...]:
    """Everything that is open or was closed: keys, doubts, answers, sheets that were read again.

    Parameters
    ----------
    results : ReadEvent
        Such as ``Results``.

    Returns
    -------
    tuple of OpenPoint
        Keys first, then kit and cups, then pairs and answers, then the audit; each id once.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.contest.results import results
    >>> open_points(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    ()
    """
    event = results.event
    closings = {closing.point: closing for closing in event.closings}
    found = doubts(event)
    points = [
        *_key_points(results, {d.item for d in found if d.kind is DoubtKind.KEY}),
        *_check_points(results),
        *_doubt_points(event, found),
        *_tare_points(event, {d.cup for d in found if d.kind is DoubtKind.CUP}),
        *_answer_points(event, results.answers.values()),
        *_audit_points(event),
    ]
    by_id = {point.id: _with_closing(point, closings) for point in points}
    return tuple(by_id.values())


def _with_closing(point: OpenPoint, closings: dict[str, Closing]) -> OpenPoint:
    can_close = point.kind not in NOT_CLOSABLE
    closing = point.closed or (closings.get(point.id) if can_close else None)
    return replace(point, can_close=can_close, closed=closing)


def _key_points(results: ReadEvent, doubted: set[str]) -> Iterator[OpenPoint]:
    """A problem that the lead has decided about is settled; a key that is missing never is."""
    for key in results.keys.values():
        point = _key_point(key)
        if point is None or (point.kind is PointKind.KEY_BY_WORD and key.item.code in doubted):
            continue
        yield point


def _key_point(key: ItemKey) -> OpenPoint | None:
    code, decision = key.item.code, key.decision

    def point(kind: PointKind, words: str, mend: str = "") -> OpenPoint:
        value = "" if key.key is None else f":{key.key:f}"
        id_ = f"{kind.value}:{code}{value}"
        return OpenPoint(id_, kind, words, mend, item=code)

    if key.key is None:
        return point(PointKind.NO_KEY, f"{code} has no key and is not scored: {key.problem}")
    if key.rests_on_a_word:
        return point(
            PointKind.KEY_BY_WORD,
            f"the key of {code} is {key.whose_word}. It counts as exact, so the confidence in the "
            "places is too good by what nobody knows",
            "Weigh, count or measure it, or say why it may stay so",
        )
    unfit = None
    if key.problem:
        unfit = point(PointKind.KEY_NOT_FIT, f"the key of {code}: {key.problem}")
    elif not key.fit and key.assigned is not None:
        mend = ". ".join(key.assigned.advice)
        unfit = point(PointKind.KEY_NOT_FIT, f"the key of {code} is not fit", mend)
    if unfit is None or decision is None:
        return unfit
    return replace(unfit, closed=Closing(unfit.id, decision.by, decision.reason))


def _check_points(results: ReadEvent) -> Iterator[OpenPoint]:
    """Keys that the field's own answers speak against."""
    for check in check_keys(results):
        if check.flagged:
            key = results.keys[check.item].key
            id_ = f"{PointKind.KEY_CHECK.value}:{check.item}:{key:f}"
            words = f"{check.item}: the answers speak against this key"
            yield OpenPoint(id_, PointKind.KEY_CHECK, words, check.words, item=check.item)


def _doubt_points(event: Event, found: Iterable[Doubt]) -> Iterator[OpenPoint]:
    """What was kept although it looks like a slip; a third person's reason settles an answer."""
    decided = {(a.pair, a.item): a for a in event.adjudications}
    for doubt in found:
        kind = _KIND_OF_DOUBT.get(doubt.kind, PointKind.KIT_DOUBT)
        decision = decided.get((doubt.pair, doubt.item))
        is_settled = kind is PointKind.ANSWER_DOUBT and decision is not None
        yield OpenPoint(
            doubt.id,
            kind,
            doubt.told,
            doubt.ask,
            doubt.item,
            doubt.pair,
            doubt.cup,
            closed=_closed_by(doubt.id, decision) if decision and is_settled else None,
        )


def _tare_points(event: Event, doubted: set[str]) -> Iterator[OpenPoint]:
    """Cups that are not like their batch, unless they are doubted anyway."""
    for cup, words in CupTares.of(event).odd_cups():
        if not cup or cup not in doubted:
            id_ = f"{PointKind.CUP_DOUBT.value}:{words}"
            yield OpenPoint(id_, PointKind.CUP_DOUBT, words, "Weigh it empty again", cup=cup)


def _closed_by(point: str, decision: Adjudication) -> Closing | None:
    return Closing(point, decision.clerk, decision.reason) if decision.reason.strip() else None


_STATE_KIND: Final = {
    AnswerState.MISSING: PointKind.MISSING,
    AnswerState.CONFLICT: PointKind.CONFLICT,
    AnswerState.SINGLE: PointKind.SINGLE,
    AnswerState.ADJUDICATED: PointKind.DECIDED,
}


def _answer_points(event: Event, answers: Iterable[AcceptedAnswer]) -> Iterator[OpenPoint]:
    """Questions about answers; pairs with the same question about an item are named together."""
    asked: dict[tuple[PointKind, str, str], list[str]] = defaultdict(list)
    for answer in answers:
        kind = _question_kind(answer)
        if kind is not None:
            question = answer.question or "nobody has read the answer"
            asked[kind, answer.item, question].append(answer.pair)
    decided = {(a.pair, a.item): a for a in event.adjudications}
    for (kind, item, question), pairs in asked.items():
        named, more = ", ".join(pairs[:MAX_NAMED]), len(pairs) - MAX_NAMED
        words = f"{item}, {named}{f' and {more} more' if more > 0 else ''}: {question}"
        id_ = f"{kind.value}:{item}:{_digest(*pairs, question)}"
        pair = pairs[0] if len(pairs) == 1 else ""
        point = OpenPoint(id_, kind, words, item=item, pair=pair)
        if kind is PointKind.DECIDED:
            point = replace(point, closed=_closed_by(id_, decided[pairs[0], item]))
        yield point


def _question_kind(answer: AcceptedAnswer) -> PointKind | None:
    is_lost = answer.status is AnswerStatus.ANSWERED and answer.estimate is None
    if is_lost and answer.question:
        return PointKind.NOT_SCORED
    if answer.question or answer.state is AnswerState.MISSING:
        return _STATE_KIND.get(answer.state, PointKind.ANSWER_DOUBT)
    return None


def _digest(*parts: str) -> str:
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:12]


def _audit_points(event: Event) -> Iterator[OpenPoint]:
    """Answers that count as something else than the paper shows."""
    counted = _counted(event)
    for seen in event.audit_readings:
        at = seen.pair, seen.item
        paper, typed = written(seen), written(counted.get(at))
        if paper != typed:
            yield OpenPoint(
                f"{PointKind.AUDIT.value}:{seen.pair}:{seen.item}:{paper}:{typed}",
                PointKind.AUDIT,
                f"{seen.pair}, {seen.item}: the paper shows {paper}, what counts is {typed}",
                "Put it right, or say why it stays",
                seen.item,
                seen.pair,
                seen.cup,
                shows=_as_typed(seen),
            )


def _as_typed(seen: AuditReading) -> str:
    """A number, ``b`` for a blank, ``?`` for what nobody can read."""
    if seen.status is AnswerStatus.ANSWERED and seen.value is not None:
        return f"{seen.value:f}"
    return "b" if seen.status is AnswerStatus.BLANK else "?"


def _counted(event: Event) -> dict[tuple[str, str], AnswerReading | Adjudication]:
    """What was typed for each answer: the first reading, or the decision where there is one."""
    counted: dict[tuple[str, str], AnswerReading | Adjudication] = {}
    for answer in event.answers:
        counted.setdefault((answer.pair, answer.item), answer)
    counted.update({(a.pair, a.item): a for a in event.adjudications})
    return counted


def written(reading: AnswerReading | Adjudication | AuditReading | None) -> str:
    """What a reading says, in one form for equal numbers; ``not typed`` for none.

    Parameters
    ----------
    reading : AnswerReading, Adjudication, AuditReading or None

    Examples
    --------
    >>> from decimal import Decimal
    >>> written(AuditReading("P1", "C1", "Ash", AnswerStatus.ANSWERED, Decimal("120.0")))
    '120'
    """
    if reading is None:
        return "not typed"
    if reading.status is not AnswerStatus.ANSWERED or reading.value is None:
        return reading.status.value
    value = f"{reading.value:f}"
    plain = value.rstrip("0").rstrip(".") if "." in value else value
    return f"{plain} in cup {reading.cup}" if reading.cup else plain
