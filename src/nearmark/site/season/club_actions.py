"""Clubs, their pupils and pairs.

The history tells what was done by number: no line of it holds a child's name, so that a deleted
child is in none.
"""

from datetime import date
from typing import Final

from nearmark.coaching import Mode
from nearmark.errors import InputError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.door.access import Role
from nearmark.site.door.models import Account
from nearmark.site.event.history import note
from nearmark.site.season.models import Club, PracticePair, Pupil
from nearmark.site.season.retention_actions import check_keep
from nearmark.station import Station
from nearmark.words.numbers import plural

MAX_PUPILS: Final = 200


def make_club(
    name: str, keep_until: date, *, today: date, by: str, coach: Account | None = None
) -> Club:
    """Begin a club, kept until a last day; it is the coach's, and a lead opens every one."""
    check_keep(keep_until, today)
    with writing():
        if Club.objects.filter(name__iexact=name).exists():
            raise InputError("is taken", where="name", value=name, mend="Choose another")
        club = Club.objects.create(name=name, keep_until=keep_until, made_at=clock.now())
        if coach is not None:
            club.coaches.add(coach)
        note(None, by, f"began club {club.pk}", new=f"kept until {keep_until}")
    return club


def add_pupils(club: Club, names: list[str], *, by: str) -> list[Pupil]:
    """Add first names or codes, all or none; InputError if one is taken, twice or too long."""
    if not names:
        raise InputError("is empty", where="names", mend="Write a first name or a code")
    with writing():
        taken = {name.casefold() for name in club.pupils.values_list("name", flat=True)}
        if len(taken) + len(names) > MAX_PUPILS:
            raise InputError(
                f"a club has {MAX_PUPILS} pupils at most", where="names", mend="Begin another club"
            )
        for name in names:
            check_pupil_name(name, taken)
            taken.add(name.casefold())
        pupils = [Pupil.objects.create(club=club, name=name) for name in names]
        note(None, by, f"club {club.pk}: added {plural(len(pupils), 'pupil')}")
    return pupils


def check_pupil_name(name: str, taken: set[str], *, where: str = "names") -> None:
    """Refuse a name that is too long, or taken by another in the club (case folded)."""
    longest = 40
    if len(name) > longest:
        raise InputError(
            f"is longer than {longest} signs",
            where=where,
            value=name[:60],
            mend="A first name does",
        )
    if name.casefold() in taken:
        raise InputError(
            "is in the club already", where=where, value=name, mend="Add a letter, or use a code"
        )


def add_pair(club: Club, code: str, first: Pupil, second: Pupil, *, by: str) -> PracticePair:
    """Name two pupils who will take part together. ``code``: empty: the next free one."""
    if first == second:
        raise InputError("is the same pupil", where="second pupil", mend="A pair has two")
    with writing():
        taken = set(club.pairs.values_list("code", flat=True))
        code = code or next(c for c in (f"S{n}" for n in range(1, 10_000)) if c not in taken)
        if code in taken:
            raise InputError(
                "is taken", where="code", value=code, mend="Leave it empty for the next free one"
            )
        pair = PracticePair.objects.create(club=club, code=code, first=first, second=second)
        note(None, by, f"club {club.pk}: named a pair", new=code)
    return pair


def set_trained(pair: PracticePair, modes: dict[Station, Mode], *, by: str) -> None:
    """Say who decides today at each station."""
    with writing():
        pair.trained = {station.value: mode.value for station, mode in modes.items()}
        pair.save()
        who = ", ".join(f"{station}: {mode}" for station, mode in pair.trained.items())
        note(None, by, f"pair {pair.code} of club {pair.club_id}: who decides", new=who)


def part_pair(pair: PracticePair, *, by: str) -> None:
    """End a pair; what its pupils estimated stays theirs."""
    with writing():
        note(None, by, f"club {pair.club_id}: ended a pair", old=pair.code)
        pair.delete()


def give_club(club: Club, coach_id: int, *, by: str) -> Account:
    """Let a coach see and change a club; whoever has it already keeps it."""
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
