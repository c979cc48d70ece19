"""Practice jars: choose one, look at it from all sides, say how many, see why."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.errors import InputError, RuleError
from nearmark.site.common.responses import refusals_on, show
from nearmark.site.door.access import Role
from nearmark.site.door.visitor import visitor_of
from nearmark.site.jars import actions as acts
from nearmark.site.jars.answering import Outcome, answer_jar
from nearmark.site.jars.forms import BAND_WORDS, JarAnswerForm
from nearmark.site.jars.models import PracticeJar
from nearmark.words.numbers import capital

KEEPERS = (Role.LEAD, Role.COACH)
"""Who manages the shelf."""


def is_keeper(request: HttpRequest) -> bool:
    """Whether the visitor manages the shelf."""
    return visitor_of(request).role in KEEPERS


def _check_open(request: HttpRequest) -> None:
    if not (is_keeper(request) or acts.is_open_to_all()):
        raise RuleError(
            "practice with jars is not open here", mend="Ask your coach for a practice code"
        )


@dataclass(frozen=True, slots=True)
class JarGroup:
    """The jars of one size."""

    band: str
    about: str  # how many pieces they hold
    jars: list[PracticeJar]


@dataclass(frozen=True, slots=True)
class JarsView:
    """The jars one may practise on."""

    title: str
    groups: list[JarGroup]
    is_keeper: bool


def jars(request: HttpRequest) -> HttpResponse:
    """The jars one may practise on, by size."""
    _check_open(request)
    shelf = acts.jars_to_try()
    groups = [
        JarGroup(band, about, [jar for jar in shelf if jar.band == band])
        for band, about in BAND_WORDS.items()
    ]
    view = JarsView("Practice jars", [group for group in groups if group.jars], is_keeper(request))
    return show(request, "jars/jars", view)


@dataclass(frozen=True, slots=True)
class Scene:
    """What ``jars/scene.html`` shows."""

    name: str
    photo: str = ""  # empty for a poured jar, whose files are named instead
    shell: str = ""  # empty: still pictures only
    top: str = ""
    side: str = ""
    whole: str = ""  # after an answer: the whole jar, to be taken apart
    layer: int | None = None  # pieces in one layer, after an answer


@dataclass(frozen=True, slots=True)
class JarView:
    """One jar, and what an answer was worth."""

    title: str
    jar: PracticeJar
    form: JarAnswerForm
    shows_parts: bool
    outcome: Outcome | None
    next_jar: PracticeJar | None
    given_layer: Decimal | None  # pieces in one layer, as answered
    scene: Scene


def jar(request: HttpRequest, jar_id: int) -> HttpResponse:
    """One jar, and after an answer what it was worth; nothing is kept."""
    _check_open(request)
    found = acts.known_jar(jar_id)
    if not is_keeper(request) and (not found.is_open or acts.is_asked_now(found)):
        raise InputError("is not open for practice", where="jar", mend="Choose another")
    form = JarAnswerForm(request.POST or None)
    outcome = None
    if request.method == "POST" and form.is_valid():
        given = form.cleaned_data
        with refusals_on(form):
            outcome = answer_jar(
                jar_id,
                given["estimate"],
                _float(given["layer"]),
                _float(given["layers"]),
            )
    view = JarView(
        title=f"Jar {found.code}",
        jar=found,
        form=form,
        shows_parts=any(form[name].value() or form[name].errors for name in ("layer", "layers")),
        outcome=outcome,
        next_jar=_next(found),
        given_layer=form.cleaned_data.get("layer") if outcome else None,
        scene=scene(found, outcome),
    )
    return show(request, "jars/jar", view, status=form.http_status)


def _float(value: Any) -> float | None:
    return None if value is None else float(value)


def _next(jar: PracticeJar) -> PracticeJar | None:
    """Another open jar, the next of the shelf, round about."""
    others = acts.jars_to_try().exclude(pk=jar.pk)
    return others.filter(pk__gt=jar.pk).first() or others.first()


def scene(jar: PracticeJar, outcome: Outcome | None) -> Scene:
    """The jar as it is before the visitor; after an answer the whole of it can be taken apart."""
    if jar.is_photo:
        return Scene(capital(jar.what), photo=_address(jar, "photo"))
    return Scene(
        capital(jar.what),
        shell=_address(jar, "shell"),
        top=_address(jar, "top"),
        side=_address(jar, "side"),
        whole=reverse("jar-part", args=[outcome.whole_pass]) if outcome else "",
        layer=jar.layer if outcome else None,
    )


def _address(jar: PracticeJar, name: str) -> str:
    return reverse("jar-part", args=[acts.pass_for(jar, name)])


def jar_part(_request: HttpRequest, token: str) -> HttpResponse:
    """A file of a jar, for whoever holds its pass."""
    content, kind = acts.part_of_pass(token)
    return HttpResponse(content, content_type=kind)
