"""The shelf of practice jars, for those who manage it: pour, bring, open, print."""

from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, JsonResponse

from nearmark.errors import InputError
from nearmark.printing.box_page import box_key_pdf, box_page_pdf, drawn_boxes
from nearmark.printing.jar_cards import JarCard, jar_cards_key_pdf, jar_cards_pdf
from nearmark.site.common import clock
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.responses import done, file_answer, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.jars import actions as acts
from nearmark.site.jars.forms import PhotoForm, PourForm
from nearmark.site.jars.models import PracticeJar
from nearmark.site.jobs import actions as job_acts
from nearmark.site.jobs.models import Job
from nearmark.words.replies import jars_imported

KIND_PREFIX = "jar-"
MAX_SHOWN = 6
MAX_FILES = 40
MAX_CARDS = 40


@dataclass(frozen=True, slots=True)
class ShelfView:
    """What is on the shelf, and what can be put on it."""

    title: str
    shelf: QuerySet[PracticeJar]
    pour_form: PourForm
    photo_form: PhotoForm
    jobs: list[Job]  # what is being poured
    is_open_to_all: bool
    is_lead: bool
    seed: int  # number of the page of boxes that is proposed


def jar_shelf(
    request: HttpRequest,
    *,
    pour_form: PourForm | None = None,
    photo_form: PhotoForm | None = None,
    status: int = 200,
) -> HttpResponse:
    """What is on the shelf, and what can be put on it."""
    view = ShelfView(
        title="Jar shelf",
        shelf=PracticeJar.objects.filter(gone_at=None),
        pour_form=pour_form or PourForm(),
        photo_form=photo_form or PhotoForm(),
        jobs=_pouring(),
        is_open_to_all=acts.is_open_to_all(),
        is_lead=visitor_of(request).is_lead,
        seed=clock.now().toordinal() % 1000,
    )
    return show(request, "jars/shelf", view, status=status)


def _pouring() -> list[Job]:
    """What is being poured now, and the last that came to an end without a jar."""
    rows = Job.objects.filter(kind__startswith=KIND_PREFIX)[:MAX_SHOWN]
    return [job for job in rows if job.is_open or job.told]


def jar_pouring(_request: HttpRequest) -> HttpResponse:
    """The same for the script of the page: number -> state and steps."""
    return JsonResponse(
        {str(j.pk): {"state": j.state, "done": j.n_done, "all": j.n_all} for j in _pouring()}
    )


@post_only
def jar_pour(request: HttpRequest) -> HttpResponse:
    """Pour one in the background."""
    form = PourForm(request.POST)
    with refusals_on(form):
        given = form.checked()
        kind = KIND_PREFIX + given["band"]
        job_acts.ask(kind, int(given["shape"]), by=visitor_of(request).name)
        return done(request, "It is being poured; nobody knows how many.", "jar-shelf")
    return jar_shelf(request, pour_form=form, status=form.http_status)


@post_only
def jar_stop(request: HttpRequest, job_id: int) -> HttpResponse:
    """Stop a pour."""
    if not Job.objects.filter(pk=job_id, kind__startswith=KIND_PREFIX).exists():
        raise InputError("is not known", where="work", value=job_id, mend="Load the page again")
    job_acts.cancel(job_id, by=visitor_of(request).name)
    return done(request, "It stops at its next step.", "jar-shelf")


@post_only
def jar_ready(request: HttpRequest) -> HttpResponse:
    """Put the jars of the package on the shelf."""
    n = acts.shelve_ready(by=visitor_of(request).name)
    return done(request, f"{n} jars stand on the shelf.", "jar-shelf")


