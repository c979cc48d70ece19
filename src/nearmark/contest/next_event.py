"""From an event to the next one of its kind: what is kept, and what last time's figures were."""

import statistics
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from nearmark.contest.answers import AnswerState
from nearmark.contest.event import Event
from nearmark.contest.heat_records import TAKES_PART, in_order
from nearmark.contest.results import Results
from nearmark.station import Station

MAX_OFF_NEAR = Fraction(1, 10)
"""An answer this far off, relative to the true value, is near it (relative error)."""


def prepared_again(
    event: Event, *, name: str, day: date, seed: int, with_boxes: bool = False
) -> Event:
    """The next event of the same kind: kit, rules, rooms and divisions; no names and no answers.

    Containers are filled anew, so nothing weighed or counted of them is kept; a cup keeps its
    tare.

    >>> from nearmark.contest.example import two_pairs
    >>> prepared_again(two_pairs(), name="Next", day=date(2028, 5, 6), seed=1).hand_counts
    ()

    Parameters
    ----------
    seed : public seed of the new event's draws
    with_boxes : whether the readings of the boxes hold again, because the boxes are the same
    """
    return Event(
        name=name,
        day=day,
        venue=event.venue,
        rules=event.rules,
        seed=seed,
        instruments=event.instruments,
        materials=event.materials,
        divisions=event.divisions,
        rooms=event.rooms,
        items=event.items,
        cups=event.cups,
        box_readings=event.box_readings if with_boxes else (),
    )


@dataclass(frozen=True, slots=True)
class ItemFigures:
    """How one item went."""

    item: str
    name: str
    station: Station
    key: Decimal | None  # unit of the station
    relative_u: float | None  # relative expanded uncertainty of the key, where it was measured
    n_answers: int  # answers with a number, of pairs with a place
    median_points: Fraction | None  # unweighted (points); ``None`` without an answer
    share_near: Fraction | None  # answers within ``MAX_OFF_NEAR`` of the key


@dataclass(frozen=True, slots=True)
class EventFigures:
    """What somebody who plans the next event wants to know of the last."""

    n_pairs: int  # that took part
    n_absent: int
    n_schools: int
    pairs_in_heats: tuple[int, ...]  # by heat, in the order of their names
    cups_handed_in: int
    # Of what was in the cups handed in (g); ``None`` without a cup.
    mean_net_g: Decimal | None
    largest_net_g: Decimal | None
    items: tuple[ItemFigures, ...]


def event_figures(outcome: Results) -> EventFigures:
    """Figures of an event as it is now.

    >>> from nearmark.contest.example import two_divisions
    >>> from nearmark.contest.results import results
    >>> figures = event_figures(results(two_divisions()))
    >>> figures.n_pairs, figures.cups_handed_in
    (4, 0)
    """
    here = [pair for pair in outcome.event.pairs if pair.status in TAKES_PART]
    heats = Counter(pair.heat for pair in here if pair.heat)
    stations = {item.code: item.station for item in outcome.event.items}
    nets = [
        answer.estimate
        for answer in outcome.answers.values()
        if stations[answer.item] is Station.MASS
        and answer.estimate is not None
        and answer.state in {AnswerState.AGREED, AnswerState.ADJUDICATED}
    ]
    return EventFigures(
        n_pairs=len(here),
        n_absent=sum(pair.status not in TAKES_PART for pair in outcome.event.pairs),
        n_schools=len({pair.school for pair in here}),
        pairs_in_heats=tuple(heats[name] for name in in_order(heats)),
        cups_handed_in=len(nets),
        mean_net_g=sum(nets, Decimal(0)) / len(nets) if nets else None,
        largest_net_g=max(nets, default=None),
        items=tuple(_item_figures(outcome)),
    )


def _item_figures(outcome: Results) -> Iterable[ItemFigures]:
    for code, key in outcome.keys.items():
        scored = [
            (line.estimate, line.score)
            for pair in outcome.pairs
            if pair.place is not None
            for line in pair.items
            if line.item == code and line.estimate is not None
        ]
        off = [abs(Fraction(estimate) / Fraction(key.key) - 1) for estimate, _ in scored if key.key]
        yield ItemFigures(
            item=code,
            name=key.item.name,
            station=key.item.station,
            key=key.key,
            relative_u=key.borne_by.relative_expanded_u if key.borne_by else None,
            n_answers=len(scored),
            median_points=statistics.median(score for _, score in scored) if scored else None,
            share_near=Fraction(sum(o <= MAX_OFF_NEAR for o in off), len(off)) if off else None,
        )
