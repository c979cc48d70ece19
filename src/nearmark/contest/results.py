"""From an event to scores and places: everything a result is made of, and what is still open."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from nearmark.contest.answers import AcceptedAnswer, AnswerState, accepted_answers
from nearmark.contest.event import AnswerStatus, Event, Item, Pair, PairStatus
from nearmark.contest.keys import ItemKey, event_keys, key_as_json
from nearmark.contest.ranking import places
from nearmark.contest.rules import RuleSet, Station, TieBreak
from nearmark.contest.scoring import score


@dataclass(frozen=True, slots=True)
class ItemScore:
    """One answer, scored.

    Attributes
    ----------
    item : str
    estimate : unit of the item, or None
    score : points
    weighted : points
        Score times the weight of the item.
    state : AnswerState
    status : AnswerStatus
    """

    item: str
    estimate: Decimal | None
    score: Fraction
    weighted: Fraction
    state: AnswerState
    status: AnswerStatus


@dataclass(frozen=True, slots=True)
class PairResult:
    """A pair's scores.

    Attributes
    ----------
    pair : Pair
    place : int or None
        ``None``: not placed (guest, absent, withdrawn, or alone where the rules want two).
    total : points
        Sum of the weighted scores.
    items : tuple of ItemScore
        In the order of the event's items; those without a key are left out for everybody.
    """

    pair: Pair
    place: int | None
    total: Fraction
    items: tuple[ItemScore, ...]


@dataclass(frozen=True, slots=True)
class Results:
    """Everything computed from one event.

    Attributes
    ----------
    event : Event
    keys : dict item code -> ItemKey
    answers : dict (pair, item) -> AcceptedAnswer
    pairs : tuple of PairResult
        Best first, equal totals by code, unplaced last.
    open_points : tuple of str
        What has to be settled before the result is final.
    """

    event: Event
    keys: dict[str, ItemKey]
    answers: dict[tuple[str, str], AcceptedAnswer]
    pairs: tuple[PairResult, ...]
    open_points: tuple[str, ...]

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

    Parameters
    ----------
    item : Item
    rules : RuleSet

    Returns
    -------
    Fraction

    Examples
    --------
    >>> item_weight(Item("C1", Station.COUNT, "jar"), RuleSet())
    Fraction(1, 1)
    """
    if item.weight is not None:
        return Fraction(item.weight)
    rule = rules.stations.get(item.station)
    return Fraction(0) if rule is None else rule.weight


def results(event: Event) -> Results:
    """Score and rank an event.

    Parameters
    ----------
    event : Event

    Returns
    -------
    Results

    Examples
    --------
    >>> from datetime import date
    >>> results(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))).pairs
    ()
    """
    keys = event_keys(event)
    answers = accepted_answers(event)
    lines = [_scored(event, pair, keys, answers) for pair in event.pairs]
    return Results(event, keys, answers, _placed(lines, event), _open_points(event, keys, answers))


def results_as_json(outcome: Results) -> dict[str, Any]:
    """The stable keys of ``nearmark score --json``, apart from ``confidence``.

    Parameters
    ----------
    outcome : Results

    Returns
    -------
    dict
        ``event``, ``rules``, ``pairs``, ``keys``, ``open_points``.

    Examples
    --------
    >>> from datetime import date
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
        "open_points": list(outcome.open_points),
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
        points = score(answer.estimate, _exact_key(item, key, rules), rules)
    return ItemScore(
        item.code,
        answer.estimate,
        points,
        points * item_weight(item, rules),
        answer.state,
        answer.status,
    )


def _exact_key(item: Item, key: Decimal, rules: RuleSet) -> Fraction:
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


def _open_points(
    event: Event, keys: dict[str, ItemKey], answers: dict[tuple[str, str], AcceptedAnswer]
) -> tuple[str, ...]:
    return (
        *(point for key in keys.values() for point in _key_points(key)),
        *_missing_points(event, answers),
        *(f"{a.pair}, {a.item}: {a.question}" for a in answers.values() if a.question),
    )


def _key_points(key: ItemKey) -> Iterable[str]:
    code = key.item.code
    if key.key is None:
        yield f"{code} has no key and is not scored: {key.problem}"
        return
    if key.problem:
        yield f"{code}: {key.problem}"
    if not key.fit and key.decision is None and key.assigned is not None:
        advice = "; ".join(key.assigned.advice)
        yield f"the key of {code} is not fit. {advice}".rstrip()


def _missing_points(event: Event, answers: dict[tuple[str, str], AcceptedAnswer]) -> Iterable[str]:
    missing: dict[str, list[str]] = defaultdict(list)
    for answer in answers.values():
        if answer.state is AnswerState.MISSING:
            missing[answer.item].append(answer.pair)
    for item in event.items:
        pairs = missing[item.code]
        if pairs:
            shown = ", ".join(pairs[:5]) + (f" and {len(pairs) - 5} more" if len(pairs) > 5 else "")
            yield f"{item.code}: no answer entered for {shown}"
