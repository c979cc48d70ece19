"""What is known of one pair, put together for the page and the print of its story."""

import re
from collections.abc import Iterable
from datetime import datetime

from django.db.models import QuerySet
from django.utils import timezone

from nearmark.contest.answers import AcceptedAnswer, AnswerState
from nearmark.contest.cup_tares import CupTares
from nearmark.contest.division import items_of
from nearmark.contest.event import Item
from nearmark.contest.results import Results
from nearmark.contest.scoring import points_text
from nearmark.printing import PairStory, StoryItem, StoryLine
from nearmark.printing.key_sheet import key_line
from nearmark.printing.standings import place_sentence
from nearmark.printing.words import day_text, members_text, number_text
from nearmark.site.common import clock
from nearmark.site.event.answer_models import AdjudicationEntry, AnswerEntry
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event_day.heats.models import HeatRun
from nearmark.site.event_day.heats.state import EVERYBODY
from nearmark.site.event_day.results.actions import standings_kept
from nearmark.site.event_day.results.proof_lines import current_release
from nearmark.words.numbers import capital
from nearmark.words.replies import release_status
from nearmark.words.rules import rules_words
from nearmark.words.sides import unit_text

Told = tuple[datetime, StoryLine]

_READINGS = {1: "first reading", 2: "second reading"}
_STATES = {
    AnswerState.AGREED: "two people read the same",
    AnswerState.ADJUDICATED: "a third person decided",
    AnswerState.SINGLE: "read by one person only",
    AnswerState.CONFLICT: "the two readings differ, nobody has decided",
    AnswerState.MISSING: "nobody has read it",
}
# Told with the item already, with the reading itself.
_TOLD_ELSEWHERE = ("struck out", "decided", "undid the hand-in", "audited")


def pair_story(record: EventRecord, pair: PairRecord, outcome: Results) -> PairStory:
    """The whole story of one pair. ``outcome``: of the event as it is now."""
    event = outcome.event
    known = next(one for one in event.pairs if one.code == pair.code)
    line = next(one for one in outcome.pairs if one.pair.code == pair.code)
    release = current_release(record)
    decimals = event.rules.decimals
    highest = outcome.highest_total_of(items_of(known, event))
    total = f"{points_text(line.total, decimals)} of {points_text(highest, 0)} points"
    return PairStory(
        event=event.name,
        day=day_text(event.day),
        rules=rules_words(event.rules),
        pair=pair.code,
        school=pair.school,
        children=members_text(known),
        standing=", ".join(filter(None, (place_sentence(line, outcome).rstrip("."), total))),
        state=release_status(release.number if release else 0, len(outcome.open_points)),
        items=tuple(_item(record, pair, item, outcome) for item in items_of(known, event)),
        events=tuple(_of_the_day(record, pair)),
        releases=tuple(_releases(record, pair.code)),
        made_at=_at(clock.now()),
    )


def _item(record: EventRecord, pair: PairRecord, item: Item, outcome: Results) -> StoryItem:
    key = outcome.keys[item.code]
    shown = key_line(key)
    answer = outcome.answers.get((pair.code, item.code))
    scores = next(line.items for line in outcome.pairs if line.pair.code == pair.code)
    scored = next((score for score in scores if score.item == item.code), None)
    is_sure = key.key is not None and bool(shown.expanded_u)
    u = f"U {shown.expanded_u} {shown.unit} ({shown.relative}), " if is_sure else ""
    return StoryItem(
        code=item.code,
        name=item.name,
        lines=tuple(_lines(record, pair, item.code, CupTares.of(outcome.event))),
        answer=_answer(answer, unit_text(key.unit)),
        key=f"{shown.key} {shown.unit}".strip() if key.key is not None else "",
        key_remark=capital(f"{u}{shown.verdict}. {shown.remark}".strip()),
        points="" if scored is None else points_text(scored.weighted, outcome.event.rules.decimals),
    )


def _answer(answer: AcceptedAnswer | None, unit: str) -> str:
    if answer is None:
        return "nothing: the pair does not take part"
    how = _STATES[answer.state]
    if answer.estimate is not None:
        return f"{number_text(answer.estimate)} {unit}, {how}"
    if answer.state in {AnswerState.CONFLICT, AnswerState.MISSING}:
        return f"0 for now: {how}"
    return f"0: {answer.status.value}, {how}"


