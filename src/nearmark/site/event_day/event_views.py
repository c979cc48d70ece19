"""Beginning an event, changing what it is called, bringing one, taking it away."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.demo import larkspur_valley
from nearmark.errors import InputError
from nearmark.event_folder.writer import contents_of
from nearmark.site.common.limits import MAX_UPLOAD_BYTES
from nearmark.site.common.local_time import today
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.common.zips import zipped
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import open_event, required_event
from nearmark.site.event.load import load_event
from nearmark.site.event.models import EventRecord
from nearmark.site.event_day import event_actions as events
from nearmark.site.event_day.demo import bring_demo
from nearmark.site.event_day.event_settings import settings_view
from nearmark.site.event_day.forms import EventChangeForm, EventForm
from nearmark.site.event_day.results.proof_actions import proof_files
from nearmark.site.event_day.results.proof_lines import current_release


@dataclass(frozen=True, slots=True)
class SetUpView:
    """How to begin an event."""

    title: str
    form: EventForm
    has_others: bool  # whether there are events already


def set_up_view(form: EventForm) -> SetUpView:
    """The page that begins an event."""
    return SetUpView("Begin an event", form, EventRecord.objects.exists())


@post_only
def event_make(request: HttpRequest) -> HttpResponse:
    """Begin an event from a form."""
    form = EventForm(request.POST)
    with refusals_on(form):
        events.make_event(**form.checked(), by=visitor_of(request).name)
        return done(request, "The event is there.", "overview")
    view = set_up_view(form)
    return show(request, "event_day/set_up", view, status=form.http_status)


def event_change(request: HttpRequest) -> HttpResponse:
    """Change name, day, place and rule set of the event."""
    record = open_event()
    form = EventChangeForm(request.POST) if request.method == "POST" else None
    if form is not None and form.is_valid():
        with refusals_on(form):
            changed = events.change_event(**form.cleaned_data, by=visitor_of(request).name)
            return done(request, f"Changed: {', '.join(changed)}.", "overview")
    status = 200 if form is None else form.http_status
    return show(request, "event_day/event_change", settings_view(record, form), status=status)


@post_only
def event_import(request: HttpRequest) -> HttpResponse:
    """Bring the files of an event folder."""
    uploads = request.FILES.getlist("files")
    if not uploads:
        raise InputError("no file was chosen", where="event folder", mend="Choose all its files")
    if sum(upload.size or 0 for upload in uploads) > MAX_UPLOAD_BYTES:
        raise InputError("is larger than 20 MB", where="event folder", mend="Check the files")
    event = events.event_from_files({str(u.name): u.read() for u in uploads})
    events.keep_event(event, by=visitor_of(request).name, what="brought the event from its folder")
    return done(request, "The event was read without a problem.", "overview")


@post_only
def event_demo(request: HttpRequest) -> HttpResponse:
    """Bring the invented demo event."""
    bring_demo(larkspur_valley(), today=today(), by=visitor_of(request).name)
    return done(request, "This is an invented event: try everything.", "overview")


def event_export(_request: HttpRequest) -> HttpResponse:
    """The event folder as one file; ``nearmark score`` computes the same from it."""
    record = required_event()
    contents = contents_of(load_event(record))
    release = current_release(record)
    proof = proof_files(release) if release else {}
    packed = zipped({f"event/{name}": content for name, content in (contents | proof).items()})
    response = HttpResponse(packed, content_type="application/zip")
    response["Content-Disposition"] = f'attachment; filename="event-{record.day}.zip"'
    return response
