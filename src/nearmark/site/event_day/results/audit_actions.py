"""The paper audit: draw sheets by dice in front of everybody, then say what each paper shows."""

from collections.abc import Mapping
from typing import Final

from nearmark.contest.audit_findings import AuditFindings, audit_findings, rolled_seed
from nearmark.contest.division import is_asked
from nearmark.contest.open_points import PointKind
from nearmark.contest.paper_audit import AuditPlan, plan_audit
from nearmark.contest.results import results
from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.answer_models import AuditEntry
from nearmark.site.event.current import required_event
from nearmark.site.event.history import note
from nearmark.site.event.load import event_of_pair
from nearmark.site.event.models import EventRecord, ItemRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.answers.actions import PaperAnswer
from nearmark.site.event_day.results.models import AuditCheck, AuditDraw
from nearmark.station import Station
from nearmark.words.open_points import point_words
from nearmark.words.paper_audit import findings_sentences, plan_sentences

MAX_SHEETS: Final = 14
"""Read again unless another number is asked for: about twelve minutes."""


def plan(most: int) -> AuditPlan:
    """A draw of at most so many sheets, before the dice: how many, and what they can say."""
    return plan_audit(current_results(required_event()), seed=0, most=most)


def draw(rolls: str, *, most: int, by: str, why: str = "") -> AuditDraw:
    """Draw at most so many sheets by the digits of dice; a second draw needs a reason."""
    record = required_event()
    seed = rolled_seed(rolls)
    drawn = plan_audit(current_results(record), seed=seed, most=most)
    with writing():
        n_before = record.audits.count()
        if n_before and not why:
            raise InputError(
                "is needed",
                where="why",
                mend="Sheets were drawn already; say why they are drawn again",
            )
        made = AuditDraw.objects.create(
            event=record,
            rolls="".join(rolls.split()),
            targeted=[sheet.code for sheet in drawn.targeted],
            sample=list(drawn.sample),
            left_out=list(drawn.left_out),
            n_others=drawn.n_others,
            words=list(plan_sentences(drawn)),
            why=why,
            at=clock.now(),
            by=by,
        )
        told = f"dice {made.rolls}, {drawn.n_drawn} sheets"
        note(record, by, "drew sheets for the paper audit", new=told, why=why)
    return made


def check(draw_id: int, pair: str, seen: Mapping[str, PaperAnswer], *, by: str) -> AuditCheck:
    """Keep what one paper shows by item, read blind; the check names the first that differs."""
    record = required_event()
    with writing():
        newest = record.audits.first()
        if newest is None or newest.pk != draw_id:
            raise RuleError("these sheets are not the ones drawn last", mend="Load the page again")
        if pair not in {*newest.targeted, *newest.sample}:
            raise InputError("is not among the sheets drawn", where="pair", value=pair[:20])
        _need_all(record, pair, seen)
        items = {row.code: row for row in record.items.filter(code__in=seen)}
        pair_row = record.pairs.get(code=pair)
        now = clock.now()
        AuditEntry.objects.bulk_create(
            AuditEntry(
                pair=pair_row,
                item=items[code],
                clerk=by,
                status=read.status.value,
                value=read.value,
                cup=read.cup,
                at=now,
            )
            for code, read in seen.items()
        )
        of_pair = results(event_of_pair(record, pair)).points
        wrong = [p for p in of_pair if p.kind is PointKind.AUDIT and p.item in seen]
        made = AuditCheck.objects.create(
            draw=newest,
            pair=pair_row,
            item=items[wrong[0].item] if wrong else None,
            shows=wrong[0].shows if wrong else "",
            at=now,
            by=by,
        )
        told = "; ".join(point_words(point) for point in wrong) or "agrees"
        note(record, by, f"read the sheet of {pair} again", new=told)
    return made


def rows_of(record: EventRecord, pair: str) -> list[ItemRecord]:
    """The items on the sheet of a pair. ``pair``: its code."""
    found = record.pairs.filter(code=pair).values_list("division", flat=True).first()
    return [row for row in record.items.all() if is_asked(row, found or "")]


def _need_all(record: EventRecord, pair: str, seen: Mapping[str, PaperAnswer]) -> None:
    """Every answer that is written on the sheet is read; a mass need not be on it."""
    rows = {row.code: row.station for row in rows_of(record, pair)}
    for code, station in rows.items():
        if station != Station.MASS.value and code not in seen:
            raise InputError("is empty", where=code, mend="Type the number, b or ?")
    known = {name for cup in record.cups.all() for name in (cup.number, cup.batch) if name}
    for code, read in seen.items():
        if code not in rows:
            raise InputError("is not known", where="item", value=code[:20])
        is_weighed = rows[code] == Station.MASS.value
        if is_weighed and read.value is not None and not read.cup:
            raise InputError("is empty", where=f"cup of {code}", mend="Type the number of the cup")
        if read.cup and read.cup not in known:
            raise InputError("is not known", where=f"cup of {code}", value=read.cup[:20])


def newest_checks(draw_: AuditDraw) -> dict[str, AuditCheck]:
    """What the paper shows, by code of the pair."""
    return {row.pair.code: row for row in draw_.checks.select_related("pair", "item")}


def findings(draw_: AuditDraw) -> AuditFindings:
    """How far a draw is and what it found."""
    agrees = {code: row.item_id is None for code, row in newest_checks(draw_).items()}
    weighed = list(draw_.event.items.filter(station=Station.MASS.value))
    divisions = dict(draw_.event.pairs.values_list("code", "division"))
    asked = {c for c in agrees if any(is_asked(i, divisions.get(c, "")) for i in weighed)}
    entries = AuditEntry.objects.filter(pair__event=draw_.event, item__in=weighed)
    read = set(entries.values_list("pair__code", flat=True))
    return audit_findings(
        tuple(draw_.targeted),
        tuple(draw_.sample),
        agrees,
        n_others=draw_.n_others,
        n_left_out=len(draw_.left_out),
        n_unweighed=len(asked - read),
    )


def audit_words(record: EventRecord) -> list[str]:
    """The result of the newest audit, for reports; what is missing is said."""
    newest = record.audits.first()
    if newest is None:
        return ["No sheet was drawn for an audit against the paper."]
    n_before = record.audits.count() - 1
    again = f" Drawn again: {newest.why}." if n_before else ""
    return [f"Drawn with the dice {newest.rolls}.{again}", *findings_sentences(findings(newest))]
