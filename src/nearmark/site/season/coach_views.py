"""The lead gives a club to a coach, and takes it back."""

from dataclasses import dataclass

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from nearmark.errors import InputError
from nearmark.site.common.lookup import typed_number
from nearmark.site.common.responses import done, post_only
from nearmark.site.door.access import Role
from nearmark.site.door.models import Account
from nearmark.site.door.visitor import visitor_of
from nearmark.site.season.club_actions import give_club, take_club_back
from nearmark.site.season.models import Club
from nearmark.site.season.views import club_of


@dataclass(frozen=True, slots=True)
class ClubCoaches:
    """Who opens a club."""

    own: QuerySet[Account]
    others: QuerySet[Account]  # who else could
    gives: bool  # the visitor decides that


def coaches_of(request: HttpRequest, club: Club) -> ClubCoaches:
    """Who opens a club, and who else could."""
    others = Account.objects.filter(role=Role.COACH.value, is_active=True).exclude(clubs=club)
    gives = visitor_of(request).is_lead
    return ClubCoaches(club.coaches.order_by("name"), others.order_by("name"), gives)


@post_only
def club_coaches(request: HttpRequest, club_id: int) -> HttpResponse:
    """Give a club to a coach, or take it back."""
    club, by = club_of(club_id), visitor_of(request).name
    back = f"{reverse('season-club', args=[club.pk])}#coaches"
    if "away" in request.POST:
        coach = take_club_back(club, _number(request.POST["away"]), by=by)
        return done(request, f"{coach.name} can no longer see {club.name}.", back)
    coach = give_club(club, _number(request.POST.get("coach", "")), by=by)
    return done(request, f"{coach.name} sees {club.name} from now on.", back)


def _number(text: str) -> int:
    number = typed_number(text)
    if number is None:
        raise InputError("is no coach", where="coach", value=text[:20], mend="Choose from the list")
    return number
