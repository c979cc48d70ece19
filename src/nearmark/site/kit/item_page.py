"""What the page of one item shows: the next step, its readings and its certificate."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from django.forms import Form

from nearmark.charts import budget_bar_svg
from nearmark.contest.asked import without_asked
from nearmark.contest.doubt import Doubt
from nearmark.contest.doubts import not_closed
from nearmark.contest.keys import ItemKey, event_keys
from nearmark.contest.kit_doubts import kit_doubts
from nearmark.contest.measuring_steps import MeasuringSteps, SampleTotal
from nearmark.contest.next_step import measuring_steps, sample_total
from nearmark.kit.assigned_value import AssignedValue
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.site.common.forms import BaseForm, choose
from nearmark.site.common.responses import typed
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import EventRecord, ItemRecord
from nearmark.site.event.rows import record_of
from nearmark.site.kit.forms import DecisionForm, KnownForm, known_of
from nearmark.site.kit.item_readings import (
    FORMS,
    KINDS_OF,
    ReadingGroup,
    ShownReading,
    last_pieces,
    last_reading,
    next_form,
    reading_group,
)
from nearmark.site.kit.models import PourRow
from nearmark.site.kit.pouring import material_cautions
from nearmark.site.kit.views import materials_to_choose
from nearmark.station import Station
from nearmark.words.keys import problem_words
from nearmark.words.next_step import way_reason

BAR_PX = 340


@dataclass(frozen=True, slots=True)
class ItemView:
    """The page of an item."""

    title: str
    item: ItemRecord
    key: ItemKey
    assigned: AssignedValue | None
    bar: str
    components: list[tuple[str, float, float, float]]
    is_on_the_way: bool
    problem: str
    way: MeasuringSteps
    head_words: str
    goes_on: bool
    kind: str
    next_form: Form | None
    again: int | None
    asked: Sequence[Doubt]
    typed: Sequence[tuple[str, str]]
    groups: list[ReadingGroup]
    total: SampleTotal | None
    last: ShownReading | None
    odd: list[ShownReading]
    other_doubts: list[Doubt]
    pour: PourRow | None
    facts: list[tuple[str, str]]
    cautions: Sequence[str]
    known_form: Form
    decision_form: Form
    asked_decision: Sequence[Doubt]
    typed_decision: Sequence[tuple[str, str]]


def item_page(
    record: EventRecord,
    item: ItemRecord,
    *,
    kind: str = "",
    form: BaseForm | None = None,
    decision: BaseForm | None = None,
    after: Mapping[str, Any] = MappingProxyType({}),
) -> ItemView:
    """All that the page of an item shows.

    ``kind``: what is typed at the head of the page; empty: the next step. ``form``: of that kind,
    as typed. ``decision``: as typed. ``after``: what is in the address.
    """
    event = load_kit(record)
    key = event_keys(event)[item.code]
    own = [doubt for doubt in kit_doubts(event) if doubt.item == item.code]
    doubts = not_closed(event, own)
    pour = PourRow.objects.filter(item=item, struck_at=None).first()
    way = measuring_steps(event, key, expected_pieces=pour.pieces if pour else None, doubts=doubts)
    given = form or decision
    asked = given.asked if given else ()
    # The form never changes under the hands: from samples to the full container one goes on.
    goes_on = not kind and after.get("after") == "sample" and way.kind == "full"
    kind = "" if goes_on else kind or way.kind
    kinds = KINDS_OF[Station(item.station)]
    material = record.materials.filter(code=item.material).first()
    groups = [reading_group(record, item, group, kind, doubts) for group in kinds]
    odd = [reading for group in groups for reading in group.rows if reading.doubt]
    shown = {reading.doubt.id for reading in odd if reading.doubt}
    head_words = "" if asked or (odd and not kind and not goes_on) else way_reason(way)
    if kind and kind != way.kind:
        head_words = f"Typed now: {FORMS[kind][1]}"
    return ItemView(
        title=f"{item.code}: {item.name}",
        item=item,
        key=key,
        assigned=without_asked(key.assigned, own) if key.assigned else None,
        bar=_bar(key),
        components=_components(key),
        # While steps are open, what is missing is at the head already.
        is_on_the_way=key.key is None and any(not step.is_done for step in way.steps),
        problem=problem_words(key),
        way=way,
        head_words=head_words,
        goes_on=goes_on,
        kind=kind,
        next_form=next_form(record, item, way, kind, form),
        again=last_pieces(item) if kind == "sample" else None,
        asked=asked,
        typed=typed(form) if asked and form else (),
        groups=groups,
        total=sample_total(event, item.code),
        last=None if odd else last_reading(item, kinds),
        odd=odd,
        other_doubts=[doubt for doubt in doubts if doubt.id not in shown],
        pour=pour,
        facts=_facts(item, material.name if material else ""),
        cautions=material_cautions(material) if material else (),
        known_form=known_form(record, item),
        decision_form=decision or DecisionForm(auto_id="decide-%s"),
        asked_decision=asked if decision else (),
        typed_decision=typed(decision) if asked and decision else (),
    )


def _facts(item: ItemRecord, material: str) -> list[tuple[str, str]]:
    """What is known of an item beside its readings: name and words."""
    facts = [
        ("Material", material),
        ("Samples from", item.samples_from and f"the {item.samples_from}"),
    ]
    if item.station == Station.VOLUME.value:
        box = record_of(BoxFaces, item)
        edges = box.faces or "not stated"
        if box.wall_text:
            edges += f", one wall {box.wall_text} cm: the key is the inner volume"
        elif box.faces is Faces.OUTSIDE:
            edges += ": the key is the outer volume"
        bulge = f"{box.bulge_cm:f} cm" if box.bulge_cm else ""
        facts += [("Edges read", edges), ("Faces bulge by", bulge)]
    facts.append(("Divisions", ", ".join(item.divisions)))
    return [(name, words) for name, words in facts if words]


def known_form(record: EventRecord, item: ItemRecord) -> Form:
    """What is known of an item beside its readings, to be changed."""
    form = KnownForm(
        initial=known_of(item),
        station=item.station,
        divisions=list(record.divisions.values_list("name", flat=True)),
        auto_id="known-%s",
    )
    return choose(form, "material", materials_to_choose(record))


def _bar(key: ItemKey) -> str:
    return "" if key.assigned is None else budget_bar_svg(key.assigned.budget, width_px=BAR_PX)


def _components(key: ItemKey) -> list[tuple[str, float, float, float]]:
    """Name, contribution, degrees of freedom and share in percent of what adds something."""
    if key.assigned is None:
        return []
    budget = key.assigned.budget
    return [
        (c.name, c.contribution, c.dof, 100 * budget.share(c))
        for c in budget.components
        if c.contribution > 0
    ]
