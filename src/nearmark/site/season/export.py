"""What is known of a pupil or of a club, as files to take away."""

from collections.abc import Iterable

from nearmark.event_folder.guard import guarded
from nearmark.event_folder.practice_log_writer import practice_log_text
from nearmark.event_folder.writer import csv_text
from nearmark.site.common.zips import zipped
from nearmark.site.season.attempt_columns import attempt_of, attempts_of
from nearmark.site.season.models import PART_COLUMNS, BodyReading, Club, PracticeAttempt, Pupil

_ABOUT = """What Nearmark keeps of {of}.

practice-log.csv  every attempt; nearmark pupil and nearmark pairs read it
struck-out.csv    attempts that were struck out, with the reason
hands.csv         readings of the hand in cm
{more}
Kept until {until}.  Nothing else is kept of a child.
"""


def pupil_zip(pupil: Pupil) -> bytes:
    """Everything that is kept of one pupil, and of nobody else."""
    rows = pupil.attempts.select_related("pupil", "pair")
    log = [
        attempt_of(row, pupil=pupil.name, pair=row.pair.code if row.pair else "")
        for row in rows.filter(struck_at=None)
    ]
    return zipped(
        {
            "practice-log.csv": practice_log_text(log),
            "struck-out.csv": _struck_text(rows.exclude(struck_at=None)),
            "hands.csv": _hands_text(pupil.body_readings.all()),
            "about.txt": _ABOUT.format(of="one pupil", more="", until=pupil.club.keep_until),
        }
    )


def club_zip(club: Club) -> bytes:
    """Everything that is kept of a club."""
    struck = club.attempts.exclude(struck_at=None).select_related("pupil")
    hands = BodyReading.objects.filter(pupil__club=club).select_related("pupil")
    more = (
        "pupils.csv        first names or codes\npairs.csv         who takes part together\n"
        "things.csv        what the club practises with\n"
    )
    return zipped(
        {
            "practice-log.csv": practice_log_text(attempts_of(club)),
            "struck-out.csv": _struck_text(struck),
            "hands.csv": _hands_text(hands),
            "pupils.csv": csv_text(["pupil"], [[guarded(p.name)] for p in club.pupils.all()]),
            "pairs.csv": _pairs_text(club),
            "things.csv": _things_text(club),
            "about.txt": _ABOUT.format(of="one club", more=more, until=club.keep_until),
        }
    )


def _struck_text(rows: Iterable[PracticeAttempt]) -> str:
    return csv_text(
        ["day", "pupil", "thing", "estimate", "true", "struck by", "why"],
        [
            [
                str(row.day),
                *map(guarded, (row.pupil.name, row.thing)),
                f"{row.estimate:g}",
                f"{row.true:g}",
                *map(guarded, (row.struck_by, row.struck_why)),
            ]
            for row in rows
        ],
    )


def _hands_text(readings: Iterable[BodyReading]) -> str:
    return csv_text(
        ["pupil", "reference", "reading_cm", "day"],
        [
            [guarded(r.pupil.name), guarded(r.reference), f"{r.reading_cm:g}", str(r.day)]
            for r in readings
        ],
    )


def _pairs_text(club: Club) -> str:
    pairs = club.pairs.select_related("first", "second")
    return csv_text(
        ["pair", "first", "second"],
        [[guarded(p.code), guarded(p.first.name), guarded(p.second.name)] for p in pairs],
    )


_THING_COLUMNS = ("true", *PART_COLUMNS)


def _things_text(club: Club) -> str:
    return csv_text(
        ["thing", "station", "size", *_THING_COLUMNS],
        [
            [
                guarded(thing.name),
                thing.station,
                guarded(thing.size),
                *(
                    "" if getattr(thing, name) is None else f"{getattr(thing, name):g}"
                    for name in _THING_COLUMNS
                ),
            ]
            for thing in club.things.all()
        ],
    )
