"""Which sheets to read again, what that can say, and what it found."""

from nearmark.contest.audit_findings import AuditFindings
from nearmark.contest.audit_sampling import CONFIDENCE, ESCALATE_AT, AuditOutcome
from nearmark.contest.paper_audit import AuditPlan, SheetRisk
from nearmark.words.numbers import percent
from nearmark.words.translation import say, say_count


def plan_sentences(plan: AuditPlan) -> tuple[str, ...]:
    """The plan, for the people who read the sheets again."""
    return (
        read_these(plan),
        *((then_the_drawn(plan),) if plan.sample else ()),
        *reach_sentences(plan),
        read_all_if_wrong(),
        *((how_to_draw(plan),) if plan.sample else ()),
    )


def reach_sentences(plan: AuditPlan) -> tuple[str, ...]:
    """What reading these sheets can say, before they are drawn; names no sheet."""
    lines = [hidden_podium(plan)]
    if plan.left_out:
        lines.append(left_out(len(plan.left_out)))
    if plan.sample:
        lines.append(if_none_is_wrong(plan))
    elif plan.n_others:
        lines.append(nothing_about_others(plan.n_others))
    return tuple(lines)


def read_these(plan: AuditPlan) -> str:
    """True of a plan: the sheets that are read whatever is drawn."""
    return say_count(
        "Read this sheet against the paper: {codes}.",
        "Read these {n} sheets against the paper, all of them: {codes}.",
        len(plan.targeted),
        codes=", ".join(sheet.code for sheet in plan.targeted),
    )


def then_the_drawn(plan: AuditPlan) -> str:
    """True of a plan with a random sample."""
    return say(
        "Then {n} of the other {n_others}, drawn at random: {codes}.",
        n=len(plan.sample),
        n_others=plan.n_others,
        codes=", ".join(plan.sample),
    )


def why_listed(sheet: SheetRisk) -> str:
    """Why a sheet is on the list: by its total, or because one low item hides a better place."""
    if sheet.division:
        return _why_listed_in(sheet)
    if sheet.among_first is None:
        return say("one low item could lift it to the podium")
    return say("among the first {n}", n=sheet.among_first)


def _why_listed_in(sheet: SheetRisk) -> str:
    """The same of a place in a division."""
    if sheet.among_first is None:
        return say(
            "one low item could lift it to the podium of {division}", division=sheet.division
        )
    return say("among the first {n} of {division}", n=sheet.among_first, division=sheet.division)


def hidden_podium(plan: AuditPlan) -> str:
    """Upper limits from the published keying rates, before and after the listed sheets are read."""
    return say(
        "Probability that a keying error hides another podium: at most {before} now, {after} once "
        "they are read.",
        before=_risk(plan.risk_before),
        after=_risk(plan.risk_after),
    )


def _risk(probability: float) -> str:
    # The model leaves out what nobody keyed wrongly alone: never print a plain zero.
    return percent(max(probability, 0.001), 1)


def left_out(n: int) -> str:
    """True when fewer sheets were asked for than could hide another podium."""
    return say_count(
        "{n} more sheet is left out although a slip there could change the podium: with more "
        "sheets less risk is left.",
        "{n} more sheets are left out although a slip there could change the podium: with more "
        "sheets less risk is left.",
        n,
    )


def if_none_is_wrong(plan: AuditPlan) -> str:
    """True of a random sample in which no sheet is wrong."""
    return say(
        "If none of the {n} drawn at random is wrong, fewer than {limit} of the other {n_others} "
        "are, at {confidence} confidence.",
        n=len(plan.sample),
        limit=plan.tolerable_wrong,
        n_others=plan.n_others,
        confidence=percent(CONFIDENCE),
    )


def nothing_about_others(n: int) -> str:
    """True of a plan without a random sample."""
    return say_count(
        "Nothing is said about the other sheet.",
        "Nothing is said about the other {n} sheets.",
        n,
    )


def read_all_if_wrong() -> str:
    """The rule of the audit: so many wrong sheets are too many to trust the rest."""
    return say("If {limit} or more are wrong, read all sheets again.", limit=ESCALATE_AT)


def how_to_draw(plan: AuditPlan) -> str:
    """How anybody draws the same sample again from the public seed."""
    return say(
        "Take the codes of the {n_others} placed pairs that are not on the list, work out the "
        'SHA-256 of "{seed},CODE" for each, sort by it, take the first {n}.',
        n_others=plan.n_others,
        seed=plan.seed,
        n=len(plan.sample),
    )


def findings_sentences(found: AuditFindings) -> tuple[str, ...]:
    """The result, for the page, the export and the hall.

    >>> from nearmark.contest.audit_findings import audit_findings
    >>> found = audit_findings(("P1",), ("P2",), {"P1": True, "P2": True}, n_others=8)
    >>> findings_sentences(found)[0]
    '2 of 2 sheets are read against the paper: none differs.'
    """
    lines = [so_far(found), what_is_left(found)]
    if found.n_unweighed:
        lines.append(no_mass_read(found.n_unweighed))
    if found.of_sample is not None:
        lines.append(drawn_at_random(found.of_sample))
    return tuple(lines)


def so_far(found: AuditFindings) -> str:
    """How many of the named and drawn sheets are read, and how many of them differ."""
    facts = {"n_read": found.n_read, "n_listed": found.n_listed}
    if not found.n_wrong:
        return say(
            "{n_read} of {n_listed} sheets are read against the paper: none differs.", **facts
        )
    return say_count(
        "{n_read} of {n_listed} sheets are read against the paper: {n} differs.",
        "{n_read} of {n_listed} sheets are read against the paper: {n} differ.",
        found.n_wrong,
        **facts,
    )


def how_many_differ(n: int) -> str:
    """How many of the sheets that were read differ from what was typed.

    >>> how_many_differ(0), how_many_differ(1), how_many_differ(2)
    ('none differs', '1 differs', '2 differ')
    """
    if n == 0:
        return say("none differs")
    return say_count("{n} differs", "{n} differ", n)


def what_is_left(found: AuditFindings) -> str:
    """What is still to do, the most pressing first."""
    if found.must_read_all:
        return say("{limit} or more are wrong: read all sheets again.", limit=ESCALATE_AT)
    if found.unread:
        return say("{n} still to be read.", n=len(found.unread))
    if found.n_left_out:
        return say_count(
            "{n} more sheet was not read although a slip there could change the podium.",
            "{n} more sheets were not read although a slip there could change the podium.",
            found.n_left_out,
        )
    return say("Every sheet that was named for the podium is read.")


def no_mass_read(n: int) -> str:
    """True of sheets that were read where no paper shows the mass."""
    return say("On {n} of them no mass was read: what was weighed is not audited.", n=n)


def drawn_at_random(outcome: AuditOutcome) -> str:
    """What a finished random sample says of all sheets it was drawn from."""
    return say_count(
        "Of those drawn at random, {n} of {n_read} sheets was wrong: at 95 % confidence no more "
        "than {limit} of all {n_sheets} (rate up to {rate}).",
        "Of those drawn at random, {n} of {n_read} sheets were wrong: at 95 % confidence no more "
        "than {limit} of all {n_sheets} (rate up to {rate}).",
        outcome.n_wrong,
        n_read=outcome.n_read,
        limit=outcome.sheets_limit,
        n_sheets=outcome.n_sheets,
        rate=percent(outcome.rate_limit, 1),
    )
