"""Take-home bags, and the home sheet of a pupil."""

from dataclasses import dataclass

from django import forms
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.utils.http import urlencode

from nearmark.coaching import Bag, kinds_of, read_club, rotation, take_home_bag
from nearmark.errors import InputError
from nearmark.kit import material, materials
from nearmark.printing import Hand, bag_labels_pdf, home_sheet_pdf
from nearmark.site.common import clock
from nearmark.site.common.forms import BaseForm, DecimalField
from nearmark.site.common.local_time import local_day
from nearmark.site.common.lookup import known_row
from nearmark.site.common.responses import file_answer, paper_size, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.attempt_columns import attempts_of
from nearmark.site.season.club_access import clubs_of
from nearmark.site.season.hand_page import hand_lines
from nearmark.site.season.models import Club, Pupil

SESSIONS = 8


class BagsForm(BaseForm):
    """Which bags, and for whom. ``clubs``: to choose from."""

    m = forms.MultipleChoiceField(label="Materials", widget=forms.CheckboxSelectMultiple)
    club = forms.ModelChoiceField(
        Club.objects.none(), label="Club", required=False, empty_label="no list of who has which"
    )
    grams = DecimalField(label="Grams in each bag", initial="100")
    letter = forms.BooleanField(label="US letter paper instead of A4", required=False)

    def __init__(self, clubs: QuerySet[Club], *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        self.fields["club"].queryset = clubs  # type: ignore[attr-defined]
        self.fields["m"].choices = [(m.code, m.name) for m in materials()]  # type: ignore[attr-defined]


@dataclass(frozen=True, slots=True)
class Turn:
    """Who has which bag after one practice."""

    session: int
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BagsView:
    """What goes into the bags, and who takes which home; empty until materials are chosen."""

    title: str
    form: BagsForm
    bags: list[Bag]
    pupils: list[str]
    turns: list[Turn]
    cautions: list[tuple[str, list[str]]]  # with the materials each is for
    labels: str  # query of the address of the labels


def bags(request: HttpRequest) -> HttpResponse:
    """What goes into the bags, and who takes which home."""
    form = BagsForm(clubs_of(visitor_of(request)), request.GET if "m" in request.GET else None)
    chosen = _chosen(form)
    pupils = _pupils(form) if chosen else []
    view = BagsView(
        title="Take-home bags",
        form=form,
        bags=chosen,
        pupils=pupils,
        turns=_turns(pupils, chosen),
        cautions=_cautions(chosen),
        labels=urlencode(_query(form), doseq=True) if chosen else "",
    )
    return show(request, "season/bags", view, status=422 if form.errors else 200)


def bags_labels(request: HttpRequest) -> HttpResponse:
    """The labels as PDF."""
    form = BagsForm(clubs_of(visitor_of(request)), request.GET)
    chosen = _chosen(form)
    if not chosen:
        raise InputError(
            "none was chosen", where="materials", mend="Choose the bags first, then the labels"
        )
    paper = "us-letter" if form.cleaned_data["letter"] else "a4"
    today = local_day(clock.now())
    return file_answer(bag_labels_pdf(chosen, day=today, paper=paper), "bag-labels.pdf")


def _chosen(form: BagsForm) -> list[Bag]:
    if not form.is_bound or not form.is_valid():
        return []
    grams = float(form.cleaned_data["grams"])
    return [take_home_bag(material(code), mass_g=grams) for code in form.cleaned_data["m"]]


def _query(form: BagsForm) -> dict[str, str | list[str]]:
    given = form.cleaned_data
    asked: dict[str, str | list[str]] = {"m": given["m"], "grams": f"{given['grams']:f}"}
    if given["letter"]:
        asked["letter"] = "on"
    return asked


def _pupils(form: BagsForm) -> list[str]:
    club = form.cleaned_data["club"]
    return [] if club is None else [pupil.name for pupil in club.pupils.all()]


def _turns(pupils: list[str], chosen: list[Bag]) -> list[Turn]:
    if not pupils or not chosen:
        return []
    names = {bag.material.code: bag.material.name for bag in chosen}
    turns = rotation(pupils, list(names), SESSIONS)
    return [
        Turn(session, tuple(names[turn[pupil]] for pupil in pupils))
        for session, turn in enumerate(turns, 1)
    ]


def _cautions(chosen: list[Bag]) -> list[tuple[str, list[str]]]:
    """Each caution once, with the materials it is for."""
    found: dict[str, list[str]] = {}
    for bag in chosen:
        for caution in bag.cautions:
            found.setdefault(caution, []).append(bag.material.name)
    return list(found.items())


def home_sheet(request: HttpRequest, pupil_id: int) -> HttpResponse:
    """A pupil's home sheet as PDF."""
    pupil = known_row(Pupil.objects.select_related("club"), "pupil", pk=pupil_id)
    log = attempts_of(pupil.club)
    habits = read_club(log)
    own = habits.get(pupil.name)
    if own is None:
        raise InputError(
            "has no attempt yet", where=pupil.name, mend="Log one attempt, then print the sheet"
        )
    today = local_day(clock.now())
    first = min(attempt.day for attempt in log)
    week = max(0, (today - first).days // 7)
    paper = paper_size(request)
    page = home_sheet_pdf(
        own, day=today, known=kinds_of(habits), week=week, hand=_hand(pupil), paper=paper
    )
    return file_answer(page, "home-sheet.pdf")


def _hand(pupil: Pupil) -> Hand:
    lines = hand_lines(pupil)
    found = tuple(line.reference for line in lines)
    return Hand(found, min((line.day for line in lines), default=None))
