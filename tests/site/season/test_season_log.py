"""An attempt is kept once, comes back as it was, and is struck out with a reason."""

import uuid
from datetime import date

import pytest
from django.utils import timezone

from nearmark.coaching import Attempt, Layers, Scoop, Sides
from nearmark.errors import InputError, RuleError
from nearmark.site.models import Change, Club, PracticeAttempt, PracticePair, Pupil, Source
from nearmark.site.season.attempt_actions import keep_attempt, strike_attempt
from nearmark.site.season.attempt_columns import attempts_of
from nearmark.station import Station

DAY = date(2027, 2, 3)
JAR = Attempt(DAY, "Ada", Station.COUNT, "jar of beans", 380, 420, "small", Layers(38, 10, 42, 10))


@pytest.fixture
def club(db) -> Club:
    made = Club.objects.create(
        name="Fernhollow", keep_until=date(2028, 7, 31), made_at=timezone.now()
    )
    for name in ("Ada", "Bo"):
        Pupil.objects.create(club=made, name=name)
    return made


def keep(club: Club, attempt: Attempt = JAR, *, key: uuid.UUID | None = None, name: str = "Ada"):
    return keep_attempt(
        key or uuid.uuid4(),
        club=club,
        pupil=club.pupils.get(name=name),
        attempt=attempt,
        source=Source.ROUND,
        by="Juniper",
    )


@pytest.mark.parametrize(
    "attempt",
    [
        JAR,
        Attempt(DAY, "Ada", Station.COUNT, "jar", 0.1 + 0.2, 420, parts=Layers(38, 10)),
        Attempt(DAY, "Ada", Station.VOLUME, "box", 480, 500, parts=Sides(12, 8, 5, (12, 8.2, 5))),
        Attempt(DAY, "Ada", Station.VOLUME, "box", 480, 500, parts=Sides(12, 8, 5)),
        Attempt(DAY, "Ada", Station.MASS, "rice", 93.5, 100, parts=Scoop(6.4, 0.82)),
        Attempt(DAY, "Ada", Station.MASS, "rice", 93.5, 100),
    ],
)
def test_an_attempt_comes_back_as_it_was(club, attempt):
    keep(club, attempt)

    assert attempts_of(club) == (attempt,)


def test_sent_twice_it_is_kept_once(club):
    key = uuid.uuid4()

    first, is_new = keep(club, key=key)
    again, is_new_again = keep(club, key=key)

    assert (first.pk, is_new, is_new_again) == (again.pk, True, False)
    assert club.attempts.count() == 1


@pytest.mark.parametrize(
    ("changed", "name"), [(JAR, "Bo"), (Attempt(DAY, "Ada", Station.COUNT, "jar", 5, 9), "Ada")]
)
def test_another_attempt_under_the_same_key_is_refused(club, changed, name):
    key = uuid.uuid4()
    keep(club, key=key)

    with pytest.raises(RuleError, match="under the same key"):
        keep(club, changed, key=key, name=name)


def test_a_pupil_of_another_club_is_refused(club):
    other = Club.objects.create(
        name="Quillbank", keep_until=date(2028, 7, 31), made_at=timezone.now()
    )
    with pytest.raises(InputError, match="another club"):
        keep_attempt(
            uuid.uuid4(),
            club=other,
            pupil=club.pupils.get(name="Ada"),
            attempt=JAR,
            source=Source.DRILL,
            by="Juniper",
        )


def test_a_pair_is_named_in_the_log_and_its_end_leaves_the_attempt(club):
    ada, bo = club.pupils.all()
    pair = PracticePair.objects.create(club=club, code="P1", first=ada, second=bo)
    keep_attempt(
        uuid.uuid4(),
        club=club,
        pupil=ada,
        attempt=JAR,
        source=Source.ROUND,
        by="Juniper",
        pair=pair,
    )

    assert [attempt.pair for attempt in attempts_of(club)] == ["P1"]
    pair.delete()
    assert [attempt.pair for attempt in attempts_of(club)] == [""]


def test_what_is_struck_out_counts_no_more_and_stays(club):
    row, _ = keep(club)

    strike_attempt(row.pk, by="Juniper", why="Ada said 830")

    assert attempts_of(club) == ()
    kept = PracticeAttempt.objects.get()
    assert (kept.struck_by, kept.struck_why) == ("Juniper", "Ada said 830")


def test_the_history_of_a_strike_names_no_child(club):
    row, _ = keep(club)
    strike_attempt(row.pk, by="Juniper", why="Ada said 830")

    change = Change.objects.first()
    assert change is not None
    assert "struck out" in change.what
    assert "Ada" not in f"{change.what}{change.old}{change.new}{change.why}"


def test_a_strike_wants_a_reason_and_one_time_only(club):
    row, _ = keep(club)
    with pytest.raises(InputError, match="needed"):
        strike_attempt(row.pk, by="Juniper", why="")
    strike_attempt(row.pk, by="Juniper", why="slip")

    with pytest.raises(RuleError, match="already"):
        strike_attempt(row.pk, by="Juniper", why="slip")
