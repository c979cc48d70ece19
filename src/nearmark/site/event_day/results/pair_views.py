"""The page of one pair: its whole story, and who is in it."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.contest.event import PairStatus
from nearmark.errors import InputError
from nearmark.printing import PairStory, pair_story_pdf
from nearmark.site.common.responses import done, file_answer, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event
from nearmark.site.event.models import EventRecord, PairRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.pairs.actions import change_pair
from nearmark.site.event_day.pairs.forms import PairChangeForm
from nearmark.site.event_day.results.pair_story import pair_story


@dataclass(frozen=True, slots=True)
class PairView:
    """One pair: its whole story, and who is in it."""

    title: str
    pair: PairRecord
    who: str  # children, heat, and the status of a pair that is not simply entered
    story: PairStory
    form: PairChangeForm
    rooms: list[str]  # to choose from; empty: the event has none
    divisions: list[str]  # the same of divisions


def pair(request: HttpRequest, pair_id: int) -> HttpResponse:
    """Who read what and when, cups, keys, scores, corrections."""
    record, row = _known(pair_id)
    return show(request, "event_day/results/pair", _view(record, row, _form(row)))


def _known(pair_id: int) -> tuple[EventRecord, PairRecord]:
    record = current_event()
    row = record.pairs.filter(pk=pair_id).first() if record else None
    if record is None or row is None:
        raise InputError("is not known", where="pair", mend="Go back to the pairs")
    return record, row


def _form(row: PairRecord) -> PairChangeForm:
    first, second = (*row.members, "", "")[:2]
    return PairChangeForm(initial={"school": row.school, "first": first, "second": second})


def _view(record: EventRecord, row: PairRecord, form: PairChangeForm) -> PairView:
    story = pair_story(record, row, current_results(record))
    status = "" if row.status == PairStatus.ENTERED.value else row.status
    who = ", ".join(filter(None, [story.children, row.division, row.heat, row.room, status]))
    rooms = list(record.rooms.values_list("name", flat=True))
    divisions = list(record.divisions.values_list("name", flat=True))
    return PairView(f"Pair {row.code}", row, who, story, form, rooms, divisions)


def pair_story_file(_request: HttpRequest, pair_id: int) -> HttpResponse:
    """The same on paper, for somebody who asks how the points came about."""
    record, row = _known(pair_id)
    story = pair_story(record, row, current_results(record))
    return file_answer(pair_story_pdf(story, day=record.day), "pair.pdf")


@post_only
def pair_change(request: HttpRequest, pair_id: int) -> HttpResponse:
    """Change the children or the school."""
    record, row = _known(pair_id)
    form = PairChangeForm(request.POST)
    with refusals_on(form):
        given = form.checked()
        change_pair(
            pair_id,
            school=given["school"],
            members=tuple(name for name in (given["first"], given["second"]) if name),
            whole_school=given["whole_school"],
            by=visitor_of(request).name,
            why=given["why"],
        )
        return done(request, f"{row.code} was changed.", "pair", pair_id)
    view = _view(record, row, form)
    return show(request, "event_day/results/pair", view, status=form.http_status)
