"""From an event to scores and places: everything a result is made of, and what is still open."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property

from nearmark.contest.answers import AcceptedAnswer, AnswerState, accepted_answers
from nearmark.contest.event import AnswerStatus, Event, Item, Pair, PairStatus
from nearmark.contest.keys import ItemKey, event_keys
from nearmark.contest.open_points import OpenPoint, open_points
from nearmark.contest.read_event import ReadEvent
from nearmark.contest.rules import RuleSet, TieBreak
from nearmark.contest.scoring import score
from nearmark.station import Station


@dataclass(frozen=True, slots=True)
class ItemScore:
    """One answer, scored."""

    item: str
    estimate: Decimal | None  # unit of the item, or None
    score: Fraction  # points
    weighted: Fraction  # score times the weight of the item (points)
    state: AnswerState
    status: AnswerStatus


@dataclass(frozen=True, slots=True)
class PairResult:
    """A pair's scores."""

    pair: Pair
    # ``None``: not placed (guest, absent, withdrawn, or alone where the rules want two).
    place: int | None
    # Sum of the weighted scores, not divided by anything: it is printed "out of"
    # ``Results.highest_total`` (points).
    total: Fraction
    # In the order of the event's items; those without a key are left out for everybody.
    items: tuple[ItemScore, ...]


@dataclass(frozen=True)
class Results(ReadEvent):
    """Everything computed from one event: what was read, and what follows from it."""

    pairs: tuple[PairResult, ...]  # best first, equal totals by code, unplaced last

    @cached_property
    def points(self) -> tuple[OpenPoint, ...]:
        """Everything that may change the result, open or closed; looked for once."""
        return open_points(self)

    @property
    def open_points(self) -> tuple[OpenPoint, ...]:
        """What has to be settled before the result is final; empty when it is."""
        return tuple(point for point in self.points if point.closed is None)

    @property
    def closed_points(self) -> tuple[OpenPoint, ...]:
        """What somebody settled with a reason."""
        return tuple(point for point in self.points if point.closed is not None)

    @property
    def highest_total(self) -> Fraction:
        """Points of a pair that is exact on every item that has a key."""
        rules = self.event.rules
        best = rules.full_score if rules.highest_score is None else rules.highest_score
        return sum(
            (
                min(best, rules.full_score) * item_weight(key.item, rules)
                for key in self.keys.values()
                if key.key is not None
            ),
            Fraction(0),
        )


def item_weight(item: Item, rules: RuleSet) -> Fraction:
    """Weight of an item: its own, or its station's.

    Examples
    --------
    >>> item_weight(Item("C1", Station.COUNT, "jar"), RuleSet())
    Fraction(1, 1)
    """
    return rules.stations[item.station].weight if item.weight is None else Fraction(item.weight)


def results(event: Event) -> Results:
    """Score and rank an event.

    An answer that waits (missing, in conflict, a cup without a tare) scores as a blank for now, and
    a key that is not fit is used for now; both are open points.

    Examples
    --------
    >>> from datetime import date
    >>> results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))).pairs
    ()
    """
    keys = event_keys(event)
    answers = accepted_answers(event)
    lines = [_scored(event, pair, keys, answers) for pair in event.pairs]
    return Results(event, keys, answers, _placed(lines, event))


def _scored(
    event: Event,
    pair: Pair,
    keys: dict[str, ItemKey],
    answers: dict[tuple[str, str], AcceptedAnswer],
) -> PairResult:
    items = tuple(
        _item_score(answer, item, key, event.rules)
        for item in event.items
        if (answer := answers.get((pair.code, item.code)))
        and (key := keys[item.code].key) is not None
    )
    total = sum((s.weighted for s in items), Fraction(0))
    return PairResult(pair, None, total, items)


def _item_score(answer: AcceptedAnswer, item: Item, key: Decimal, rules: RuleSet) -> ItemScore:
    if answer.estimate is None:
        points = rules.blank_score
    else:
        points = score(answer.estimate, exact_key(item, key, rules), rules)
    return ItemScore(
        item.code,
        answer.estimate,
        points,
        points * item_weight(item, rules),
        answer.state,
        answer.status,
    )


def exact_key(item: Item, key: Decimal, rules: RuleSet) -> Fraction:
    """What an answer is scored against, exactly.

    Parameters
    ----------
    item : Item
    key : unit of the item, > 0
        As printed.
    rules : RuleSet

    Examples
    --------
    >>> exact_key(Item("M1", Station.MASS, "peas"), Decimal(100), RuleSet())
    Fraction(100, 1)
    """
    # A target of 100/3 g has no exact decimal; the rule set's own number has.
    return rules.target_mass_g if item.station is Station.MASS else Fraction(key)


def _placed(lines: list[PairResult], event: Event) -> tuple[PairResult, ...]:
    rules = event.rules
    ranked = [line for line in lines if _takes_part(line.pair, rules)]
    unplaced = [line for line in lines if not _takes_part(line.pair, rules)]
    stations = {item.code: item.station for item in event.items}
    merits = [(line.total, *_tie_breaks(line, rules, stations)) for line in ranked]
    placed = [
        PairResult(line.pair, place, line.total, line.items)
        for line, place in zip(ranked, places(merits), strict=True)
    ]
    placed.sort(key=lambda line: (line.place, line.pair.code))
    unplaced.sort(key=lambda line: (-line.total, line.pair.code))
    return (*placed, *unplaced)


def _takes_part(pair: Pair, rules: RuleSet) -> bool:
    return pair.status is PairStatus.ENTERED and (rules.solo_allowed or not pair.is_solo)


_STATION_TOTALS = {
    TieBreak.MASS_TOTAL: Station.MASS,
    TieBreak.COUNT_TOTAL: Station.COUNT,
    TieBreak.VOLUME_TOTAL: Station.VOLUME,
}


def _tie_breaks(line: PairResult, rules: RuleSet, stations: dict[str, Station]) -> list[Fraction]:
    """What separates equal totals, in the order of the rule set; larger is better."""
    return [_tie_break(line, breaker, stations) for breaker in rules.tie_breaks]


def _tie_break(line: PairResult, breaker: TieBreak, stations: dict[str, Station]) -> Fraction:
    if breaker is TieBreak.WORST_ITEM:
        return min((s.score for s in line.items), default=Fraction(0))
    if breaker is TieBreak.ITEMS_AT_90:
        return Fraction(sum(s.score >= 90 for s in line.items))
    wanted = _STATION_TOTALS[breaker]
    return sum((s.weighted for s in line.items if stations[s.item] is wanted), Fraction(0))


Merit = Fraction | tuple[Fraction, ...]


def places(merits: Sequence[Merit]) -> tuple[int, ...]:
    """Competition places (1, 2, 2, 4): one more than the number of better merits.

    Parameters
    ----------
    merits : points, shape (n,)
        Totals, or tuples of a total followed by what breaks ties; larger is better.

    Returns
    -------
    tuple of int, shape (n,)
        In the order given.

    Examples
    --------
    >>> places([Fraction(80), Fraction(95), Fraction(80), Fraction(70)])
    (2, 1, 2, 4)
    """
    first_place: dict[Merit, int] = {}
    for position, merit in enumerate(sorted(merits, reverse=True), start=1):
        first_place.setdefault(merit, position)
    return tuple(first_place[merit] for merit in merits)
