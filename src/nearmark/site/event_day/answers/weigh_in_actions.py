"""Cups on the scale: one hand-in a pair, read by two people; undone by the lead with a reason."""

import uuid

from django.db.models import Q

from nearmark.errors import RuleError
from nearmark.site.common.writing import writing
from nearmark.site.event.answer_models import AdjudicationEntry, AnswerEntry
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.reasons import need_reason, strike
from nearmark.site.event_day.answers.actions import PaperAnswer, record_answer
from nearmark.station import Station
from nearmark.words.desk import has_handed_in


def weigh(key: uuid.UUID, pair: str, item: str, written: PaperAnswer, *, by: str) -> None:
    """Keep what one person reads off the scale; a pair hands in one cup.

    ``key``: made by the browser, once a reading. ``pair``, ``item``: codes. ``written``: with the
    number of the cup. ``by``: who read it. Raises RuleError if the pair has handed in another cup
    already.
    """
    with writing():
        refuse_second(key, pair, item, written.cup)
        record_answer(key, pair, item, written, by=by)


def refuse_second(key: uuid.UUID, pair: str, item: str, cup: str) -> None:
    """Refuse another cup of a pair that has handed one in; a key that was seen already passes."""
    if AnswerEntry.objects.filter(key=key).exists():
        return
    event = open_event()
    before = AnswerEntry.objects.filter(
        pair__event=event, pair__code=pair, item__code=item, struck_at=None
    ).first()
    if before is not None and before.cup and before.cup != cup:
        what, mend = has_handed_in(pair, before.cup)
        raise RuleError(what, where="pair", value=pair, mend=mend)


def in_the_way(pair: str, item: str, cup: str, *, by: str) -> list[AnswerEntry]:
    """The typist's own readings that a new one makes wrong: another cup, or another pair."""
    own = AnswerEntry.objects.filter(
        pair__event=open_event(), item__code=item, clerk=by, struck_at=None
    )
    other_cup = Q(pair__code=pair) & ~Q(cup=cup)
    other_pair = Q(cup=cup) & ~Q(pair__code=pair)
    return list(own.filter(other_cup | other_pair).select_related("pair"))


def undo_hand_in(pair: str, item: str, *, by: str, why: str) -> int:
    """Strike out the readings of a pair's cup, to weigh it again; how many there were."""
    need_reason(why, "Say what went wrong at the scale")
    with writing():
        event = open_event()
        at = {"pair__event": event, "pair__code": pair, "item__code": item}
        rows = list(
            AnswerEntry.objects.filter(
                **at, item__station=Station.MASS.value, struck_at=None
            ).order_by("pk")
        )
        if not rows:
            raise RuleError("has handed in no cup", where=pair)
        if AdjudicationEntry.objects.filter(**at).exists():
            raise RuleError(
                "a third person has decided on this cup",
                where=pair,
                mend="Put the number right on the page of corrections instead",
            )
        old = "; ".join(f"{row.clerk}: {row.value} g in cup {row.cup}" for row in rows)
        for row in rows:
            strike(row, by=by, why=why)
        AnswerEntry.objects.bulk_update(rows, ["struck_at", "struck_by", "struck_why"])
        note(event, by, f"undid the hand-in of {pair}, {item}", old=old, why=why)
    return len(rows)
