"""Results as plain values with stable keys; the exact numbers stand beside the floats."""

from typing import Any

from nearmark.contest.keys import key_as_json
from nearmark.contest.results import PairResult, Results


def results_as_json(outcome: Results) -> dict[str, Any]:
    """The stable keys of ``nearmark score --json``, apart from ``confidence``.

    Parameters
    ----------
    outcome : Results

    Returns
    -------
    dict
        ``event``, ``rules``, ``pairs``, ``keys``, ``open_points`` (sentences) and
        ``open_point_records`` (the same with all they say, and those closed with a reason).  Scores
        and totals stand twice: as a number, and exactly, as a fraction in text.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> told = results_as_json(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    >>> told["rules"]
    {'name': 'percent accuracy', 'version': 1}
    """
    event = outcome.event
    return {
        "event": {"name": event.name, "day": event.day.isoformat(), "venue": event.venue},
        "rules": {"name": event.rules.name, "version": event.rules.version},
        "pairs": [_pair_as_json(line) for line in outcome.pairs],
        "keys": [key_as_json(key) for key in outcome.keys.values()],
        "open_points": [point.sentence for point in outcome.open_points],
        "open_point_records": [point.as_json() for point in outcome.points],
    }


def _pair_as_json(line: PairResult) -> dict[str, Any]:
    return {
        "code": line.pair.code,
        "school": line.pair.school,
        "status": line.pair.status.value,
        "place": line.place,
        "total": float(line.total),
        "total_exact": str(line.total),
        "items": [
            {
                "item": s.item,
                "estimate": None if s.estimate is None else float(s.estimate),
                "score": float(s.score),
                "score_exact": str(s.score),
                "status": s.status.value,
                "state": s.state.value,
            }
            for s in line.items
        ],
    }
