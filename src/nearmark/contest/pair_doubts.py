"""Doubts about pairs: their answers, the cups they handed in, whether they came."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from nearmark.contest.cup_tares import CupTares
from nearmark.contest.division import is_asked
from nearmark.contest.doubt import Doubt, DoubtKind, doubt_id
from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    Event,
    Item,
    PairStatus,
)
from nearmark.contest.odd_answers import odd_answer, odd_gross
from nearmark.contest.odd_records import AnswerOfAbsent, CupHandedInTwice, Odd
from nearmark.station import Station


def pair_doubts(event: Event) -> Iterator[Doubt]:
    """Doubts about answers, about cups that were weighed, and about pairs that did not come.

    >>> from datetime import date
    >>> list(pair_doubts(Event("Larkspur Valley Estimation Day", date(2027, 5, 8))))
    []
    """
    field = WrittenField.of(event)
    decided = event.decided
    for reading in event.answers:
        if (reading.pair, reading.item) not in decided:
            yield from field.doubts_of(reading)
    for a in event.adjudications:
        as_read = AnswerReading(a.pair, a.item, 1, a.clerk, a.status, a.value, a.cup)
        yield from field.doubts_of(as_read)


@dataclass(frozen=True, slots=True)
class WrittenField:
    """What every pair wrote on every item: one value a pair, the decided one where there is one."""

    event: Event
    items: dict[str, Item]  # Item by code
    absent: frozenset[str]
    divisions: dict[str, str]  # name of the division by pair
    tares: CupTares
    values: dict[str, dict[str, Decimal]]  # mapping pair -> unit of the item by item
    cup_users: dict[tuple[str, str], list[str]]  # list of pairs, first come first by (item, cup)

    @classmethod
    def of(cls, event: Event) -> "WrittenField":
        """The field of an event."""
        values: dict[str, dict[str, Decimal]] = defaultdict(dict)
        users: dict[tuple[str, str], list[str]] = defaultdict(list)
        decided = event.decided
        read = [a for a in event.answers if (a.pair, a.item) not in decided]
        rows: tuple[AnswerReading | Adjudication, ...] = (*event.adjudications, *read)
        for row in rows:
            if row.status is not AnswerStatus.ANSWERED or row.value is None:
                continue
            if row.value.is_finite():
                values[row.item].setdefault(row.pair, row.value)
            if row.cup and row.pair not in users[row.item, row.cup]:
                users[row.item, row.cup].append(row.pair)
        absent = frozenset(p.code for p in event.pairs if p.status is PairStatus.ABSENT)
        items = {item.code: item for item in event.items}
        divisions = {pair.code: pair.division for pair in event.pairs}
        tares = CupTares.of(event)
        return cls(event, items, absent, divisions, tares, dict(values), dict(users))

    def doubts_of(self, reading: AnswerReading) -> Iterator[Doubt]:
        """What is odd about one reading."""
        item = self.items.get(reading.item)
        if reading.pair in self.absent:
            kind = DoubtKind.ABSENT
            yield Doubt(doubt_id(kind, reading.pair), kind, "", reading.pair, "", AnswerOfAbsent())
        if item is None or reading.status is not AnswerStatus.ANSWERED or reading.value is None:
            return
        if not reading.value.is_finite() or not self._is_asked(item, reading.pair):
            return
        if item.station is Station.MASS:
            yield from self._weighing_doubts(reading, reading.value)
            return
        rule = self.event.rules.stations[item.station]
        elsewhere = {
            other.code: self._others(other.code, reading.pair)
            for other in self.items.values()
            if other.station is item.station
            and other.code != item.code
            and self._is_asked(other, reading.pair)
        }
        others = self._others(item.code, reading.pair)
        odd = odd_answer(reading.value, others, rule, elsewhere=elsewhere)
        if odd is not None:
            yield _of_pair(DoubtKind.ANSWER, reading, odd, reading.value)

    def _is_asked(self, item: Item, pair: str) -> bool:
        return is_asked(item, self.divisions.get(pair, ""))

    def _others(self, item: str, pair: str) -> Sequence[Decimal]:
        return [value for code, value in self.values.get(item, {}).items() if code != pair]

    def _weighing_doubts(self, reading: AnswerReading, gross_g: Decimal) -> Iterator[Doubt]:
        tare_g = self.tares.tare_g(reading.cup)
        if tare_g is not None:
            odd = odd_gross(gross_g, tare_g, float(self.event.rules.target_mass_g))
            if odd is not None:
                yield _of_pair(DoubtKind.WEIGHING, reading, odd, reading.cup, gross_g)
        first = next(iter(self.cup_users.get((reading.item, reading.cup), ())), reading.pair)
        if first != reading.pair and reading.cup in self.tares.cups:
            twice = CupHandedInTwice(reading.cup, first)
            yield _of_pair(DoubtKind.CUP_TWICE, reading, twice, reading.cup, first)


def _of_pair(kind: DoubtKind, reading: AnswerReading, odd: Odd, *values: object) -> Doubt:
    id_ = doubt_id(kind, reading.pair, reading.item, *values)
    return Doubt(id_, kind, reading.item, reading.pair, reading.cup, odd)
