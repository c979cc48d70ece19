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

from nearmark.contest.event import AnswerStatus
from nearmark.contest.rules import Station
from nearmark.errors import InputError, NearmarkError, RuleError
from nearmark.site import clock
from nearmark.site.acts.events import open_event, open_for_change
from nearmark.site.acts.history import note
from nearmark.site.acts.reasons import need_reason, strike
from nearmark.site.desk import Desk, desk_at, desk_before
from nearmark.site.models import AdjudicationEntry, AnswerEntry, EventRecord, ItemRecord, PairRecord
from nearmark.site.reading_rows import ReadingRow, add_reading, readings_beside
from nearmark.site.sight import Admission, Sight
from nearmark.site.writing import together, writing


@dataclass(frozen=True, slots=True)
class Written:
    """What stands on the paper, or on the display of the scale.

    Attributes
    ----------
    status : AnswerStatus
    value : unit of the station, or None
        Gross mass in g at the mass station.
    cup : str
        Number of the cup; at the mass station only.
    """

    status: AnswerStatus
    value: Decimal | None = None
    cup: str = ""

    def __str__(self) -> str:
        shown = self.status.value if self.value is None else f"{self.value:f}"
        return f"{shown} in cup {self.cup}" if self.cup else shown


@dataclass(frozen=True, slots=True)
class Read:
    """One reading, as somebody sends it.

    Attributes
    ----------
    key : UUID
        Made by the browser, once a reading.
    pair, item : str
        Codes.
    written : Written
    by : str
        Who read it.
    """

    key: uuid.UUID
    pair: str
    item: str
    written: Written
    by: str


def record_answer(key: uuid.UUID, pair: str, item: str, written: Written, *, by: str) -> ReadingRow:
    """Keep one reading; whether it is the first or the second is found here.

    Parameters
    ----------
    key : UUID
        Made by the browser, once a reading.
    pair, item : str
        Codes.
    written : Written
    by : str
        Who read it.

    Returns
    -------
    ReadingRow
        The one kept before when the key was seen already.

    Raises
    ------
    InputError
    RuleError
        If this person has read this answer already, or two people have.
    """
    (outcome,) = record_answers([Read(key, pair, item, written, by)])
    if isinstance(outcome, NearmarkError):
        raise outcome
    return outcome


def record_answers(
    reads: Sequence[Read], admission: Admission | None = None
) -> list[ReadingRow | NearmarkError]:
    """Keep several readings, each by itself; what is answered is on disk.

    Parameters
    ----------
    reads : sequence of Read
    admission : Admission or None
        Whether their reader is still in is looked at in the same moment; ``None``: it was before.

    Returns
    -------
    list
        For each what is kept, or why it was refused.
    """
    return together([partial(_record, read, admission) for read in reads])


def _record(read: Read, admission: Admission | None) -> ReadingRow:
    desk, rows = _laid_out(read, admission)
    pair_id, item_id = _numbers(read, desk)
    # Before anything else: what was saved and not heard of is answered as saved, even if the
    # results have come out since.
    before = next((row for row in rows if row.key == read.key), None)
    if before is not None:
        return _same(before, read, (pair_id, item_id))
    open_for_change(desk.record)
    if not pair_id or not item_id:
        raise _unknown("item", read.item) if pair_id else _unknown("pair", read.pair)
    _check_cup(desk.items[item_id].station, read.written, has_tare=read.written.cup in desk.cups)
    return add_reading(
        ReadingRow(
            0,
            read.key,
            pair_id,
            item_id,
            _free_reading(rows, read),
            read.by,
            read.written.status.value,
            read.written.value,
            read.written.cup,
        ),
        clock.now(),
    )


def _laid_out(read: Read, admission: Admission | None) -> tuple[Desk, list[ReadingRow]]:
    """The desk as it is now, and what lies on it beside a reading: one look when nothing moved."""
    desk = desk_before()
    sight, rows = _beside(read, desk, admission)
    if sight.event is not None and sight.event == desk.revision:
        return desk, rows
    desk = desk_at(sight.event)
    return desk, _beside(read, desk, admission)[1]


def _beside(read: Read, desk: Desk, admission: Admission | None) -> tuple[Sight, list[ReadingRow]]:
    session_key = admission.session_key if admission else ""
    pair, item = _numbers(read, desk)
    sight, rows = readings_beside(read.key, pair, item, session_key=session_key, now=clock.now())
    if admission is not None and not admission.holds(sight):
        raise RuleError("this device has to show itself again", mend="Load the page again")
    return sight, rows


def _numbers(read: Read, desk: Desk) -> tuple[int, int]:
    return desk.pair_ids.get(read.pair, 0), desk.item_ids.get(read.item, 0)


def _same(before: ReadingRow, read: Read, at: tuple[int, int]) -> ReadingRow:
    written = Written(AnswerStatus(before.status), before.value, before.cup)
    if (before.pair, before.item, written, before.clerk) != (*at, read.written, read.by):
        raise RuleError(
            "another reading was sent under the same key", mend="Load the page again, then type it"
        )
    return before


def _free_reading(made: Sequence[ReadingRow], read: Read) -> int:
    where = f"{read.pair}, {read.item}"
    if any(row.clerk == read.by for row in made):
        raise RuleError(
            "you have read this answer already", where=where, mend="A second person reads it again"
        )
    taken = {row.reading for row in made}
    free = [number for number in (1, 2) if number not in taken]
    if not free:
        raise RuleError("two people have read this answer already", where=where)
    return free[0]


def strike_own(pair: str, item: str, *, by: str, why: str) -> None:
    """Strike out one's own reading, to read the paper again.

    Parameters
    ----------
    pair, item : str
    by, why : str

    Raises
    ------
    InputError, RuleError
    """
    need_reason(why, "Say what went wrong, such as: slip")
    with writing():
        event = open_event()
        pair_row, item_row = _known(event, pair, item)
        entry = AnswerEntry.objects.filter(
            pair=pair_row, item=item_row, clerk=by, struck_at=None
        ).first()
        if entry is None:
            raise RuleError("you have not read this answer", where=f"{pair}, {item}")
        strike(entry, by=by, why=why)
        entry.save()
        old = str(Written(AnswerStatus(entry.status), entry.value, entry.cup))
        note(event, by, f"struck out the own reading of {pair}, {item}", old=old, why=why)


def adjudicate(pair: str, item: str, written: Written, *, by: str, why: str) -> None:
    """Decide as the third person where two readings differ.

    Parameters
    ----------
    pair, item : str
    written : Written
    by, why : str

    Raises
    ------
    InputError, RuleError
    """
    need_reason(why, "Say what the paper shows")
    with writing():
        event = open_event()
        pair_row, item_row = _known(event, pair, item)
        weighed = Q(number=written.cup) | Q(batch=written.cup)
        has_tare = bool(written.cup) and event.cups.filter(weighed).exists()
        _check_cup(item_row.station, written, has_tare=has_tare)
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


def _known(event: EventRecord, pair: str, item: str) -> tuple[PairRecord, ItemRecord]:
    pair_row = event.pairs.filter(code=pair).first()
    if pair_row is None:
        raise _unknown("pair", pair)
    item_row = event.items.filter(code=item).first()
    if item_row is None:
        raise _unknown("item", item)
    return pair_row, item_row


def _unknown(where: str, code: str) -> InputError:
    return InputError("is not known", where=where, value=code, mend="Check the code")


def _check_cup(station: str, written: Written, *, has_tare: bool) -> None:
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
