"""Progress as the pages of a pupil, a pair and a club show it: lines and one picture."""

from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.charts import TwoMonths, progress_svg
from nearmark.coaching import Attempt, Progress, Verdict, best_attempts, progress_of
from nearmark.words.coaching_progress import best_words, headline_words, progress_words
from nearmark.words.sides import kind_words


@dataclass(frozen=True, slots=True)
class ProgressView:
    """First month against last."""

    headline: str  # all stations in one line
    lines: tuple[str, ...]  # one a station
    picture: str  # SVG; empty while it is too early at every station
    bests: tuple[str, ...] = ()


def pupil_progress(attempts: Sequence[Attempt]) -> ProgressView | None:
    """Of one pupil, with personal bests; nothing without an attempt."""
    found = progress_of({"": attempts})
    return progress_view(found, tuple(map(best_words, best_attempts(attempts))))


def progress_view(found: Sequence[Progress], bests: tuple[str, ...] = ()) -> ProgressView | None:
    """Of some pupils; nothing while there is nothing to say but that it is too early."""
    if not bests and all(each.verdict is Verdict.EARLY for each in found):
        return None
    return ProgressView(
        headline_words(found),
        tuple(map(progress_words, found)),
        progress_picture(found),
        bests,
    )


def progress_picture(found: Sequence[Progress]) -> str:
    """The stations of which something can be said; empty when there is none."""
    rows = [
        TwoMonths(
            kind_words(each.station, ""),
            (each.first.mean, each.first.u),
            (each.last.mean, each.last.u),
        )
        for each in found
        if each.verdict is not Verdict.EARLY
    ]
    return progress_svg(rows) if rows else ""
