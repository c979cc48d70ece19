"""A coach may open clubs they made or were given; a lead may open all."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from django.db.models import QuerySet

from nearmark.site.door.access import ACCESS, Role
from nearmark.site.door.visitor import Visitor
from nearmark.site.season.models import Club

CLUB_OF: Final = MappingProxyType(
    {
        "club_id": "pk",
        "pupil_id": "pupils",
        "pair_id": "pairs",
        "thing_id": "things",
        "attempt_id": "attempts",
        "reading_id": "pupils__body_readings",
        "drill_id": "drills",
        "seat_id": "drills__seats",
        "meeting_id": "meetings",
    }
)
"""Number in an address of a club -> how it leads to the club."""


def clubs_of(visitor: Visitor) -> QuerySet[Club]:
    """The clubs that somebody may see."""
    if visitor.is_lead:
        return Club.objects.all()
    if visitor.role is Role.COACH:
        return Club.objects.filter(coaches=visitor.account)
    return Club.objects.none()


def is_of_others(name: str, visitor: Visitor, numbers: Mapping[str, object]) -> bool:
    """Whether an address belongs to a club that its visitor may not see.

    ``visitor``: whose role opens the address as such. ``numbers``: what the address names; a number
    that nothing has belongs to nobody.
    """
    if visitor.is_lead or not ACCESS[name].only_own_clubs:
        return False
    own = clubs_of(visitor)
    for key, number in numbers.items():
        there = Club.objects.filter(**{CLUB_OF[key]: number})
        if there.exists() and not own.filter(pk__in=there).exists():
            return True
    return False
