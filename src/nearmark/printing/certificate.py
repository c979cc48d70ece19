"""The certificate of one assigned value: what, how much, how sure, and from which readings."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from nearmark.charts import budget_bar_svg, strip_svg
from nearmark.contest.asked import without_asked
from nearmark.contest.doubts import not_closed
from nearmark.contest.event import Item, KeyDecision
from nearmark.contest.keys import ItemKey
from nearmark.contest.kit_doubts import kit_doubts
from nearmark.contest.results import Results
from nearmark.errors import InputError
from nearmark.kit.assigned_value import AssignedValue
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.rounding import decimals_for
from nearmark.printing.readings import ReadingsTable, item_readings
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import (
    day_text,
    dof_text,
    number_text,
    significant_text,
    wrappable,
)
from nearmark.words.budget_notes import silent_rows
from nearmark.words.doubts import doubt_sentence
from nearmark.words.key_advice import advice_words
from nearmark.words.key_remarks import (
    coverage_words,
    drawn_interval,
    points_moved,
    u_words,
    warning_words,
)
from nearmark.words.keys import decision_words, problem_words, whose_word
from nearmark.words.numbers import capital
from nearmark.words.sides import unit_text

METHODS = {
    "count by weighing": "Counted samples were weighed for the mass of one piece; the net mass of "
    "the filled container divided by it is the number of pieces. Weighing until U is small enough "
    "tends to stop where the samples agree by luck. So their scatter is taken at its upper 75 % "
    "bound, with Student's factor: of simulated intervals 98 of 100 then hold.",
    "count by hand, checked by weighing": "Independent people counted all pieces and agree; the "
    "key is the mean of their counts. A count by weighing agrees with it.",
    "counts by weighing and by hand": "A count by weighing and a count by hand agree; the key is "
    "their mean, each weighted by its inverse variance.",
    "count by hand": "All pieces were counted by hand; the key is the mean of the counts, rounded "
    "to whole pieces.",
    "box volume": "Length, width and height were each read several times; the volume is the "
    "product of their means.",
    "net mass": "The container was weighed with its content and without; the net mass is the "
    "difference.",
}

SOURCE = (
    "Uncertainties are combined by the law of propagation and expanded with Student's factor at "
    "the effective degrees of freedom (JCGM 100:2008, clauses 5 and 6, annex G.4)."
)


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One row of the printed budget; numbers are text, rounded for print."""

    name: str
    u: str
    unit: str
    distribution: str
    contribution: str
    dof: str
    share: str


@dataclass(frozen=True, slots=True)
class CertificateView:
    """Everything the certificate shows, ready to be set."""

    event: str
    day: str
    code: str
    name: str
    measurand: str
    key: str
    unit: str
    result: str
    basis: str
    interval: str
    check: str
    meaning: str
    fit: bool
    verdict: str
    decision: str
    method: str
    source: str
    strip: str
    bar: str
    lines: tuple[BudgetLine, ...]
    idle: str
    readings: tuple[ReadingsTable, ...]
    remarks: tuple[str, ...]
    about: str = ""


def event_certificate_pdf(outcome: Results, key: ItemKey, *, paper: str = "a4") -> bytes:
    """Set the certificate of one item of an event, with the lead's decision if there is one.

    ``key``: one of ``outcome.keys`` that was measured. ``paper``: ``a4`` or ``us-letter``. Raises
    InputError if nothing was measured: the key is a target, or has a problem.
    """
    if key.assigned is None:
        raise InputError(
            "has no measured value to certify",
            where=f"item {key.item.code}",
            mend=problem_words(key) or "Its key is set by the rule set and is exact",
        )
    event = outcome.event
    found = [d for d in kit_doubts(event) if d.item == key.item.code]
    view = certificate_view(
        without_asked(key.assigned, found),
        item=key.item,
        event_name=event.name,
        day=event.day,
        readings=item_readings(event, key.item.code),
    )
    doubted = tuple(wrappable(doubt_sentence(doubt), 300) for doubt in not_closed(event, found))
    problem = (wrappable(capital(problem_words(key)), 300),) if problem_words(key) else ()
    still = " A reading is still doubted: see To look at." if doubted else ""
    view = replace(
        view,
        decision=decision_text(key.decision, view.unit),
        verdict=f"{view.verdict}{still}",
        remarks=(*doubted, *problem, *view.remarks),
    )
    if key.is_only_decided and key.key is not None:
        view = _of_a_word(view, key, key.key)
    return typeset("certificate", view, day=event.day, paper=paper)


