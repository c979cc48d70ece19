"""The paper audit: draw sheets by dice in front of everybody, then say what each paper shows."""

from nearmark.contest.audit_findings import AuditFindings, audit_findings, rolled_seed
from nearmark.contest.paper_audit import plan_audit
from nearmark.errors import InputError, RuleError
from nearmark.site import clock
from nearmark.site.acts.history import note
from nearmark.site.event_store import current_event
from nearmark.site.models import AuditCheck, AuditDraw, EventRecord
from nearmark.site.standing_results import current_results
from nearmark.site.writing import writing


def draw(rolls: str, *, by: str, why: str = "") -> AuditDraw:
    """Draw the sheets; a second draw needs a reason and leaves the first one in sight.

    Parameters
    ----------
    rolls : str
        Digits of the dice.
    by, why : str

    Raises
    ------
    InputError, RuleError
    """
    record = _event()
    seed = rolled_seed(rolls)
    plan = plan_audit(current_results(record), seed=seed)
    with writing():
        n_before = record.audits.count()
        if n_before and not why:
            raise InputError(
                "is needed",
                where="why",
                mend="Sheets were drawn already; say why they are drawn anew",
            )
        made = AuditDraw.objects.create(
            event=record,
            rolls="".join(rolls.split()),
            targeted=[sheet.code for sheet in plan.targeted],
            sample=list(plan.sample),
            n_others=plan.n_others,
            words=list(plan.words),
            why=why,
            at=clock.now(),
            by=by,
        )
        note(record, by, "drew sheets for the paper audit", new=f"dice {made.rolls}", why=why)
    return made


def check(draw_id: int, pair: str, *, item: str, shows: str, by: str) -> AuditCheck:
    """Note what one paper shows.

    Parameters
    ----------
    draw_id : int
    pair : str
        Code.
    item : str
        Code of the item that differs; empty: everything agrees.
    shows : str
        What the paper shows there.
    by : str

    Raises
    ------
    InputError, RuleError
    """
    record = _event()
    with writing():
        newest = record.audits.first()
        if newest is None or newest.pk != draw_id:
            raise RuleError("these sheets are not the ones drawn last", mend="Load the page again")
        if pair not in {*newest.targeted, *newest.sample}:
            raise InputError("is not among the sheets drawn", where="pair", value=pair[:20])
        if item and not shows:
            raise InputError("is empty", where="the paper shows", mend="Type it, b or ?")
        item_row = record.items.filter(code=item).first() if item else None
        if item and item_row is None:
            raise InputError("is not known", where="item", value=item[:20])
        made = AuditCheck.objects.create(
            draw=newest,
            pair=record.pairs.get(code=pair),
            item=item_row,
            shows=shows[:60] if item else "",
            at=clock.now(),
            by=by,
        )
        said = f"{item} shows {shows}" if item else "agrees"
        note(record, by, f"audited the sheet of {pair}", new=said)
    return made


def newest_checks(draw_: AuditDraw) -> dict[str, AuditCheck]:
    """What the paper shows, by code of the pair.

    Parameters
    ----------
    draw_ : AuditDraw
    """
    return {row.pair.code: row for row in draw_.checks.select_related("pair", "item")}


def findings(draw_: AuditDraw) -> AuditFindings:
    """How far a draw is and what it found.

    Parameters
    ----------
    draw_ : AuditDraw
    """
    agrees = {code: row.item_id is None for code, row in newest_checks(draw_).items()}
    return audit_findings(
        tuple(draw_.targeted), tuple(draw_.sample), agrees, n_others=draw_.n_others
    )


def audit_words(record: EventRecord) -> list[str]:
    """The result of the newest audit, for reports; what is missing is said.

    Parameters
    ----------
    record : EventRecord
    """
    newest = record.audits.first()
    if newest is None:
        return ["No sheet was drawn for an audit against the paper."]
    n_before = record.audits.count() - 1
    again = f" Drawn anew: {newest.why}." if n_before else ""
    return [f"Drawn with the dice {newest.rolls}.{again}", *findings(newest).words]


def _event() -> EventRecord:
    record = current_event()
    if record is None:
        raise RuleError("there is no event yet", mend="Set one up first")
    return record
