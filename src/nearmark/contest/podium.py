"""Facts about the first places: who shares one, which keys are in doubt, what parts the podium."""

from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Final

from nearmark.contest.open_points import OpenPoint, PointKind
from nearmark.contest.rank_margin import Margin, explain_margin
from nearmark.contest.rank_tally import PODIUM
from nearmark.contest.results import PairResult, Results

KEY_DOUBTS: Final = frozenset({PointKind.KEY_CHECK, PointKind.KIT_DOUBT, PointKind.KEY_BY_WORD})
"""Open points that may make the stated uncertainty of a key untrue."""


@dataclass(frozen=True, slots=True)
class SharedPlace:
    """One place that several pairs share."""

    place: int
    codes: tuple[str, ...]  # the pairs, in the order of the standings
    # Whether the rule set has tie-breaks, and these pairs are equal in them too.
    has_tie_breaks: bool


@dataclass(frozen=True, slots=True)
class PodiumEdge:
    """What decides between the last pair on the podium and the next one behind it."""

    ahead: PairResult
    behind: PairResult
    # Total of the one less total of the other; 0 when a tie-break parts them (points).
    points: Fraction
    item: str  # the item on which the one gains most on the other
    gain: Fraction  # how much (points)
    # How far the difference can be trusted; ``None`` when a key is in doubt, or at a tie.
    margin: Margin | None
    decimals: int  # of the points, as the rule set prints them (digits)


def key_doubts(results: Results) -> tuple[OpenPoint, ...]:
    """Open points that leave a key in doubt.

    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> key_doubts(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    ()
    """
    return tuple(point for point in results.open_points if point.kind in KEY_DOUBTS)


def shared_places(results: Results, *, last_place: int | None = None) -> tuple[SharedPlace, ...]:
    """Each place that several pairs share, best first.

    Pairs of whom no answer is scored yet share nothing.

    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> shared_places(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    ()

    Parameters
    ----------
    last_place : int or None; places behind it are left out; ``None``: none are
    """
    scored = [p for p in results.pairs if p.place and any(i.estimate is not None for i in p.items)]
    has_tie_breaks = bool(results.event.rules.tie_breaks)
    return tuple(
        SharedPlace(place, codes, has_tie_breaks)
        for place, group in groupby(scored, key=lambda line: line.place or 0)
        if len(codes := tuple(line.pair.code for line in group)) > 1
        and (last_place is None or place <= last_place)
    )


def podium_edge(results: Results, *, is_key_doubted: bool = False) -> PodiumEdge | None:
    """What decides between the last pair on the podium and the next one behind it.

    ``None`` where nobody is behind the podium.

    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> podium_edge(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8)))) is None
    True

    Parameters
    ----------
    is_key_doubted : then nothing is known of how far the difference can be trusted
    """
    placed = [line for line in results.pairs if line.place]
    podium = [line for line in placed if (line.place or 0) <= PODIUM]
    if len(placed) <= len(podium):
        return None
    ahead, behind = podium[-1], placed[len(podium)]
    points = ahead.total - behind.total
    item, gain = _largest_gain(ahead, behind)
    margin = None
    if points and not is_key_doubted:
        margin = explain_margin(results, ahead.pair.code, behind.pair.code)
    decimals = results.event.rules.decimals
    return PodiumEdge(ahead, behind, points, item, gain, margin, decimals)


def _largest_gain(ahead: PairResult, behind: PairResult) -> tuple[str, Fraction]:
    theirs = {score.item: score.weighted for score in behind.items}
    return max(
        ((s.item, s.weighted - theirs.get(s.item, Fraction(0))) for s in ahead.items),
        key=lambda gain: gain[1],
    )
