"""Reading the sheets: two blind readings by different people, a third where they differ.

A reading carries a key made by the browser.  The same key with the same content is answered as
the first time, so that a post repeated after a lost link is counted once.
"""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

from django.db.models import Q

from nearmark.contest.division import is_asked
from nearmark.contest.event import AnswerStatus
from nearmark.errors import InputError, NearmarkError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import together, writing
from nearmark.site.event.answer_models import AdjudicationEntry, AnswerEntry
from nearmark.site.event.current import open_event, open_for_change
from nearmark.site.event.history import note
from nearmark.site.event.models import ItemRecord, PairRecord
from nearmark.site.event.reasons import need_reason, strike
from nearmark.site.event.snapshot import snapshot_now
from nearmark.station import Station
from nearmark.words.desk import is_for_divisions
from nearmark.words.numbers import both


@dataclass(frozen=True, slots=True)
class PaperAnswer:
    """What is on the paper, or on the display of the scale."""

    status: AnswerStatus
    # Gross mass in g at the mass station (unit of the station, or None).
    value: Decimal | None = None
    cup: str = ""  # number of the cup; at the mass station only
    scale: str = ""  # name of the scale; empty: the one that weighed the empty cup

    def __str__(self) -> str:
        shown = self.status.value if self.value is None else f"{self.value:f}"
        return f"{shown} in cup {self.cup}" if self.cup else shown


@dataclass(frozen=True, slots=True)
class SubmittedReading:
    """One reading, as somebody sends it."""

    key: uuid.UUID  # made by the browser, once a reading
    # Codes.
    pair: str
    item: str
    written: PaperAnswer
    by: str  # who read it


def record_answer(
    key: uuid.UUID, pair: str, item: str, written: PaperAnswer, *, by: str
) -> AnswerEntry:
    """Keep one reading; whether it is the first or the second is found here.

    ``key``: made by the browser, once a reading. ``pair``, ``item``: codes. ``by``: who read it.
    Returns: the one kept before when the key was seen already. Raises RuleError if this person has
    read this answer already, or two people have.
    """
    (outcome,) = record_answers([SubmittedReading(key, pair, item, written, by)])
    if isinstance(outcome, NearmarkError):
        raise outcome
    return outcome


def record_answers(reads: Sequence[SubmittedReading]) -> list[AnswerEntry | NearmarkError]:
    """Keep several readings, each by itself: what is on disk now, or why it was refused."""
    return together([partial(_record, read) for read in reads])


def _record(read: SubmittedReading) -> AnswerEntry:
    desk = snapshot_now()
    pair_id, item_id = desk.pair_ids.get(read.pair, 0), desk.item_ids.get(read.item, 0)
    # Before anything else: what was saved and not heard of is answered as saved, even if the
    # results have come out since.
    before = AnswerEntry.objects.filter(key=read.key).first()
    if before is not None:
        return _same(before, read, (pair_id, item_id))
    open_for_change(desk.record)
    if not pair_id or not item_id:
        raise _unknown("item", read.item) if pair_id else _unknown("pair", read.pair)
    _check_asked(desk.items[item_id], desk.pairs[pair_id])
    check_cup(desk.items[item_id].station, read.written, has_tare=read.written.cup in desk.cups)
    return AnswerEntry.objects.create(
        key=read.key,
        pair_id=pair_id,
        item_id=item_id,
        reading=_free_reading(pair_id, item_id, read),
        clerk=read.by,
        status=read.written.status.value,
        value=read.written.value,
        cup=read.written.cup,
        scale=read.written.scale,
        at=clock.now(),
    )


def _same(before: AnswerEntry, read: SubmittedReading, at: tuple[int, int]) -> AnswerEntry:
    written = PaperAnswer(AnswerStatus(before.status), before.value, before.cup, before.scale)
    kept = (before.pair_id, before.item_id, written, before.clerk)
    if kept != (*at, read.written, read.by):
        raise RuleError(
            "another reading was sent under the same key", mend="Load the page again, then type it"
        )
    return before


