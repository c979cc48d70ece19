"""Home sheets of a practice log, one PDF a pupil, and the certificates of the season."""

import re
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path

from nearmark.coaching.attempt import Attempt
from nearmark.coaching.kinds import Stratum
from nearmark.coaching.pupil_habit import PupilHabit, attempts_in
from nearmark.printing import home_sheet_pdf, season_certificates_pdf


def write_home_sheets(
    habits: Mapping[str, tuple[PupilHabit, ...]],
    log: Iterable[Attempt],
    folder: Path,
    *,
    known: Collection[Stratum] = (),
    letter: bool = False,
) -> list[Path]:
    """Write one sheet a pupil; all are set before the first is written.

    ``log``: the whole log: its days say how far the season has come. ``folder``: made if missing.
    ``known``: kinds of things that the club has attempted. ``letter``: US letter paper instead of
    A4.
    """
    days = sorted({attempt.day for attempt in log})
    week, paper = (days[-1] - days[0]).days // 7, "us-letter" if letter else "a4"
    made: dict[Path, bytes] = {}
    for number, (pupil, own) in enumerate(habits.items(), 1):
        path = folder / _file_name(pupil, number)
        made[path] = home_sheet_pdf(own, day=days[-1], known=known, week=week, paper=paper)
    folder.mkdir(parents=True, exist_ok=True)
    for path, document in made.items():
        path.write_bytes(document)
    return list(made)


def _file_name(pupil: str, number: int) -> str:
    """A name that any file system takes; the number keeps two alike apart."""
    plain = re.sub(r"[^A-Za-z0-9]+", "-", pupil).strip("-")[:40]
    return f"home-sheet-{number:02}{'-' if plain else ''}{plain}.pdf"


def write_certificates(
    habits: Mapping[str, tuple[PupilHabit, ...]],
    log: Iterable[Attempt],
    file: Path,
    *,
    names: bool,
    letter: bool,
) -> None:
    """Write the certificates of the season into one file, a page a pupil, dated by the last day.

    ``log``: the whole log. ``names``: whether they are printed; else a line to write on.
    ``letter``: US letter paper instead of A4.
    """
    document = season_certificates_pdf(
        [attempts_in(own) for own in habits.values()],
        club="",
        day=max(attempt.day for attempt in log),
        with_names=names,
        paper="us-letter" if letter else "a4",
    )
    file.write_bytes(document)
