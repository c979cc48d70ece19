"""The one list of open points: what may change a result, as facts.

Every page, paper and command that says what is open reads this list.  A point leaves it when what
it is about is put right; when the lead closes it with a reason it stays in sight as closed.  The
id of a point holds the values it is about: a changed value is another point, and open again.
"""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from typing import Final

from nearmark.contest.answers import AcceptedAnswer, AnswerState
from nearmark.contest.cup_tares import CupTares, OddBatch, OddTare
from nearmark.contest.division_gaps import AnswersNotAsked, PairsWithoutDivision, division_gaps
from nearmark.contest.doubts import Doubt, DoubtKind, doubts
from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    AuditReading,
    Closing,
    Event,
)
from nearmark.contest.key_check import KeyCheck, check_keys
from nearmark.contest.keys import ItemKey
from nearmark.contest.questions import Question
from nearmark.contest.read_event import ReadEvent


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
    NO_DIVISION = "no division"
    NOT_ASKED = "not asked"


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
class AnswersAsked:
    """Pairs with the same question about the same item."""

    item: str
    pairs: tuple[str, ...]
    question: Question | None  # ``None``: nobody has read the answer


@dataclass(frozen=True, slots=True)
class PaperDiffers:
    """An answer that counts as something else than the paper shows."""

    paper: AuditReading
    counts: AnswerReading | Adjudication | None  # ``None``: nothing was typed


PointFact = (
    PairsWithoutDivision
    | AnswersNotAsked
    | ItemKey
    | KeyCheck
    | Doubt
    | OddTare
    | OddBatch
    | AnswersAsked
    | PaperDiffers
)


@dataclass(frozen=True, slots=True)
class OpenPoint:
    """One thing that may change the result."""

    id: str  # kind, subject and values
    kind: PointKind
    fact: PointFact  # what is wrong
    # Codes of what it is about; empty when it is about none, or about several.
    item: str = ""
    pair: str = ""
    cup: str = ""
    can_close: bool = True  # whether the lead may accept it with a reason
    closed: Closing | None = None  # who settled it, and why; ``None`` while it is open
    # Of an audit difference: what the paper shows, as it is typed into a correction.
    shows: str = ""


def open_points(results: ReadEvent) -> tuple[OpenPoint, ...]:
    """Everything that is open or was closed: keys, doubts, answers, sheets that were read again.

    Keys first, then kit and cups, then pairs, divisions and answers, then the audit; each id once.

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
        *_division_points(event),
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
        kind, code, decision = _kind_of_key(key), key.item.code, key.decision
        if kind is None or (kind is PointKind.KEY_BY_WORD and code in doubted):
            continue
        id_ = f"{kind.value}:{code}" if key.key is None else f"{kind.value}:{code}:{key.key:f}"
        is_settled = kind is PointKind.KEY_NOT_FIT and decision is not None
        closed = Closing(id_, decision.by, decision.reason) if decision and is_settled else None
        yield OpenPoint(id_, kind, key, item=code, closed=closed)


def _kind_of_key(key: ItemKey) -> PointKind | None:
    """What is open about a key; ``None``: nothing."""
    if key.key is None:
        return PointKind.NO_KEY
    if key.is_only_decided:
        return PointKind.KEY_BY_WORD
    unfit = not key.fit and key.assigned is not None
    return PointKind.KEY_NOT_FIT if key.problems or unfit else None


def _check_points(results: ReadEvent) -> Iterator[OpenPoint]:
    """Keys that the field's own answers speak against."""
    for check in check_keys(results):
        if check.flagged:
            key = results.keys[check.item].key
            id_ = f"{PointKind.KEY_CHECK.value}:{check.item}:{key:f}"
            yield OpenPoint(id_, PointKind.KEY_CHECK, check, item=check.item)


def _doubt_points(event: Event, found: Iterable[Doubt]) -> Iterator[OpenPoint]:
    """What was kept although it looks like a slip; a third person's reason settles an answer."""
    decided = event.decided
    for doubt in found:
        kind = _KIND_OF_DOUBT.get(doubt.kind, PointKind.KIT_DOUBT)
        decision = decided.get((doubt.pair, doubt.item))
        is_settled = kind is PointKind.ANSWER_DOUBT and decision is not None
        yield OpenPoint(
            doubt.id,
            kind,
            doubt,
            doubt.item,
            doubt.pair,
            doubt.cup,
            closed=_closed_by(doubt.id, decision) if decision and is_settled else None,
        )