def _of_a_word(view: CertificateView, key: ItemKey, value: Decimal) -> CertificateView:
    """A decided value has no uncertainty: what was measured is shown as what it is."""
    return replace(
        view,
        key=number_text(value),
        result="No uncertainty is known of this number",
        basis=f"{capital(wrappable(whose_word(key), 200))}, {view.result}: {view.basis}",
        fit=False,
        verdict="No reading gives this value.",
        meaning="",
        strip="",
        about="Of what the readings give, not of the decided key.",
    )


def decision_text(decision: KeyDecision | None, unit: str) -> str:
    """The lead's decision in one sentence; empty without one.

    ``unit``: as printed.

    >>> decision_text(KeyDecision("C1", None, "lead Juniper", "jar sealed"), "pieces")
    'Used as it is by decision of lead Juniper: jar sealed.'
    """
    if decision is None:
        return ""
    shown = replace(decision, by=wrappable(decision.by), reason=wrappable(decision.reason, 200))
    value = "" if decision.value is None else f"{number_text(decision.value)} {unit}"
    return decision_words(shown, value)


def certificate_view(
    assigned: AssignedValue,
    *,
    item: Item,
    event_name: str,
    day: date,
    readings: Sequence[ReadingsTable] = (),
) -> CertificateView:
    """What a certificate says, as text."""
    budget = assigned.budget
    unit = unit_text(budget.unit)
    low, high = assigned.interval
    places = decimals_for(assigned.expanded_u)
    ratios = (low / assigned.value, high / assigned.value) if assigned.value else None
    return CertificateView(
        event=wrappable(event_name, 120),
        day=day_text(day),
        code=wrappable(item.code, 24),
        name=wrappable(item.name),
        measurand=capital(wrappable(budget.measurand, 200)),
        key=number_text(assigned.key),
        unit=unit,
        result=f"{number_text(assigned.value, places)} ± "
        f"{number_text(assigned.expanded_u, places)} {unit}",
        basis=coverage_words(budget),
        interval=f"{number_text(low, places)} to {number_text(high, places)} {unit}",
        check=_check(assigned, unit),
        meaning=points_moved(assigned),
        fit=assigned.fit,
        verdict=u_words(assigned),
        decision="",
        method=METHODS.get(assigned.method, f"Method: {assigned.method}."),
        source=SOURCE,
        strip=strip_svg([], interval=ratios, width_px=640, title="The key and its 95 % interval"),
        bar=budget_bar_svg(budget, width_px=300),
        lines=tuple(_line(budget, c) for c in budget.components if c.contribution > 0),
        idle=silent_rows([replace(c, name=wrappable(c.name)) for c in budget.components]),
        readings=tuple(readings),
        remarks=tuple(
            wrappable(capital(r), 300)
            for r in (*map(warning_words, assigned.warnings), *map(advice_words, assigned.advice))
        ),
    )


def _check(assigned: AssignedValue, unit: str) -> str:
    """What drawing found, with numbers as the certificate writes them."""
    found = assigned.drawn_check
    low, high = (number_text(end, found.places) for end in found.interval)
    return f"{drawn_interval(found, low, high, unit)}."


def _line(budget: Budget, component: Component) -> BudgetLine:
    # One more digit than U shows: rows must be seen to add up.
    places = decimals_for(budget.standard_uncertainty) + 1
    return BudgetLine(
        name=wrappable(component.name),
        u=significant_text(component.u),
        unit=unit_text(component.unit),
        distribution=component.distribution,
        contribution=number_text(component.contribution, places),
        dof=dof_text(component.dof),
        share=f"{100 * budget.share(component):.1f}",
    )