def _free_reading(pair_id: int, item_id: int, read: SubmittedReading) -> int:
    where = f"{read.pair}, {read.item}"
    made = AnswerEntry.objects.filter(pair=pair_id, item=item_id, struck_at=None)
    clerks = dict(made.values_list("reading", "clerk"))
    if read.by in clerks.values():
        raise RuleError(
            "you have read this answer already", where=where, mend="A second person reads it again"
        )
    free = [number for number in (1, 2) if number not in clerks]
    if not free:
        raise RuleError("two people have read this answer already", where=where)
    return free[0]


def take_back(key: uuid.UUID, *, by: str) -> str:
    """Strike out a reading of one's own, to read the paper again.

    ``key``: of the reading. One that was taken back before is answered alike. Returns: pair and
    item, such as ``P01, C2``. Raises RuleError if it was read by somebody else, or a third person
    has decided on the answer since.
    """
    with writing():
        entry = AnswerEntry.objects.filter(key=key, clerk=by).select_related("pair", "item").first()
        if entry is None:
            raise RuleError(
                "this is no reading of yours", mend="The person who made it takes it back"
            )
        where = f"{entry.pair.code}, {entry.item.code}"
        if entry.struck_at is not None:
            return where
        event = open_event()
        if AdjudicationEntry.objects.filter(pair=entry.pair, item=entry.item).exists():
            raise RuleError(
                "a third person has decided on this answer",
                where=where,
                mend="The lead puts it right under Corrections",
            )
        why = "taken back by who made it"
        strike(entry, by=by, why=why)
        entry.save()
        old = str(PaperAnswer(AnswerStatus(entry.status), entry.value, entry.cup))
        note(event, by, f"struck out their own reading of {where}", old=old, why=why)
    return where


def adjudicate(pair: str, item: str, written: PaperAnswer, *, by: str, why: str) -> None:
    """Decide as the third person where two readings differ."""
    need_reason(why, "Say what the paper shows")
    with writing():
        event = open_event()
        pair_row = known_row(event.pairs, "pair", "Check the code", code=pair)
        item_row = known_row(event.items, "item", "Check the code", code=item)
        weighed = Q(number=written.cup) | Q(batch=written.cup)
        has_tare = bool(written.cup) and event.cups.filter(weighed).exists()
        check_cup(item_row.station, written, has_tare=has_tare)
        made = AnswerEntry.objects.filter(pair=pair_row, item=item_row, struck_at=None)
        if made.filter(clerk=by).exists():
            raise RuleError(
                "you made one of the two readings", mend="A third person reads the paper"
            )
        if made.count() < 2:
            raise RuleError("there are no two readings to decide between")
        AdjudicationEntry.objects.create(
            pair=pair_row,
            item=item_row,
            clerk=by,
            status=written.status.value,
            value=written.value,
            cup=written.cup,
            reason=why,
            at=clock.now(),
        )
        note(event, by, f"decided {pair}, {item}", new=str(written), why=why)


def _unknown(where: str, code: str) -> InputError:
    return InputError("is not known", where=where, value=code, mend="Check the code")


def _check_asked(item: ItemRecord, pair: PairRecord) -> None:
    if not is_asked(item, pair.division):
        raise RuleError(
            is_for_divisions(item.code, both(item.divisions)),
            where=f"{pair.code}, {item.code}",
            mend="Check the code on the sheet; the lead can change the division of the pair",
        )


def check_cup(station: str, written: PaperAnswer, *, has_tare: bool) -> None:
    """Refuse a weighed answer without a cup that has a tare, and a cup at another station."""
    if station != Station.MASS:
        if written.cup:
            raise InputError("belongs to the mass station only", where="cup", value=written.cup)
        return
    if written.value is not None and not has_tare:
        raise InputError(
            "has no tare",
            where="cup",
            value=written.cup or None,
            mend="Write the number on the cup; the lead weighs cups in the kit",
        )
