"""The season room: clubs, what each should practise next, and what is over its date."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse

from nearmark.coaching import club_next
from nearmark.site.common.local_time import today
from nearmark.site.common.responses import done, post_only, refusals_on, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season import retention_actions as season_keeping
from nearmark.site.season.club_access import clubs_of
from nearmark.site.season.club_actions import make_club
from nearmark.site.season.demo import NAME as DEMO
from nearmark.site.season.demo import fill_demo_season
from nearmark.site.season.forms import ClubForm, one_year_on
from nearmark.site.season.habits_cache import habits_of
from nearmark.site.season.known_things import things_to_choose
from nearmark.site.season.models import Club
from nearmark.words.coaching_things import known_words
from nearmark.words.replies import clubs_deleted
from nearmark.words.sides import kind_words

REMIND_BEFORE: Final = timedelta(days=30)
"""So long before its day a club's date is shown."""


@dataclass(frozen=True, slots=True)
class NextStep:
    """What a club does next."""

    title: str
    why: str
    # Where it is done, and the words of the link.
    address: str
    link: str


@dataclass(frozen=True, slots=True)
class ClubCard:
    """A club on the first page."""

    club: Club
    n_pupils: int
    step: NextStep


@dataclass(frozen=True, slots=True)
class SeasonView:
    """What next, club by club."""

    title: str
    form: ClubForm
    cards: list[ClubCard]
    has_demo: bool
    over: list[Club]  # past the day until which they are kept
    soon: list[Club]  # close to it


def club_of(club_id: int) -> Club:
    """A club by its number, or the page that says there is none."""
    return get_object_or_404(Club, pk=club_id)


def season(request: HttpRequest) -> HttpResponse:
    """What next, club by club."""
    form = ClubForm(initial={"keep_until": one_year_on(today())})
    return show(request, "season/season", _view(request, form))


def _view(request: HttpRequest, form: ClubForm) -> SeasonView:
    clubs, day = list(clubs_of(visitor_of(request))), today()
    return SeasonView(
        title="Season",
        form=form,
        cards=[ClubCard(club, club.pupils.count(), next_step(club)) for club in clubs],
        has_demo=Club.objects.filter(name=DEMO).exists(),
        over=[club for club in clubs if club.keep_until < day],
        soon=[club for club in clubs if day <= club.keep_until <= day + REMIND_BEFORE],
    )


def next_step(club: Club) -> NextStep:
    """What a club does next, with the reason."""
    page = reverse("season-club", args=[club.pk])
    if not club.pupils.exists():
        return NextStep(
            "Who is in the club?",
            "A first name or a code each, nothing more",
            f"{page}#pupils",
            "Add pupils",
        )
    things = things_to_choose(club)
    if not things:
        return NextStep(
            "What will they practise with?",
            "A jar with a known count, a measured box, a cup of 100 g",
            reverse("season-things", args=[club.pk]),
            "Add a thing",
        )
    habits = habits_of(club)
    rounds = reverse("season-round", args=[club.pk])
    if not habits:
        return NextStep(
            "Log the first round",
            "One attempt of each pupil is enough to begin with",
            rounds,
            "Log a round",
        )
    fresh = [each for each in things if not each.known.is_known_to_most]
    pupils = club.pupils.values_list("name", flat=True)
    found = club_next(habits, pupils, {each.kind for each in fresh})
    if found is None:
        return NextStep(
            "Practise with a jar that nobody has seen",
            "most pupils know the true value of everything here; fresh jars are poured on this "
            "computer while nobody uses it",
            f"{reverse('drill-club', args=[club.pk])}?fresh=1",
            "Open a drill with a fresh jar",
        )
    first = next(each for each in fresh if each.kind == (found.station, found.size))
    n = len(found.pupils)
    knowers = known_words(first.known)
    return NextStep(
        f"Practise {kind_words(found.station, found.size)}: {first.thing.name}",
        f"comes first for {n} of {found.n_pupils} pupils; {knowers}",
        f"{rounds}?thing={first.thing.pk}",
        "Log a round with it",
    )


@post_only
def club_make(request: HttpRequest) -> HttpResponse:
    """Begin a club."""
    form = ClubForm(request.POST)
    with refusals_on(form):
        visitor = visitor_of(request)
        club = make_club(**form.checked(), today=today(), by=visitor.name, coach=visitor.coach)
        return done(request, "The club is there.", "season-club", club.pk)
    return show(request, "season/season", _view(request, form), status=form.http_status)


@post_only
def season_demo(request: HttpRequest) -> HttpResponse:
    """Bring the invented season."""
    visitor = visitor_of(request)
    club = fill_demo_season(today=today(), by=visitor.name, coach=visitor.coach)
    said = "This is an invented season: try everything."
    return done(request, said, "season-club", club.pk)


@post_only
def delete_overdue(request: HttpRequest) -> HttpResponse:
    """Delete every club of one's own whose day is over."""
    visitor = visitor_of(request)
    n = season_keeping.delete_overdue(clubs_of(visitor), today(), by=visitor.name)
    return done(request, clubs_deleted(n), "season")
