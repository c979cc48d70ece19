"""All events of this folder: open one, prepare the next one, look at the figures, delete one."""

from dataclasses import dataclass

from django.db.models import Count
from django.http import HttpRequest, HttpResponse

from nearmark.contest.next_event import ItemFigures, event_figures
from nearmark.printing.words import day_text
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.load import current_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event.results_cache import current_results
from nearmark.site.event_day.event_views import set_up_view
from nearmark.site.event_day.events import actions
from nearmark.site.event_day.events.forms import DeleteEventForm, NextEventForm
from nearmark.site.event_day.forms import EventForm
from nearmark.words.next_event import figures_sentences, near_words
from nearmark.words.numbers import percent


@dataclass(frozen=True, slots=True)
class EventLine:
    """One event of the list."""

    pk: int
    name: str
    when: str
    n_pairs: int
    is_open: bool
    states: tuple[str, ...]  # open now, practice, results are out


@dataclass(frozen=True, slots=True)
class EventsView:
    """All events, the open one first."""

    title: str
    events: list[EventLine]


@dataclass(frozen=True, slots=True)
class NextEventView:
    """The form of the next event."""

    title: str
    source: EventRecord
    form: NextEventForm


@dataclass(frozen=True, slots=True)
class ItemLine:
    """One item of a table of figures, as text; empty where it is not known."""

    item: str
    name: str
    key: str
    u: str
    n_answers: int
    median_points: str
    near: str


@dataclass(frozen=True, slots=True)
class FiguresView:
    """The figures of one event, and its deletion."""

    title: str
    source: EventRecord
    when: str
    sentences: tuple[str, ...]
    lines: list[ItemLine]
    near: str  # heading of the column
    form: DeleteEventForm | None  # none for the open event


def events(request: HttpRequest) -> HttpResponse:
    """Show all events of this folder."""
    return show(request, "event_day/events/events", EventsView("Events", _lines()))


def _lines() -> list[EventLine]:
    present = current_event()
    rows = EventRecord.objects.annotate(n_pairs=Count("pairs")).order_by("-day", "-pk")
    lines = [
        EventLine(
            row.pk,
            row.name,
            day_text(row.day),
            row.n_pairs,
            is_open := present is not None and row.pk == present.pk,
            tuple(
                words
                for words, is_so in (
                    ("open now", is_open),
                    ("practice", row.is_practice),
                    ("results are out", row.released_at is not None),
                )
                if is_so
            ),
        )
        for row in rows
    ]
    return sorted(lines, key=lambda line: not line.is_open)


def event_begin(request: HttpRequest) -> HttpResponse:
    """Show the ways to begin an event."""
    return show(request, "event_day/set_up", set_up_view(EventForm()))


@post_only
def event_open(request: HttpRequest, event_id: int) -> HttpResponse:
    """Open another event."""
    record = actions.open_again(event_id, by=visitor_of(request).name)
    return done(request, f"Open now: {record.name}, {day_text(record.day)}.", "overview")


def event_next(request: HttpRequest, event_id: int) -> HttpResponse:
    """Prepare the next event from this one."""
    source = actions.event_of(event_id)
    form = NextEventForm(request.POST or None, initial={"name": source.name})
    if request.method == "POST" and form.is_valid():
        with refusals_on(form):
            actions.prepare_again(event_id, **form.cleaned_data, by=visitor_of(request).name)
            words = "The next event is open. Containers wait for their readings."
            return done(request, words, "overview")
    view = NextEventView("Prepare the next event", source, form)
    return show(request, "event_day/events/next_event", view, status=form.http_status)


def event_figures_page(request: HttpRequest, event_id: int) -> HttpResponse:
    """Show what the next event can be planned with."""
    return _figures(request, event_id, DeleteEventForm())


@post_only
def event_delete(request: HttpRequest, event_id: int) -> HttpResponse:
    """Delete an event that is not open."""
    form = DeleteEventForm(request.POST)
    with refusals_on(form):
        actions.delete_event(event_id, **form.checked(), by=visitor_of(request).name)
        return done(request, "The event was deleted.", "events")
    return _figures(request, event_id, form)


def _figures(request: HttpRequest, event_id: int, form: DeleteEventForm) -> HttpResponse:
    source = actions.event_of(event_id)
    figures = event_figures(current_results(source))
    present = current_event()
    is_open = present is not None and present.pk == source.pk
    view = FiguresView(
        title=f"{source.name}: figures",
        source=source,
        when=day_text(source.day),
        sentences=figures_sentences(figures),
        lines=[_item_line(item) for item in figures.items],
        near=near_words(),
        form=None if is_open else form,
    )
    return show(request, "event_day/events/figures", view, status=form.http_status)


def _item_line(figures: ItemFigures) -> ItemLine:
    """One line of the table."""
    points, near = figures.median_points, figures.share_near
    return ItemLine(
        item=figures.item,
        name=figures.name,
        key="" if figures.key is None else f"{figures.key:f}",
        u="" if figures.relative_u is None else percent(figures.relative_u, 1),
        n_answers=figures.n_answers,
        median_points="" if points is None else f"{float(points):.0f}",
        near="" if near is None else percent(near),
    )
