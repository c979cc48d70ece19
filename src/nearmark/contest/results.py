"""From an event to scores and places: everything a result is made of, and what is still open."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import cached_property

from nearmark.contest.answers import AcceptedAnswer, AnswerState, accepted_answers
from nearmark.contest.division import is_ranked, items_of, shared_items
from nearmark.contest.event import AnswerStatus, Event, Item, Pair
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
    # Among all pairs; ``None``: not placed (guest, absent, withdrawn, or alone where the rules want
    # two), or the divisions cannot be compared.
    place: int | None
    # Sum of the weighted scores, not divided by anything: it is printed "out of"
    # ``Results.highest_total`` (points).
    total: Fraction
    # In the order of the event's items; those without a key are left out for everybody.
    items: tuple[ItemScore, ...]
    # Among the pairs of its division; ``None``: not placed, or in no division.
    division_place: int | None = None

    @property
    def is_placed(self) -> bool:
        """Whether it has a place, among all pairs or in its division."""
        return self.place is not None or self.division_place is not None


@dataclass(frozen=True)
class Results(ReadEvent):
    """Everything computed from one event: what was read, and what follows from it."""

    # Best first, equal totals by code, unplaced last; where the divisions cannot be compared, one
    # division after the other.
    pairs: tuple[PairResult, ...]

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
    def division(self) -> str:
        """Name of the division that these results were cut to; empty: all pairs."""
        return ""

    @cached_property
    def is_comparable(self) -> bool:
        """Whether all divisions have the same items, so that all pairs are ranked together."""
        return shared_items(self.event) is not None

    @property
    def highest_total(self) -> Fraction:
        """Points of a pair that is exact on every item that has a key."""
        shared = shared_items(self.event)
        return self.highest_total_of(self.event.items if shared is None else shared)

    def highest_total_of(self, items: Sequence[Item]) -> Fraction:
        """Points of a pair that is exact on all of these items that have a key."""
        rules = self.event.rules
        weights = (item_weight(i, rules) for i in items if self.keys[i.code].key is not None)
        return rules.best_score * sum(weights, Fraction(0))


def item_weight(item: Item, rules: RuleSet) -> Fraction:
    """Weight of an item: its own, or its station's.

    >>> item_weight(Item("C1", Station.COUNT, "jar"), RuleSet())
    Fraction(1, 1)
    """
    return rules.stations[item.station].weight if item.weight is None else Fraction(item.weight)


def results(event: Event) -> Results:
    """Score and rank an event.

    An answer that waits (missing, in conflict, a cup without a tare) scores as a blank for now, and
    a key that is not fit is used for now; both are open points.

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
        for item in items_of(pair, event)
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

    >>> exact_key(Item("M1", Station.MASS, "peas"), Decimal(100), RuleSet())
    Fraction(100, 1)

    Parameters
    ----------
    key : unit of the item, > 0; as printed
    """
    # A target of 100/3 g has no exact decimal; the rule set's own number has.
    return rules.target_mass_g if item.station is Station.MASS else Fraction(key)


def _placed(lines: list[PairResult], event: Event) -> tuple[PairResult, ...]:
    ranked = [line for line in lines if is_ranked(line.pair, event.rules)]
    shared = shared_items(event)
    together = [line for line in ranked if items_of(line.pair, event) == shared]
    overall = _places_among(together, event)
    apart: dict[str, int] = {}
    for division in event.divisions:
        apart |= _places_among([x for x in ranked if x.pair.division == division.name], event)
    found = [
        replace(line, place=overall.get(line.pair.code), division_place=apart.get(line.pair.code))
        for line in lines
    ]
    order = {division.name: n for n, division in enumerate(event.divisions)}
    placed = [line for line in found if line.is_placed]
    unplaced = [line for line in found if not line.is_placed]
    if shared is None:
        placed.sort(key=lambda x: (order[x.pair.division], x.division_place, x.pair.code))
    else:
        placed.sort(key=lambda line: (line.place, line.pair.code))
    unplaced.sort(key=lambda line: (-line.total, line.pair.code))
    return (*placed, *unplaced)


def _places_among(lines: list[PairResult], event: Event) -> dict[str, int]:
    """The places of some pairs among themselves, by code."""
    merits = [merit(line, event) for line in lines]
    codes = [line.pair.code for line in lines]
    return dict(zip(codes, places(merits), strict=True))


def merit(line: PairResult, event: Event) -> tuple[Fraction, ...]:
    """What a pair is ranked by: its total, then what breaks ties; larger is better.

    >>> from nearmark.contest.example import two_pairs
    >>> day = two_pairs()
    >>> [round(float(merit(line, day)[0]), 1) for line in results(day).pairs]
    [94.6, 94.3]
    """
    stations = {item.code: item.station for item in event.items}
    breakers = (_tie_break(line, breaker, stations) for breaker in event.rules.tie_breaks)
    return (line.total, *breakers)


def _tie_break(line: PairResult, breaker: TieBreak, stations: dict[str, Station]) -> Fraction:
    if breaker is TieBreak.WORST_ITEM:
        return min((s.score for s in line.items), default=Fraction(0))
    if breaker is TieBreak.ITEMS_AT_90:
        return Fraction(sum(s.score >= 90 for s in line.items))
    own = (s.weighted for s in line.items if stations[s.item] is breaker.station)
    return sum(own, Fraction(0))


Merit = Fraction | tuple[Fraction, ...]


def places(merits: Sequence[Merit]) -> tuple[int, ...]:
    """Competition places (1, 2, 2, 4): one more than the number of better merits.

    >>> places([Fraction(80), Fraction(95), Fraction(80), Fraction(70)])
    (2, 1, 2, 4)

    Parameters
    ----------
    merits : points, shape (n,)
        Totals, or tuples of a total followed by what breaks ties; larger is better.
    """
    first_place: dict[Merit, int] = {}
    for position, merit in enumerate(sorted(merits, reverse=True), start=1):
        first_place.setdefault(merit, position)
    return tuple(first_place[merit] for merit in merits)
