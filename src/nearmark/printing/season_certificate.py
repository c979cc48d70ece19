"""The certificate of the season: one page a child, plain words, no rank, a name only if asked."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.coaching.attempt import Attempt
from nearmark.coaching.progress import Best, Progress, best_attempts, progress_of
from nearmark.errors import InputError
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, wrappable
from nearmark.words.coaching_certificate import (
    better_words,
    closest_words,
    practice_words,
    station_title,
)
from nearmark.words.deviations import AxisCentre
from nearmark.words.feedback_page import own_mark
from nearmark.words.season_papers import CertificateWords, certificate_words, from_to


@dataclass(frozen=True, slots=True)
class CertificateLine:
    """One station of a child."""

    title: str
    words: str
    better: str
    strip: str


@dataclass(frozen=True, slots=True)
class CertificatePage:
    """One child. ``name``: empty: a line to write it on."""

    name: str
    season: str
    practice: str
    lines: tuple[CertificateLine, ...]


@dataclass(frozen=True, slots=True)
class SeasonCertificateView:
    """All pages, ready to be set."""

    club: str
    words: CertificateWords
    pages: tuple[CertificatePage, ...]


def season_certificates_pdf(
    children: Sequence[Sequence[Attempt]],
    *,
    club: str,
    day: date,
    with_names: bool = False,
    paper: str = "a4",
) -> bytes:
    """Set the certificates: a PDF, a page a child in the order given.

    ``children``: attempts of one child each, without those at true values seen before. ``club``:
    empty: none is named. ``with_names``: ``False``: a line to write the name on. ``paper``: ``a4``
    or ``us-letter``. Raises InputError if nobody has an attempt.
    """
    pages = tuple(_page(own, with_names=with_names) for own in children if own)
    if not pages:
        raise InputError(
            "nobody has an attempt yet",
            where="certificates of the season",
            mend="Log a round, then print them",
        )
    name = wrappable(club, 60)
    view = SeasonCertificateView(name, certificate_words(name), pages)
    return typeset("season_certificate", view, day=day, paper=paper)


def _page(own: Sequence[Attempt], *, with_names: bool) -> CertificatePage:
    days = sorted({each.day for each in own})
    gone = {each.station: each for each in progress_of({"": own})}
    first, last = day_text(days[0]), day_text(days[-1])
    return CertificatePage(
        name=wrappable(own[0].pupil, 40) if with_names else "",
        season=first if first == last else from_to(first, last),
        practice=practice_words(len(own), len(days)),
        lines=tuple(_line(best, gone[best.attempt.station]) for best in best_attempts(own)),
    )


def _line(best: Best, progress: Progress) -> CertificateLine:
    mark = Mark(best.attempt.estimate / best.attempt.true, own_mark(), MarkKind.THIS)
    title = station_title(best.attempt.station)
    return CertificateLine(
        title,
        wrappable(closest_words(best), 300),
        better_words(progress),
        strip_svg([mark], width_px=300, title=title, centre=AxisCentre.TRUE, few_ticks=True),
    )
