"""Whatever a person does to the event, nothing computed before is taken for the present."""

import inspect
import uuid
from collections.abc import Callable
from datetime import date
from decimal import Decimal

import pytest

from nearmark.contest.event import AnswerStatus, PairStatus
from nearmark.contest.results import results
from nearmark.demo import larkspur_valley
from nearmark.site.common.revision import revision_now
from nearmark.site.event.load import current_event, load_event
from nearmark.site.event.results_cache import current_results
from nearmark.site.event.snapshot import snapshot_now
from nearmark.site.event_day import event_actions as events
from nearmark.site.event_day.answers import actions as answers
from nearmark.site.event_day.answers.actions import PaperAnswer, SubmittedReading
from nearmark.site.event_day.heats import check_in_actions as check_in
from nearmark.site.event_day.heats import clock_actions as heat_runs
from nearmark.site.event_day.heats import plan_actions as heat_plan
from nearmark.site.event_day.pairs import actions as pairs
from nearmark.site.event_day.results import actions as releases
from nearmark.site.kit import actions as kit
from nearmark.site.kit import thing_actions as kit_things
from nearmark.site.models import AdjudicationEntry, AnswerEntry, EventRecord
from nearmark.station import Station

MODULES = (
    answers,
    check_in,
    events,
    heat_plan,
    heat_runs,
    kit,
    kit_things,
    pairs,
    releases,
)
SEVEN = PaperAnswer(AnswerStatus.ANSWERED, Decimal(700))


def read(by: str, value: PaperAnswer = SEVEN) -> None:
    answers.record_answer(uuid.uuid4(), "P01", "C1", value, by=by)


def take_back() -> None:
    key = uuid.uuid4()
    answers.record_answer(key, "P01", "C1", SEVEN, by="Ash")
    moved(lambda: answers.take_back(key, by="Ash"))


def adjudicate() -> None:
    read("Ash")
    read("Birch", PaperAnswer(AnswerStatus.ANSWERED, Decimal(701)))
    moved(lambda: answers.adjudicate("P01", "C1", SEVEN, by="Cedar", why="a clear seven"))


def withhold() -> None:
    releases.release(by="Juniper", why="the buses leave", shows_names=False)
    moved(lambda: releases.withhold(by="Juniper", why="a slip"))


def without_event(act: Callable[[], object]) -> None:
    for table in (AdjudicationEntry, AnswerEntry, EventRecord):
        table.objects.all().delete()
    before = revision_now()
    act()
    assert revision_now() != before
    is_up_to_date()


def started() -> int:
    return heat_runs.start_heat("heat 1", 30, by="Juniper").pk


def extend_heat() -> None:
    run = started()
    moved(lambda: heat_runs.extend_heat(run, 5, by="Juniper", why="a spill"))


def pause_heat() -> None:
    run = started()
    moved(lambda: heat_runs.pause_heat(run, by="Juniper", why="alarm"))


def resume_heat() -> None:
    run = started()
    heat_runs.pause_heat(run, by="Juniper", why="alarm")
    moved(lambda: heat_runs.resume_heat(run, by="Juniper"))


def pause_every_room() -> None:
    started()
    moved(lambda: heat_runs.pause_every_room(by="Juniper", why="alarm"))


def resume_every_room() -> None:
    started()
    heat_runs.pause_every_room(by="Juniper", why="alarm")
    moved(lambda: heat_runs.resume_every_room(by="Juniper"))


def check_out() -> None:
    check_in.check_in(pair("P01"), is_here=True, by="Juniper")
    moved(lambda: check_in.check_out([pair("P01")], by="Juniper"))


def stop_heat() -> None:
    run = started()
    moved(lambda: heat_runs.stop_heat(run, by="Juniper", why="alarm", is_sure=True))


def item(code: str) -> int:
    return current_event().items.get(code=code).pk


def pair(code: str) -> int:
    return current_event().pairs.get(code=code).pk


def add_reading() -> None:
    kit.add_reading(item("C1"), "hand-count", {"pieces": 241, "counter": "Rowan"}, by="Juniper")


def strike_reading() -> None:
    row = kit.add_reading(
        item("C1"), "hand-count", {"pieces": 241, "counter": "Rowan"}, by="Juniper"
    )
    moved(lambda: kit.strike_reading("hand-count", row.pk, by="Juniper", why="a slip"))


def scale() -> str:
    return current_event().instruments.filter(unit="g")[0].name


def state_faces() -> None:
    current_event().items.filter(code="B1").update(faces="")
    moved(lambda: kit.state_faces(item("B1"), {"faces": "inside"}, by="Juniper"))