def _tare_points(event: Event, doubted: set[str]) -> Iterator[OpenPoint]:
    """Cups that are not like their batch, unless they are doubted anyway."""
    for odd in CupTares.of(event).odd_tares():
        id_ = f"{PointKind.CUP_DOUBT.value}:{odd.batch}"
        if isinstance(odd, OddBatch):
            yield OpenPoint(id_, PointKind.CUP_DOUBT, odd)
        elif odd.cup not in doubted:
            yield OpenPoint(f"{id_}:{odd.cup}:{odd.tare_g}", PointKind.CUP_DOUBT, odd, cup=odd.cup)


def _closed_by(point: str, decision: Adjudication) -> Closing | None:
    return Closing(point, decision.clerk, decision.reason) if decision.reason.strip() else None


def _division_points(event: Event) -> Iterator[OpenPoint]:
    """Pairs whose division nobody gave, and answers that count for nothing in their division."""
    for gap in division_gaps(event):
        pair = gap.pairs[0] if len(gap.pairs) == 1 else ""
        if isinstance(gap, PairsWithoutDivision):
            kind = PointKind.NO_DIVISION
            yield OpenPoint(f"{kind.value}:{_digest(gap.pairs)}", kind, gap, pair=pair)
        else:
            kind = PointKind.NOT_ASKED
            id_ = f"{kind.value}:{gap.item}:{_digest([gap.division, *gap.pairs])}"
            yield OpenPoint(id_, kind, gap, item=gap.item, pair=pair)


def _digest(parts: Iterable[str]) -> str:
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:12]


_STATE_KIND: Final = {
    AnswerState.MISSING: PointKind.MISSING,
    AnswerState.CONFLICT: PointKind.CONFLICT,
    AnswerState.SINGLE: PointKind.SINGLE,
    AnswerState.ADJUDICATED: PointKind.DECIDED,
}


def _answer_points(event: Event, answers: Iterable[AcceptedAnswer]) -> Iterator[OpenPoint]:
    """Questions about answers; pairs with the same question about an item are named together."""
    asked: dict[tuple[PointKind, str, Question | None], list[str]] = defaultdict(list)
    for answer in answers:
        kind = _question_kind(answer)
        if kind is not None:
            asked[kind, answer.item, answer.question].append(answer.pair)
    decided = event.decided
    for (kind, item, question), pairs in asked.items():
        id_ = f"{kind.value}:{item}:{_digest([*pairs, repr(question)])}"
        pair = pairs[0] if len(pairs) == 1 else ""
        fact = AnswersAsked(item, tuple(pairs), question)
        point = OpenPoint(id_, kind, fact, item=item, pair=pair)
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


def _audit_points(event: Event) -> Iterator[OpenPoint]:
    """Answers that count as something else than the paper shows."""
    typed_for = event.typed
    for seen in event.audit_readings:
        counts = typed_for.get((seen.pair, seen.item))
        paper, typed = _value_id(seen), _value_id(counts)
        if paper != typed:
            yield OpenPoint(
                f"{PointKind.AUDIT.value}:{seen.pair}:{seen.item}:{paper}:{typed}",
                PointKind.AUDIT,
                PaperDiffers(seen, counts),
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


def plain_value(value: Decimal) -> str:
    """A number in one form for equal numbers.

    >>> plain_value(Decimal("120.0")), plain_value(Decimal(120))
    ('120', '120')

    Parameters
    ----------
    value : unit of the item
    """
    written = f"{value:f}"
    return written.rstrip("0").rstrip(".") if "." in written else written


def _value_id(reading: AnswerReading | Adjudication | AuditReading | None) -> str:
    """What a reading says, as a part of an id: equal for equal numbers in one cup."""
    if reading is None:
        return "not typed"
    if reading.status is not AnswerStatus.ANSWERED or reading.value is None:
        return reading.status.value
    return plain_value(reading.value) + (f" in cup {reading.cup}" if reading.cup else "")
