"""Practice: keep what a pupil estimated, and strike it out again."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.coaching.attempt import Attempt, part_columns
from nearmark.errors import InputError, RuleError
from nearmark.event_folder.practice_log import MAX_FACTOR
from nearmark.site.common import clock
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.history import note
from nearmark.site.event.reasons import need_reason, strike
from nearmark.site.season.attempt_columns import attempt_of
from nearmark.site.season.models import Club, PracticeAttempt, PracticePair, Pupil, Source


@dataclass(frozen=True, slots=True)
class NewAttempt:
    """One attempt to be kept."""

    key: uuid.UUID
    pupil: Pupil
    attempt: Attempt
    pair: PracticePair | None = None


def keep_attempts(
    tries: Sequence[NewAttempt], *, club: Club, source: Source, by: str
) -> list[tuple[PracticeAttempt, bool]]:
    """Keep all attempts of a round or of a file, or none; each row, and whether it is new."""
    for each in tries:
        if each.pupil.club_id != club.pk:
            raise InputError("is of another club", where="pupil", mend="Load the page again")
        if each.pair is not None and each.pair.club_id != club.pk:
            raise InputError("is of another club", where="pair", mend="Load the page again")
        check_estimate(each.attempt)
    with writing():
        rows = PracticeAttempt.objects.in_bulk([each.key for each in tries], field_name="key")
        fresh: list[PracticeAttempt] = []
        kept: list[tuple[PracticeAttempt, bool]] = []
        for each in tries:
            before = rows.get(each.key)
            if before is not None:
                kept.append((_same(before, each.pupil, each.attempt), False))
                continue
            row = rows[each.key] = _row(each, club=club, source=source, by=by)
            fresh.append(row)
            kept.append((row, True))
        PracticeAttempt.objects.bulk_create(fresh)
    return kept


def keep_attempt(  # noqa: PLR0913 - who, what and from where of one attempt, all by name
    key: uuid.UUID,
    *,
    club: Club,
    pupil: Pupil,
    attempt: Attempt,
    source: Source,
    by: str,
    pair: PracticePair | None = None,
) -> tuple[PracticeAttempt, bool]:
    """Keep one attempt, once.

    ``key``: made where it was typed; the same key with the same attempt is answered as the first
    time. ``attempt``: its ``pupil`` and ``pair`` are passed over: the rows say who. ``by``: who
    typed it. ``pair``: when two worked together. Returns the row, and whether it was kept
    now. Raises InputError if pupil or pair is of another club, or the estimate is none. Raises
    RuleError if another attempt was sent under the same key.
    """
    tries = [NewAttempt(key, pupil, attempt, pair)]
    return keep_attempts(tries, club=club, source=source, by=by)[0]


def _row(given: NewAttempt, *, club: Club, source: Source, by: str) -> PracticeAttempt:
    attempt = given.attempt
    return PracticeAttempt(
        key=given.key,
        club=club,
        pupil=given.pupil,
        pair=given.pair,
        day=attempt.day,
        at=clock.now(),
        station=attempt.station.value,
        size=attempt.size,
        thing=attempt.thing,
        estimate=attempt.estimate,
        true=attempt.true,
        source=source.value,
        by=by,
        **part_columns(attempt.parts),
    )


def check_estimate(attempt: Attempt) -> None:
    """Refuse an estimate so far off that a key must have stuck."""
    if not 1 / MAX_FACTOR <= attempt.estimate / attempt.true <= MAX_FACTOR:
        raise InputError(
            "is more than a million times off",
            where="estimate",
            value=f"{attempt.estimate:g}",
            mend="Check the number",
        )


def _same(before: PracticeAttempt, pupil: Pupil, now: Attempt) -> PracticeAttempt:
    kept = attempt_of(before, pupil=now.pupil, pair=now.pair)
    if before.pupil_id != pupil.pk or kept != now:
        raise RuleError(
            "another attempt was sent under the same key",
            mend="Load the page again, then type it",
        )
    return before


def strike_attempt(attempt_id: int, *, by: str, why: str) -> PracticeAttempt:
    """Strike out an attempt that was typed wrongly; it stays visible, and no longer counts."""
    need_reason(why, "Say what went wrong, such as: slip")
    with writing():
        row = known_row(PracticeAttempt.objects, "attempt", pk=attempt_id)
        if row.struck_at is not None:
            raise RuleError("it is struck out already", where=row.thing)
        strike(row, by=by, why=why)
        row.save()
        # The reason stays with the attempt and goes with it: it may name the child.
        note(None, by, f"struck out an attempt of pupil {row.pupil_id}", old=str(row))
    return row