@post_only
def jar_import(request: HttpRequest) -> HttpResponse:
    """Bring jar files; each is looked at before it is kept, a bad one keeps out no other."""
    files = request.FILES.getlist("files")
    if not files:
        raise InputError("none was chosen", where="jar files", mend="Choose one or more")
    if len(files) > MAX_FILES:
        raise InputError(
            f"at most {MAX_FILES} at once",
            where="jar files",
            value=len(files),
            mend="Choose fewer",
        )
    kept, refused = 0, []
    for file in files:
        try:
            if (file.size or 0) > acts.MAX_JAR_BYTES:
                raise InputError("is larger than 500 kB")  # noqa: TRY301 - told beside its name
            acts.import_jar(file.read(), by=visitor_of(request).name)
            kept += 1
        except InputError as refusal:
            refused.append(f"{str(file.name)[:60]}: {refusal.what}")
    if refused:
        raise InputError(
            f"{kept} kept, {len(refused)} not: {'; '.join(refused[:5])}",
            where="jar files",
            mend="Choose files that nearmark jar wrote",
        )
    return done(request, jars_imported(kept), "jar-shelf")


@post_only
def jar_photo(request: HttpRequest) -> HttpResponse:
    """Make a photo a practice jar."""
    form = PhotoForm(request.POST, request.FILES)
    with refusals_on(form):
        given = form.checked()
        jar = acts.add_photo(
            given["photo"].read(acts.MAX_PHOTO_BYTES + 1),
            given["what"],
            given["count"],
            given["checked_by"],
            by=visitor_of(request).name,
        )
        return done(request, f"Photo jar {jar.code} is on the shelf.", "jar-shelf")
    return jar_shelf(request, photo_form=form, status=form.http_status)


@post_only
def jar_open(request: HttpRequest, jar_id: int) -> HttpResponse:
    """Open a jar for practice, or keep it back."""
    is_open = request.POST.get("open") == "yes"
    jar = acts.set_open(jar_id, is_open=is_open, by=visitor_of(request).name)
    return done(request, f"{jar.code} is {'open' if is_open else 'kept back'}.", "jar-shelf")


@post_only
def jar_take_off(request: HttpRequest, jar_id: int) -> HttpResponse:
    """Take a jar off the shelf."""
    jar = acts.take_off(jar_id, by=visitor_of(request).name)
    return done(request, f"{jar.code} is off the shelf.", "jar-shelf")


@post_only
def jar_everybody(request: HttpRequest) -> HttpResponse:
    """Switch practice for everybody on this network on or off."""
    is_open = request.POST.get("open") == "yes"
    acts.open_to_all(is_open=is_open, by=visitor_of(request).name)
    words = "Everybody on this network may practise now." if is_open else "Closed again."
    return done(request, words, "jar-shelf")


def jar_cards_file(request: HttpRequest) -> HttpResponse:
    """The chosen jars as printed cards, a page each; no count."""
    return file_answer(jar_cards_pdf(_cards(request), day=_today()), "jar-cards.pdf")


def jar_cards_key_file(request: HttpRequest) -> HttpResponse:
    """The counts of the chosen jars."""
    return file_answer(jar_cards_key_pdf(_cards(request, key=True), day=_today()), "jar-key.pdf")


def _cards(request: HttpRequest, *, key: bool = False) -> list[JarCard]:
    asked = map(typed_number, request.GET.getlist("jar"))
    chosen = [number for number in asked if number is not None]
    if not chosen:
        raise InputError("none was chosen", where="jars", mend="Tick one or more on the shelf")
    if len(chosen) > MAX_CARDS:
        raise InputError(
            f"at most {MAX_CARDS} at once", where="jars", value=len(chosen), mend="Choose fewer"
        )
    return [acts.card_of(acts.known_jar(number), with_pictures=not key) for number in chosen]


def box_page_file(request: HttpRequest) -> HttpResponse:
    """A page of boxes to work out."""
    return file_answer(box_page_pdf(drawn_boxes(_seed(request)), day=_today()), "boxes.pdf")


def box_key_file(request: HttpRequest) -> HttpResponse:
    """The volumes of the same boxes."""
    return file_answer(box_key_pdf(drawn_boxes(_seed(request)), day=_today()), "boxes-key.pdf")


def _seed(request: HttpRequest) -> int:
    text = request.GET.get("seed", "1")
    number = typed_number(text, 6)
    if number is None:
        raise InputError(
            "is no number of a page", where="page", value=text[:20], mend="Write 1 to 999999"
        )
    return number


def _today() -> date:
    return clock.now().date()
