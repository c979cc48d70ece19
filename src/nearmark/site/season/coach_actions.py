"""Which coaches open a club: the lead gives it, and takes it back."""

from nearmark.errors import InputError
from nearmark.site.common.writing import writing
from nearmark.site.door.access import Role
from nearmark.site.door.models import Account
from nearmark.site.event.history import note
from nearmark.site.season.models import Club


def give_club(club: Club, coach_id: int, *, by: str) -> Account:
    """Let a coach see and change a club; whoever has it already keeps it.

    ``coach_id``: number of the account.
    """
    with writing():
        coach = _coach(coach_id)
        club.coaches.add(coach)
        note(None, by, f"gave club {club.pk} to a coach", new=coach.name)
    return coach


def take_club_back(club: Club, coach_id: int, *, by: str) -> Account:
    """A coach no longer sees a club; nothing in it changes."""
    with writing():
        coach = _coach(coach_id)
        club.coaches.remove(coach)
        note(None, by, f"took club {club.pk} back from a coach", old=coach.name)
    return coach


def _coach(coach_id: int) -> Account:
    coach = Account.objects.filter(pk=coach_id, role=Role.COACH.value).first()
    if coach is None:
        raise InputError("is no coach", where="coach", value=coach_id, mend="Choose from the list")
    return coach
