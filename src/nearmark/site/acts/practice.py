"""Practice: keep what a pupil estimated, and strike it out again."""

import uuid

from nearmark.coaching import Attempt
from nearmark.errors import InputError, RuleError
from nearmark.site import clock
from nearmark.site.acts.history import note
from nearmark.site.models import Club, PracticeAttempt, PracticePair, Pupil, Source
from nearmark.site.season_log import attempt_of, part_columns
from nearmark.site.writing import writing


def keep_attempt(  # noqa: PLR0913 - who, what and whence of one attempt, all by name
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

    Parameters
    ----------
    key : UUID
        Made where it was typed; the same key with the same attempt is answered as the first time.
    club : Club
    pupil : Pupil
        Of the club.
    attempt : Attempt
        Its ``pupil`` and ``pair`` are passed over: the rows say who.
    source : Source
    by : str
        Who typed it.
    pair : PracticePair or None
        When two worked together.

    Returns
    -------
    row : PracticeAttempt
    is_new : bool
        Whether it was kept now.

    Raises
    ------
    InputError
        If pupil or pair is of another club.
    RuleError
        If another attempt was sent under the same key.
    """
    if pupil.club_id != club.pk:
        raise InputError("is of another club", where="pupil", mend="Load the page again")
    if pair is not None and pair.club_id != club.pk:
        raise InputError("is of another club", where="pair", mend="Load the page again")
    with writing():
        before = PracticeAttempt.objects.filter(key=key).first()
        if before is not None:
            return _same(before, pupil, attempt), False
        row = PracticeAttempt.objects.create(
            key=key,
            club=club,
            pupil=pupil,
            pair=pair,
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
    return row, True


def _same(before: PracticeAttempt, pupil: Pupil, now: Attempt) -> PracticeAttempt:
    kept = attempt_of(before, pupil=now.pupil, pair=now.pair)
    if before.pupil_id != pupil.pk or kept != now:
        raise RuleError(
            "another attempt was sent under the same key",
            mend="Load the page again, then type it",
        )
    return before


def strike_attempt(attempt_id: int, *, by: str, why: str) -> PracticeAttempt:
    """Strike out an attempt that was typed wrongly; it stays to be read, and counts no more.

    Parameters
    ----------
    attempt_id : int
    by, why : str

    Returns
    -------
    PracticeAttempt

    Raises
    ------
    InputError, RuleError
    """
    if not why:
        raise InputError("is needed", where="reason", mend="Say what went wrong, such as: slip")
    with writing():
        row = PracticeAttempt.objects.filter(pk=attempt_id).first()
        if row is None:
            raise InputError("is not known", where="attempt", value=attempt_id)
        if row.struck_at is not None:
            raise RuleError("it is struck out already", where=row.thing)
        row.struck_at, row.struck_by, row.struck_why = clock.now(), by, why
        row.save()
        # The reason stays with the attempt and goes with it: it may name the child.
        note(None, by, f"struck out an attempt of pupil {row.pupil_id}", old=str(row))
    return row
