"""Reading the sheets: two blind readings by different people, a third where they differ.

A reading carries a key made by the browser.  The same key with the same content is answered as
the first time, so that a post repeated after a lost link is counted once.
"""

import uuid
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Q

from nearmark.contest.event import AnswerStatus
from nearmark.contest.rules import Station
from nearmark.errors import InputError, RuleError
from nearmark.site import clock
from nearmark.site.acts.events import open_event
from nearmark.site.acts.history import note
from nearmark.site.models import AdjudicationEntry, AnswerEntry, EventRecord, ItemRecord, PairRecord
from nearmark.site.writing import writing


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


def record_answer(
    key: uuid.UUID, pair: str, item: str, written: Written, *, by: str
) -> AnswerEntry:
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
    AnswerEntry
        The one kept before when the key was seen already.

    Raises
    ------
    InputError
    RuleError
        If this person has read this answer already, or two people have.
    """
    with writing():
        # Before anything else: what was saved and not heard of is answered as saved, even if the
        # results have come out since.
        before = AnswerEntry.objects.filter(key=key).select_related("pair", "item").first()
        if before is not None:
            return _same(before, (pair, item, written, by))
        event = open_event()
        pair_row, item_row = _known(event, pair, item)
        _check_cup(event, item_row, written)
        return AnswerEntry.objects.create(
            key=key,
            pair=pair_row,
            item=item_row,
            reading=_free_reading(pair_row, item_row, by),
            clerk=by,
            status=written.status.value,
            value=written.value,
            cup=written.cup,
            at=clock.now(),
        )


def _same(before: AnswerEntry, now: tuple[str, str, Written, str]) -> AnswerEntry:
    written = Written(AnswerStatus(before.status), before.value, before.cup)
    if (before.pair.code, before.item.code, written, before.clerk) != now:
        raise RuleError(
            "another reading was sent under the same key", mend="Load the page again, then type it"
        )
    return before


def _free_reading(pair: PairRecord, item: ItemRecord, by: str) -> int:
    made = list(AnswerEntry.objects.filter(pair=pair, item=item, struck_at=None))
    where = f"{pair.code}, {item.code}"
    if any(entry.clerk == by for entry in made):
        raise RuleError(
            "you have read this answer already", where=where, mend="A second person reads it again"
        )
    taken = {entry.reading for entry in made}
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
    if not why:
        raise InputError("is needed", where="reason", mend="Say what went wrong, such as: slip")
    with writing():
        event = open_event()
        pair_row, item_row = _known(event, pair, item)
        entry = AnswerEntry.objects.filter(
            pair=pair_row, item=item_row, clerk=by, struck_at=None
        ).first()
        if entry is None:
            raise RuleError("you have not read this answer", where=f"{pair}, {item}")
        entry.struck_at, entry.struck_by, entry.struck_why = clock.now(), by, why
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
    if not why:
        raise InputError("is needed", where="reason", mend="Say what the paper shows")
    with writing():
        event = open_event()
        pair_row, item_row = _known(event, pair, item)
        _check_cup(event, item_row, written)
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
        raise InputError("is not known", where="pair", value=pair, mend="Check the code")
    item_row = event.items.filter(code=item).first()
    if item_row is None:
        raise InputError("is not known", where="item", value=item, mend="Check the code")
    return pair_row, item_row


def _check_cup(event: EventRecord, item: ItemRecord, written: Written) -> None:
    if item.station != Station.MASS:
        if written.cup:
            raise InputError("belongs to the mass station only", where="cup", value=written.cup)
        return
    weighed = Q(number=written.cup) | Q(batch=written.cup)
    if written.value is not None and not (written.cup and event.cups.filter(weighed).exists()):
        raise InputError(
            "has no tare",
            where="cup",
            value=written.cup or None,
            mend="Write the number on the cup; the lead weighs cups in the kit",
        )
