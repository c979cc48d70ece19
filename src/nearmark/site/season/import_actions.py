"""Bring a practice log from elsewhere: all of it or nothing, and what is here already once."""

import uuid
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from nearmark.coaching import Attempt
from nearmark.errors import InputError
from nearmark.site.common.writing import writing
from nearmark.site.event.history import note
from nearmark.site.season.attempt_actions import NewAttempt, keep_attempts
from nearmark.site.season.attempt_columns import attempt_of
from nearmark.site.season.club_actions import add_pair, add_pupils
from nearmark.site.season.models import Club, PracticePair, Pupil, Source
from nearmark.words.numbers import plural

MAX_LENGTH: Final = {"thing": 100, "size": 40, "pupil": 40, "pair": 20}
"""Signs of each text."""


@dataclass(frozen=True, slots=True)
class LogPreview:
    """What a log would bring."""

    fresh: tuple[Attempt, ...]  # those that are not here yet
    n_here: int  # that are here already, struck out ones among them
    new_pupils: tuple[str, ...]
    new_pairs: tuple[str, ...]


def preview_log(club: Club, log: Sequence[Attempt]) -> LogPreview:
    """Look at a log before it is kept.

    Raises InputError if a text is too long, or a pair has other than two pupils.
    """
    _check_lengths(log)
    known = set(club.pupils.values_list("name", flat=True))
    # The same pupil, whatever the capitals.
    names = {name.casefold(): name for name in known}
    named = [
        replace(attempt, pupil=names.setdefault(attempt.pupil.casefold(), attempt.pupil))
        for attempt in log
    ]
    new_pupils = dict.fromkeys(each.pupil for each in named if each.pupil not in known)
    here = _here(club)
    fresh = []
    for attempt in named:
        bare = replace(attempt, pair="")
        if here[bare]:
            here[bare] -= 1
        else:
            fresh.append(attempt)
    pairs = tuple(sorted(_members(club, fresh)))
    return LogPreview(tuple(fresh), len(named) - len(fresh), tuple(new_pupils), pairs)


def _here(club: Club) -> Counter[Attempt]:
    rows = club.attempts.select_related("pupil")
    return Counter(attempt_of(row, pupil=row.pupil.name) for row in rows)


def _check_lengths(log: Sequence[Attempt]) -> None:
    for name, most in MAX_LENGTH.items():
        for i, attempt in enumerate(log):
            text = getattr(attempt, name)
            if len(text) > most:
                raise InputError(
                    f"is longer than {most} signs",
                    where=f"attempt {i + 1}, {name}",
                    value=f"{text[:40]}...",
                    mend="Shorten it",
                )


def _members(club: Club, log: Sequence[Attempt]) -> dict[str, tuple[str, str]]:
    """Pairs that are not known here, with their two pupils; one alone makes no pair."""
    known = set(club.pairs.values_list("code", flat=True))
    found: dict[str, dict[str, None]] = defaultdict(dict)
    for attempt in log:
        if attempt.pair and attempt.pair not in known:
            found[attempt.pair][attempt.pupil] = None
    pairs = {}
    for code, members in found.items():
        first, *others = members
        if len(others) > 1:
            raise InputError(
                f"has {len(members)} pupils",
                where=f"pair {code}",
                value=", ".join(members),
                mend="A pair has two; give the others another code",
            )
        if others:
            pairs[code] = (first, others[0])
    return pairs


def import_log(club: Club, log: Sequence[Attempt], *, by: str) -> int:
    """Keep what is not here yet, and say how many attempts were new."""
    with writing():
        found = preview_log(club, log)
        if found.new_pupils:
            add_pupils(club, list(found.new_pupils), by=by)
        pupils = {pupil.name: pupil for pupil in club.pupils.all()}
        for code, (first, second) in _members(club, found.fresh).items():
            add_pair(club, code, pupils[first], pupils[second], by=by)
        pairs = {pair.code: pair for pair in club.pairs.all()}
        tries = [
            NewAttempt(uuid.uuid4(), pupils[a.pupil], a, _pair(pairs, a, pupils))
            for a in found.fresh
        ]
        keep_attempts(tries, club=club, source=Source.IMPORT, by=by)
        n = len(tries)
        note(None, by, f"club {club.pk}: imported {plural(n, 'attempt')}")
    return n


def _pair(
    pairs: dict[str, PracticePair], attempt: Attempt, pupils: dict[str, Pupil]
) -> PracticePair | None:
    """The pair an attempt names, if the pupil is one of it."""
    pair = pairs.get(attempt.pair)
    own = pupils[attempt.pupil].pk
    return pair if pair is not None and own in {pair.first_id, pair.second_id} else None
