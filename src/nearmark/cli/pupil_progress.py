"""Progress as ``--json`` prints it, for ``nearmark pupil`` and ``nearmark pairs``."""

from collections.abc import Iterable

from nearmark.coaching.progress import Best, Month, Progress
from nearmark.words.coaching_progress import best_words, progress_words
from nearmark.words.results_json import finite_or_none


def progress_as_json(found: Iterable[Progress]) -> list[dict[str, object]]:
    """First month against last, one object a station; null for what is not known yet."""
    return [
        {
            "station": each.station.value,
            "verdict": each.verdict.value,
            "change": finite_or_none(each.change),
            "u": each.u,
            "dof": each.dof,
            "expanded_u": finite_or_none(each.expanded_u),
            "first": _month_as_json(each.first),
            "last": _month_as_json(each.last),
            "n_pupils": each.n_pupils,
            "n_asked": each.n_asked,
            "words": progress_words(each),
        }
        for each in found
    ]


def _month_as_json(month: Month) -> dict[str, object]:
    return {"n": month.n, "mean": finite_or_none(month.mean), "u": month.u}


def bests_as_json(bests: Iterable[Best]) -> list[dict[str, object]]:
    """Personal bests, one object a station."""
    return [
        {
            "station": each.attempt.station.value,
            "thing": each.attempt.thing,
            "day": each.attempt.day.isoformat(),
            "points": each.points,
            "n": each.n,
            "words": best_words(each),
        }
        for each in bests
    ]
