"""The invented season, so that the room can be looked at with something in it."""

import uuid
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from nearmark.coaching.attempt import Attempt, part_columns
from nearmark.demo_season import STILL_TO_TRY, practice_season
from nearmark.errors import RuleError
from nearmark.site.common.writing import writing
from nearmark.site.door.models import Account
from nearmark.site.season.attempt_actions import NewAttempt, keep_attempts
from nearmark.site.season.club_actions import add_pair, add_pupils, make_club
from nearmark.site.season.forms import one_year_on
from nearmark.site.season.models import Club, Source, Thing

NAME: Final = "Larkspur Valley practice (invented)"
A_WEEK: Final = timedelta(days=7)


def fill_demo_season(*, today: date, by: str, coach: Account | None = None) -> Club:
    """Bring the invented season, its last practice a week ago; RuleError if it is there already."""
    log = practice_season()
    shift = today - A_WEEK - max(attempt.day for attempt in log)
    log = tuple(replace(attempt, day=attempt.day + shift) for attempt in log)
    with writing():
        if Club.objects.filter(name=NAME).exists():
            raise RuleError(
                "is there already",
                where="the invented season",
                mend="Open its club, or ask the lead for it",
            )
        club = make_club(NAME, one_year_on(today), today=today, by=by, coach=coach)
        names = sorted({attempt.pupil for attempt in log})
        pupils = {pupil.name: pupil for pupil in add_pupils(club, names, by=by)}
        members: dict[str, list[str]] = {}
        for attempt in log:
            own = members.setdefault(attempt.pair, [])
            if attempt.pupil not in own:
                own.append(attempt.pupil)
        pairs = {
            code: add_pair(club, code, pupils[first], pupils[second], by=by)
            for code, (first, second) in members.items()
        }
        Thing.objects.bulk_create(_things(club, log))
        tries = [NewAttempt(uuid.uuid4(), pupils[a.pupil], a, pairs[a.pair]) for a in log]
        keep_attempts(tries, club=club, source=Source.IMPORT, by=by)
    return club


def _things(club: Club, log: tuple[Attempt, ...]) -> list[Thing]:
    """The things of a log, each with what some attempt tells of its parts, and fresh ones."""
    found: dict[str, Thing] = {}
    for attempt in log:
        thing = found.setdefault(
            attempt.thing,
            Thing(
                club=club,
                station=attempt.station.value,
                name=attempt.thing,
                size=attempt.size,
                true=attempt.true,
            ),
        )
        for column, value in part_columns(attempt.parts).items():
            if value is not None:
                setattr(thing, column, value)
    for fresh in STILL_TO_TRY:
        found[fresh.name] = Thing(
            club=club,
            station=fresh.station.value,
            name=fresh.name,
            size=fresh.size,
            true=fresh.true,
        )
    return list(found.values())