def remove_thing() -> None:
    cups = [("777", Decimal("8.5"))]
    kit_things.add_cups(cups, instrument=scale(), batch="", by="Juniper")
    row = current_event().cups.get(number="777").pk
    moved(lambda: kit_things.remove_thing("cup", row, by="Juniper", why="it is cracked"))


def another_heat() -> int:
    return heat_plan.heats_of_plan(load_event(current_event()).pairs)[-1].number + 1


def two_of_different_heats() -> tuple[str, str]:
    plan = heat_plan.heats_of_plan(load_event(current_event()).pairs)
    return plan[0].codes[0], plan[1].codes[0]


ACTS: dict[str, Callable[[], object]] = {
    "record_answer": lambda: read("Ash"),
    "record_answers": lambda: answers.record_answers(
        [SubmittedReading(uuid.uuid4(), "P01", "C1", SEVEN, "Ash")]
    ),
    "take_back": take_back,
    "adjudicate": adjudicate,
    "make_event": lambda: without_event(
        lambda: events.make_event("Day", date(2027, 5, 8), "", "percent accuracy", by="Juniper")
    ),
    "keep_event": lambda: without_event(
        lambda: events.keep_event(larkspur_valley(), by="Juniper", what="brought it")
    ),
    "release": lambda: releases.release(by="Juniper", why="the buses leave", shows_names=True),
    "withhold": withhold,
    "fill": lambda: heat_plan.fill(5, anew=True, by="Juniper"),
    "move": lambda: heat_plan.move("P01", another_heat(), by="Juniper"),
    "swap": lambda: heat_plan.swap(*two_of_different_heats(), by="Juniper"),
    "take_in": lambda: heat_plan.take_in(
        lambda: pairs.add_pair("", "Quillbank", ("Ada", "Bo"), "", by="Juniper"),
        another_heat(),
        by="Juniper",
    ),
    "check_in": lambda: check_in.check_in(pair("P01"), is_here=True, by="Juniper"),
    "check_in_school": lambda: check_in.check_in_school("Fernhollow", by="Juniper"),
    "check_out": check_out,
    "pause_heat": pause_heat,
    "resume_heat": resume_heat,
    "pause_every_room": pause_every_room,
    "resume_every_room": resume_every_room,
    "change_event": lambda: events.change_event(
        "Another day", date(2027, 5, 9), "", "beginners", by="Juniper"
    ),
    "change_pair": lambda: pairs.change_pair(
        pair("P01"), school="Elsewhere", members=("Ada",), whole_school=True, by="Juniper"
    ),
    "state_faces": state_faces,
    "start_heat": started,
    "extend_heat": extend_heat,
    "stop_heat": stop_heat,
    "add_thing": lambda: kit_things.add_thing(
        "item", {"code": "C9", "station": Station.COUNT.value, "name": "jar"}, by="Juniper"
    ),
    "add_cups": lambda: kit_things.add_cups(
        [("777", Decimal("8.5"))], instrument=scale(), batch="", by="Juniper"
    ),
    "change_thing": lambda: kit_things.change_thing(
        "item", item("C1"), {"name": "another jar"}, by="Juniper", why="a slip"
    ),
    "remove_thing": remove_thing,
    "add_reading": add_reading,
    "strike_reading": strike_reading,
    "decide": lambda: kit.decide(
        item("C1"), Decimal(242), by="Juniper", why="counted thrice", withdraw=False
    ),
    "add_pair": lambda: pairs.add_pair("", "Quillbank", ("Ada", "Bo"), "", by="Juniper"),
    "set_status": lambda: pairs.set_status(pair("P01"), PairStatus.ABSENT, by="Juniper", why="ill"),
    "import_pairs": lambda: pairs.import_pairs(
        "school,first pupil,second pupil\nQuillbank,Ada,Bo\n", by="Juniper"
    ),
}


def moved(act: Callable[[], object]) -> None:
    before = revision_now()
    current_results(current_event())
    act()
    assert revision_now() != before
    is_up_to_date()


def is_up_to_date() -> None:
    record = current_event()
    assert current_results(record) == results(load_event(record))
    desk = snapshot_now()
    assert desk.record == record
    assert desk.is_released == (record.released_at is not None)
    assert desk.pair_ids == dict(record.pairs.values_list("code", "pk"))
    assert desk.cups >= set(record.cups.values_list("number", flat=True))


@pytest.mark.slow
@pytest.mark.parametrize("name", ACTS)
def test_an_act_makes_what_was_computed_before_old(empty_event, name):
    moved(ACTS[name])


def test_the_table_names_every_act_on_the_event():
    named = {
        name
        for module in MODULES
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__ and not name.startswith("_")
        if "by" in inspect.signature(function).parameters
    }

    parts_of_release = {"keep_release", "tell_return"}
    assert (named - parts_of_release) | {"record_answers"} == set(ACTS)
