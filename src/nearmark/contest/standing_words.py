"""What the standings say in words: ties first, then how sure the podium is, then what decides it.

Site, paper and terminal read these words here, so that they say the same.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Final

from nearmark.contest.answers import AnswerState
from nearmark.contest.event import AnswerStatus
from nearmark.contest.open_points import OpenPoint, PointKind
from nearmark.contest.rank_confidence import RankConfidence
from nearmark.contest.rank_margin import Margin, explain_margin
from nearmark.contest.results import ItemScore, PairResult, Results
from nearmark.contest.scoring import points_text

PODIUM: Final = 3

MAX_NAMED: Final = 6
"""More pairs on one place are counted, not named."""

KEY_DOUBTS: Final = frozenset({PointKind.KEY_CHECK, PointKind.KIT_DOUBT, PointKind.KEY_BY_WORD})
"""Open points that may make the stated uncertainty of a key untrue."""

_PLACES: Final = {1: "first", 2: "second", 3: "third", 4: "fourth", 5: "fifth"}


@dataclass(frozen=True, slots=True)
class StandingWords:
    """What can be said of the places now.

    Attributes
    ----------
    ties : tuple of str
        One sentence a shared place, best first.
    doubts : tuple of OpenPoint
        Why nothing is said of how sure the places are; empty when something is.
    share : str
        The answer in short, such as "97 of 100 draws"; empty when withheld.
    headline : str
        The same with its conditions, one sentence.
    details : tuple of str
        What belongs to it, one sentence each.
    margin : tuple of str
        What decides between the last pair on the podium and the next one.
    """

    ties: tuple[str, ...]
    doubts: tuple[OpenPoint, ...]
    share: str
    headline: str
    details: tuple[str, ...]
    margin: tuple[str, ...]

    @property
    def sentences(self) -> tuple[str, ...]:
        """All of it in order."""
        headline = (self.headline,) if self.headline else ()
        return (*self.ties, *headline, *self.details, *self.margin)


def standing_words(results: Results, confidence: RankConfidence | None) -> StandingWords:
    """The words about the places, with the conditions under which they are true.

    Parameters
    ----------
    results : Results
        With at least one placed pair.
    confidence : RankConfidence or None
        Of the same results; ``None`` while it is not known.

    Returns
    -------
    StandingWords
        While a key is in doubt, nothing is said of how sure the places are.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8))
    >>> standing_words(results(day), None).sentences
    ()
    """
    ties = tie_sentences(results)
    doubts = key_doubts(results)
    margin = margin_sentences(results, is_key_doubted=bool(doubts))
    if doubts:
        named = list(dict.fromkeys(point.item for point in doubts if point.item))
        keys = f"the key{'s' * (len(named) > 1)} of {_listed(named)}" if named else "the kit"
        headline = f"How sure the places are cannot be said: {keys} may be wrong."
        return StandingWords(ties, doubts, "", headline, (), margin)
    if confidence is None:
        return StandingWords(ties, (), "", "", (), margin)
    share = draws_text(confidence.podium_order)
    n_places = min(PODIUM, len(confidence.codes))
    podium = ("first place stays", "the first two places stay", "the first three places stay")
    headline = (
        "If every key and cup is as certain as stated, and every answer is typed as it was "
        f"written, {podium[n_places - 1]} the same in {share}."
    )
    return StandingWords(ties, (), share, headline, tuple(_details(confidence, ties)), margin)


def key_doubts(results: Results) -> tuple[OpenPoint, ...]:
    """Open points that leave a key in doubt.

    Parameters
    ----------
    results : Results

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> key_doubts(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    ()
    """
    return tuple(point for point in results.open_points if point.kind in KEY_DOUBTS)


def _details(confidence: RankConfidence, ties: Sequence[str]) -> list[str]:
    details = []
    if len(confidence.codes) > 1:
        details.append(
            f"First place stays the same in {draws_text(confidence.winner)}; the same pairs are on "
            f"the podium, in any order, in {draws_text(confidence.podium_set)}."
        )
    if ties:
        details.append(
            "A shared place counts as the same while the pairs who share it, and no others, hold "
            "the places they take together."
        )
    details.append(
        f"{confidence.n_draws:,} draws of all keys and cups within their uncertainty, "
        f"seed {confidence.seed}."
    )
    best = next((gain for gain in confidence.remeasure_first if gain.is_clear), None)
    if best is None:
        details.append("Measuring any one thing again would not make the order surer.")
    else:
        points = max(round(100 * best.gain), 1)
        details.append(
            f"To be surer, {best.words}: it could keep the order in up to {points} more of 100 "
            "draws."
        )
    return details


def draws_text(share: float) -> str:
    """A share of the draws, never surer than what was drawn.

    Parameters
    ----------
    share : probability

    Examples
    --------
    >>> draws_text(0.973), draws_text(0.996), draws_text(0.0)
    ('97 of 100 draws', 'more than 99 of 100 draws', 'fewer than 1 of 100 draws')
    """
    if share > 0.99:
        return "more than 99 of 100 draws"
    if share < 0.01:
        return "fewer than 1 of 100 draws"
    return f"{100 * share:.0f} of 100 draws"


def tie_sentences(results: Results, *, last_place: int | None = None) -> tuple[str, ...]:
    """Each place that several pairs share, in words; best first.

    Parameters
    ----------
    results : Results
    last_place : int or None
        Places behind it are not said; ``None``: all are.

    Returns
    -------
    tuple of str
        Pairs of whom no answer is scored yet share nothing.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> tie_sentences(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    ()
    """
    scored = [p for p in results.pairs if p.place and any(i.estimate is not None for i in p.items)]
    breaks = (
        " and in all that the rule set breaks ties by" if results.event.rules.tie_breaks else ""
    )
    return tuple(
        f"{_place(place).capitalize()} is shared by {_named(tied)}: equal in total{breaks}; "
        "the rule set leaves it so."
        for place, group in groupby(scored, key=lambda line: line.place or 0)
        if len(tied := [line.pair.code for line in group]) > 1
        and (last_place is None or place <= last_place)
    )


def _place(place: int) -> str:
    return f"{_PLACES[place]} place" if place in _PLACES else f"place {place}"


def _named(codes: Sequence[str]) -> str:
    return _listed(codes) if len(codes) <= MAX_NAMED else f"{len(codes)} pairs"


def _listed(words: Sequence[str]) -> str:
    """``a, b and c``."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def score_text(score: ItemScore | None, decimals: int) -> str:
    """The points of an answer, or what is there instead of one, with the points it gets.

    Parameters
    ----------
    score : ItemScore or None
        ``None``: the pair has no answer on this item.
    decimals : digits
        Of the points.

    Examples
    --------
    >>> score_text(ItemScore("C1", None, Fraction(0), Fraction(0), AnswerState.AGREED,
    ...                      AnswerStatus.BLANK), 2)
    'blank, 0'
    """
    if score is None:
        return "-"
    if score.estimate is not None:
        return points_text(score.score, decimals)
    return f"{missing_word(score)}, {score.score}"


def missing_word(score: ItemScore) -> str:
    """What is there instead of a number.

    Parameters
    ----------
    score : ItemScore
        Without an estimate.

    Examples
    --------
    >>> missing_word(ItemScore("C1", None, Fraction(0), Fraction(0), AnswerState.AGREED,
    ...                        AnswerStatus.ILLEGIBLE))
    'unreadable'
    """
    if score.state is AnswerState.MISSING:
        return "not typed"
    if score.state is AnswerState.CONFLICT:
        return "differs"
    if score.status is AnswerStatus.ILLEGIBLE:
        return "unreadable"
    return "blank" if score.status is AnswerStatus.BLANK else "not scored"


def margin_sentences(results: Results, *, is_key_doubted: bool = False) -> tuple[str, ...]:
    """What decides between the last pair on the podium and the next one behind it.

    Parameters
    ----------
    results : Results
    is_key_doubted : bool
        Then nothing is said of how far the difference can be trusted.

    Returns
    -------
    tuple of str
        Empty where nobody is behind the podium.

    Examples
    --------
    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> margin_sentences(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    ()
    """
    placed = [line for line in results.pairs if line.place]
    podium = [line for line in placed if (line.place or 0) <= PODIUM]
    if len(placed) <= len(podium):
        return ()
    ahead, behind = podium[-1], placed[len(podium)]
    if ahead.total == behind.total:
        same = f"{ahead.pair.code} and {behind.pair.code} are equal in total"
        return (f"{same}; a tie-break of the rule set puts {ahead.pair.code} first.",)
    decimals = results.event.rules.decimals
    by = points_text(ahead.total - behind.total, decimals)
    item, gain = _largest_gain(ahead, behind)
    difference = (
        f"Between {_place(ahead.place or 0)} and {_place(behind.place or 0)}: {ahead.pair.code} is "
        f"{by} points ahead of {behind.pair.code}; {item} decides most "
        f"({points_text(gain, decimals)} points in its favour)."
    )
    if is_key_doubted:
        return (difference,)
    return difference, _trust(explain_margin(results, ahead.pair.code, behind.pair.code))


def _trust(margin: Margin) -> str:
    """How far a difference can be trusted, as the stated keys and cups go."""
    if not margin.trustworthy:
        named = _listed([share.item for share in margin.shares if share.near_kink])
        return (
            f"An answer on {named} lies so close to the key, or to where the points end, that the "
            "slope of its score does not tell how unsure this difference is; only the draws do."
        )
    if not margin.u:
        return "No uncertainty of a key or a cup changes this difference."
    largest = margin.shares[0]
    trust = "can be trusted" if margin.points > 2 * margin.u else "cannot be trusted"
    return (
        f"This difference {trust}: keys and cups as stated leave it unsure by "
        f"{2 * margin.u:.2g} points (two standard uncertainties), and {largest.item} brings "
        f"{100 * largest.share:.0f} % of the variance."
    )


def _largest_gain(ahead: PairResult, behind: PairResult) -> tuple[str, Fraction]:
    """The item on which the one gains most on the other, and how much."""
    theirs = {score.item: score.weighted for score in behind.items}
    return max(
        ((s.item, s.weighted - theirs.get(s.item, Fraction(0))) for s in ahead.items),
        key=lambda gain: gain[1],
    )
