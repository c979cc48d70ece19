"""What the standings say: ties first, then how sure the podium is, then what decides it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from nearmark.contest.answers import AnswerState
from nearmark.contest.event import AnswerStatus
from nearmark.contest.open_points import OpenPoint
from nearmark.contest.podium import (
    PodiumEdge,
    SharedPlace,
    key_doubts,
    podium_edge,
    shared_places,
)
from nearmark.contest.rank_confidence import RankConfidence, RemeasureGain
from nearmark.contest.rank_margin import Margin
from nearmark.contest.rank_tally import PODIUM
from nearmark.contest.results import ItemScore, Results
from nearmark.words.acts import act_order
from nearmark.words.numbers import both, capital, percent, plural, points_words
from nearmark.words.translation import message, say, say_count

MAX_NAMED: Final = 6
"""More pairs on one place are counted, not named."""


_STAYS: Final = {
    1: message(
        "If every key and cup is as certain as stated, and every answer is typed as it was "
        "written, first place stays the same in {share}."
    ),
    2: message(
        "If every key and cup is as certain as stated, and every answer is typed as it was "
        "written, the first two places stay the same in {share}."
    ),
    3: message(
        "If every key and cup is as certain as stated, and every answer is typed as it was "
        "written, the first three places stay the same in {share}."
    ),
}

_PLACES: Final = {
    1: message("first place"),
    2: message("second place"),
    3: message("third place"),
    4: message("fourth place"),
    5: message("fifth place"),
}


@dataclass(frozen=True, slots=True)
class StandingWords:
    """What can be said of the places now."""

    ties: tuple[str, ...]  # one sentence a shared place, best first
    # Why nothing is said of how sure the places are; empty when something is.
    doubts: tuple[OpenPoint, ...]
    share: str  # the answer in short, such as "97 of 100 draws"; empty when withheld
    headline: str  # the same with its conditions, one sentence
    details: tuple[str, ...]  # what belongs to it, one sentence each
    margin: tuple[str, ...]  # what decides between the last pair on the podium and the next one

    @property
    def sentences(self) -> tuple[str, ...]:
        """All of it in order."""
        headline = (self.headline,) if self.headline else ()
        return (*self.ties, *headline, *self.details, *self.margin)


def standing_words(results: Results, confidence: RankConfidence | None) -> StandingWords:
    """All that is said of the places, each sentence under its condition.

    While a key is in doubt, nothing is said of how sure the places are.  ``None`` means a
    confidence that is not known yet.

    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8))
    >>> standing_words(results(day), None).sentences
    ()
    """
    if not results.is_comparable:
        return StandingWords((), key_doubts(results), "", not_comparable(), (), ())
    ties = tie_sentences(results)
    doubts = key_doubts(results)
    margin = margin_sentences(results, is_key_doubted=bool(doubts))
    if doubts:
        named = list(dict.fromkeys(point.item for point in doubts if point.item))
        return StandingWords(ties, doubts, "", unknown_for_doubt(named), (), margin)
    if confidence is None:
        return StandingWords(ties, (), "", "", (), margin)
    share = draws_text(confidence.podium_order)
    n_places = min(PODIUM, len(confidence.codes))
    details = tuple(_details(confidence, has_ties=bool(ties)))
    return StandingWords(ties, (), share, podium_stays(n_places, share), details, margin)


def not_comparable() -> str:
    """True when two divisions with pairs who compete have different items."""
    return say(
        "The divisions do not estimate the same items, so their totals cannot be compared: each "
        "division is ranked by itself, and nobody has a place over all."
    )


def unknown_for_doubt(items: Sequence[str]) -> str:
    """True while an open point says that the key of an item may be wrong."""
    if not items:
        return say("How sure the places are cannot be said: a reading of the kit may be wrong.")
    return say_count(
        "How sure the places are cannot be said: the key of {items} may be wrong.",
        "How sure the places are cannot be said: the keys of {items} may be wrong.",
        len(items),
        items=both(items),
    )


def podium_stays(n_places: int, share: str) -> str:
    """True under the condition it states; for one, two or three placed pairs."""
    return say(_STAYS[n_places], share=share)


def _details(confidence: RankConfidence, *, has_ties: bool) -> list[str]:
    best = next((gain for gain in confidence.remeasure_first if gain.is_clear), None)
    details = [winner_stays(confidence)] if len(confidence.codes) > 1 else []
    details += [shared_place_counts()] if has_ties else []
    details.append(how_it_was_drawn(confidence))
    details.append(nothing_to_measure() if best is None else measure_first(best))
    return details


def winner_stays(confidence: RankConfidence) -> str:
    """True of two or more placed pairs, under the conditions of the headline."""
    return say(
        "First place stays the same in {winner}; the same pairs are on the podium, in any order, "
        "in {podium}.",
        winner=draws_text(confidence.winner),
        podium=draws_text(confidence.podium_set),
    )


def shared_place_counts() -> str:
    """True where pairs share a place: how the draws count it."""
    return say(
        "A shared place counts as the same while the pairs who share it, and no others, hold the "
        "places they take together."
    )


def how_it_was_drawn(confidence: RankConfidence) -> str:
    """True of these draws: how many, and the seed to repeat them."""
    return say(
        "{n_draws} draws of all keys and cups within their uncertainty, seed {seed}.",
        n_draws=f"{confidence.n_draws:,}",
        seed=confidence.seed,
    )


def nothing_to_measure() -> str:
    """True when no single measurement brings more than chance would."""
    return say("Measuring any one thing again would not make the order more certain.")


def measure_first(gain: RemeasureGain) -> str:
    """True of the act that brings most, and more than chance; the gain is an upper limit."""
    return say(
        "To be more certain, {act}: it could keep the order in up to {points} more of 100 draws.",
        act=act_words(gain),
        points=max(round(100 * gain.gain), 1),
    )


def act_words(gain: RemeasureGain) -> str:
    """The act, as an order without a full stop."""
    if gain.act is not None:
        return act_order(gain.act)
    return say("measure {item} again", item=gain.item)


def draws_text(share: float) -> str:
    """A share of the draws, never surer than what was drawn.

    >>> draws_text(0.973), draws_text(0.996), draws_text(0.0)
    ('97 of 100 draws', 'more than 99 of 100 draws', 'fewer than 1 of 100 draws')
    """
    if share > 0.99:
        return say("more than 99 of 100 draws")
    if share < 0.01:
        return say("fewer than 1 of 100 draws")
    return say("{n} of 100 draws", n=f"{100 * share:.0f}")


def tie_sentences(results: Results, *, last_place: int | None = None) -> tuple[str, ...]:
    """Each place that several pairs share, in words; places behind the last are left out.

    >>> from datetime import date
    >>> from nearmark.contest.event import Event
    >>> from nearmark.contest.results import results
    >>> tie_sentences(results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    ()
    """
    return tuple(map(is_shared, shared_places(results, last_place=last_place)))


def is_shared(shared: SharedPlace) -> str:
    """True of pairs with the same total that no tie-break of the rule set parts.

    >>> is_shared(SharedPlace(2, ("P2", "P3"), has_tie_breaks=False))
    'Second place is shared by P2 and P3: equal in total; the rule set leaves it so.'
    """
    few = len(shared.codes) <= MAX_NAMED
    pairs = both(shared.codes) if few else plural(len(shared.codes), "pair")
    place = capital(place_name(shared.place))
    if shared.has_tie_breaks:
        return say(
            "{place} is shared by {pairs}: equal in total and in all that the rule set breaks "
            "ties by; the rule set leaves it so.",
            place=place,
            pairs=pairs,
        )
    return say(
        "{place} is shared by {pairs}: equal in total; the rule set leaves it so.",
        place=place,
        pairs=pairs,
    )


def place_name(place: int) -> str:
    """A place, as it is said inside a sentence."""
    if place in _PLACES:
        return say(_PLACES[place])
    return say("place {number}", number=place)


def margin_sentences(results: Results, *, is_key_doubted: bool = False) -> tuple[str, ...]:
    """What decides between the last pair on the podium and the next one; empty without a next."""
    edge = podium_edge(results, is_key_doubted=is_key_doubted)
    return edge_sentences(edge) if edge else ()


def edge_sentences(edge: PodiumEdge) -> tuple[str, ...]:
    """What decides the last place of the podium; how far to trust it while no key is in doubt."""
    if not edge.points:
        return (parted_by_tie_break(edge),)
    return (is_ahead(edge), *((trust(edge.margin),) if edge.margin else ()))


def parted_by_tie_break(edge: PodiumEdge) -> str:
    """True of two pairs with the same total whom a tie-break puts in order."""
    return say(
        "{ahead} and {behind} are equal in total; a tie-break of the rule set puts {ahead} first.",
        ahead=edge.ahead.pair.code,
        behind=edge.behind.pair.code,
    )


def is_ahead(edge: PodiumEdge) -> str:
    """True of two pairs with different totals; names the item that brings most."""
    return say(
        "Between {place} and {next_place}: {ahead} is {points} points ahead of {behind}; {item} "
        "decides most ({gain} points in its favour).",
        place=place_name(edge.ahead.place or 0),
        next_place=place_name(edge.behind.place or 0),
        ahead=edge.ahead.pair.code,
        behind=edge.behind.pair.code,
        points=points_words(edge.points, edge.decimals),
        item=edge.item,
        gain=points_words(edge.gain, edge.decimals),
    )


def trust(margin: Margin) -> str:
    """How far a difference can be trusted, if keys and cups are as certain as stated."""
    if not margin.trustworthy:
        return near_a_bend([share.item for share in margin.shares if share.near_kink])
    if not margin.u:
        return say("No uncertainty of a key or a cup changes this difference.")
    facts = {
        "points": f"{2 * margin.u:.2g}",
        "item": margin.shares[0].item,
        "percent": percent(margin.shares[0].share),
    }
    if margin.points > 2 * margin.u:
        return say(
            "This difference can be trusted: keys and cups as stated leave it unsure by {points} "
            "points (two standard uncertainties), and {item} brings {percent} of the variance.",
            **facts,
        )
    return say(
        "This difference cannot be trusted: keys and cups as stated leave it unsure by {points} "
        "points (two standard uncertainties), and {item} brings {percent} of the variance.",
        **facts,
    )


def near_a_bend(items: Sequence[str]) -> str:
    """True when an answer is so near a bend of its score that a slope says nothing."""
    return say(
        "An answer on {items} lies so close to the key, or to where the points end, that the "
        "slope of its score does not show how unsure this difference is; only the draws do.",
        items=both(items),
    )


def score_text(score: ItemScore | None, decimals: int) -> str:
    """The points of an answer, or what is there instead of one, with the points it gets.

    >>> from fractions import Fraction
    >>> score_text(ItemScore("C1", None, Fraction(0), Fraction(0), AnswerState.AGREED,
    ...                      AnswerStatus.BLANK), 2)
    'blank, 0'
    """
    if score is None:
        return "-"
    if score.estimate is not None:
        return points_words(score.score, decimals)
    return f"{missing_word(score)}, {score.score}"


def missing_word(score: ItemScore) -> str:
    """What is there instead of a number, of an answer without an estimate."""
    if score.state is AnswerState.MISSING:
        return say("not typed")
    if score.state is AnswerState.CONFLICT:
        return say("differs")
    if score.status is AnswerStatus.ILLEGIBLE:
        return say("unreadable")
    return say("blank") if score.status is AnswerStatus.BLANK else say("not scored")