def _lines(record: EventRecord, pair: PairRecord, code: str, tares: CupTares) -> list[StoryLine]:
    """Everything that was read or decided for one item, in the order of time."""
    found = [
        *_readings(pair, code, tares),
        *_decisions(pair, code, tares),
        *_audits(pair, code),
        *_key_decisions(record, code),
    ]
    return _in_time(found)


def _in_time(found: Iterable[Told]) -> list[StoryLine]:
    return [line for _, line in sorted(found, key=lambda one: one[0])]


def _readings(pair: PairRecord, code: str, tares: CupTares) -> Iterable[Told]:
    for row in pair.entries.filter(item__code=code):
        value, remark = _written(row, tares)
        if row.struck_at is not None:
            struck = f"struck out {_at(row.struck_at)} by {row.struck_by}: {row.struck_why}"
            remark = "; ".join(filter(None, (remark, struck)))
        what = _READINGS.get(row.reading, f"reading {row.reading}")
        line = StoryLine(_at(row.at), row.clerk, what, value, remark, row.struck_at is None)
        yield row.at, line


def _decisions(pair: PairRecord, code: str, tares: CupTares) -> Iterable[Told]:
    decided = list(pair.adjudications.filter(item__code=code))
    for one in decided:
        value, remark = _written(one, tares)
        remark = "; ".join(filter(None, (remark, one.reason)))
        holds = one is decided[-1]
        yield one.at, StoryLine(_at(one.at), one.clerk, "decision", value, remark, holds)


def _audits(pair: PairRecord, code: str) -> Iterable[Told]:
    for check in pair.audit_checks.select_related("item"):
        if check.item is None or check.item.code == code:
            remark = "on the paper" if check.item else "the whole sheet agrees"
            line = StoryLine(_at(check.at), check.by, "paper audit", check.shows, remark)
            yield check.at, line


def _key_decisions(record: EventRecord, code: str) -> Iterable[Told]:
    for kept in record.decisions.filter(item__code=code):
        value = "the measured value" if kept.value is None else number_text(kept.value)
        yield kept.at, StoryLine(_at(kept.at), kept.by, "decision on the key", value, kept.reason)


def _written(row: AnswerEntry | AdjudicationEntry, tares: CupTares) -> tuple[str, str]:
    """What somebody wrote down, and what is known of the cup."""
    shown = row.status if row.value is None else number_text(row.value)
    if not row.cup:
        return shown, ""
    tare, own = tares.tare_g(row.cup), tares.cups.get(row.cup)
    if tare is None:
        return f"{shown} g in cup {row.cup}", f"cup {row.cup} has no tare"
    on = f" on {own.instrument}" if own else ", mean of its batch"
    return f"{shown} g in cup {row.cup}", f"empty cup {tare:f} g{on}"


def _of_the_day(record: EventRecord, pair: PairRecord) -> list[StoryLine]:
    found = []
    for run in _runs(record, pair):
        when = run.stopped_at or run.ends_at
        ended = f"ended {_at(when)}" if when and when <= clock.steady_now() else ""
        found.append((run.started_at, StoryLine(_at(run.started_at), "", run.called, "", ended)))
    is_named = re.compile(rf"(?<![\w-]){re.escape(pair.code)}(?![\w-])").search
    for change in record.changes.filter(what__contains=pair.code):
        if is_named(change.what) and not change.what.startswith(_TOLD_ELSEWHERE):
            value = " to ".join(filter(None, (change.old, change.new)))
            line = StoryLine(_at(change.at), change.who, change.what, value, change.why)
            found.append((change.at, line))
    return _in_time(found)


def _runs(record: EventRecord, pair: PairRecord) -> QuerySet[HeatRun]:
    """The starts of its heat, in its room; without a room: in any."""
    runs = record.heat_runs.filter(heat=pair.heat or EVERYBODY)
    return runs.filter(room__in=(pair.room, "")) if pair.room else runs


def _releases(record: EventRecord, code: str) -> Iterable[str]:
    for release in record.releases.order_by("number"):
        for row in standings_kept(release):
            if row.code == code:
                place = "without a place" if row.place is None else f"place {row.place}"
                total = points_text(row.total, release.decimals)
                when = f"Release {release.number}, {_at(release.at)}"
                yield f"{when}: {place}, {total} points."


def _at(when: datetime) -> str:
    return f"{timezone.localtime(when):%d %b %H:%M:%S}"
