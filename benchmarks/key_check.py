"""How often the key check doubts a wrong key, and how often a sound one.

Run: python benchmarks/key_check.py [fields a cell]

Invented fields: each pair has its own bias (sd 0.20 in log ratio), each item its own (0.07), each
answer its scatter (0.35 for counts, 0.12 for boxes), each field a common bias that depends on the
size of the container in the way the first column says.  Uses ``check_keys`` alone, so that the
file runs on other versions of it too.  A key that is "20 % wrong" is stated 1.2 or 0.8 times the
true value, one item at a time.

Found: the wrong key is doubted.  Blamed: a sound key is doubted, although not the wrong one.
"""

import math
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from statistics import mean

import numpy as np

from nearmark.contest.answers import AcceptedAnswer, AnswerState
from nearmark.contest.event import (
    AnswerStatus,
    ContainerWeighing,
    CountedSample,
    Event,
    Item,
    Pair,
)
from nearmark.contest.key_check import KeyCheck, check_keys
from nearmark.contest.key_slips import Slip
from nearmark.contest.keys import ItemKey
from nearmark.contest.results import Results
from nearmark.station import Station

JARS = {"C1": 420, "C2": 2900, "C3": 14300}
BOXES = {"B1": 300, "B2": 1100, "B3": 3600}
PAIR_SD = 0.20
ITEM_SD = 0.07
ANSWER_SD: dict[Station, float] = {Station.COUNT: 0.35, Station.VOLUME: 0.12}
KEY_U = 0.005
ERRORS = (0.15, 0.25, 0.35, 0.50)
SIZES = (20, 49, 80)


@dataclass(frozen=True)
class Field:
    """A kind of field: what it is called, and its bias at three sizes, in percent."""

    words: str
    percent: tuple[float, float, float]

    def bias(self, place: int) -> float:
        """Log ratio at the small, middle or large item."""
        return math.log1p(self.percent[place] / 100)


FIELDS = (
    Field("no bias", (0, 0, 0)),
    Field("-11 % all", (-11, -11, -11)),
    Field("-40 % all", (-40, -40, -40)),
    Field("-5/-21/-34 %", (-5, -21, -34)),
    Field("-5/-28/-45 %", (-5, -28, -45)),
)
BOX_FIELDS = (
    Field("-2 % all", (-2, -2, -2)),
    Field("-15 % all", (-15, -15, -15)),
    Field("-40 % all", (-40, -40, -40)),
)


def outcome(
    true: dict[str, int],
    stated: dict[str, float],
    kind: Field,
    n_pairs: int,
    rng: np.random.Generator,
    station: Station = Station.COUNT,
) -> Results:
    """One event: these true values, these keys, one field."""
    items = tuple(Item(code, station, code) for code in true)
    pairs = tuple(Pair(f"P{i:02d}", "school", ("one", "two")) for i in range(n_pairs))
    own = rng.normal(0, PAIR_SD, n_pairs)
    answers = {}
    for code, value in true.items():
        place = int(code[1]) - 1
        bias = kind.bias(place) + rng.normal(0, ITEM_SD)
        for pair, x in zip(
            pairs, bias + own + rng.normal(0, ANSWER_SD[station], n_pairs), strict=True
        ):
            estimate = Decimal(max(1, round(value * math.exp(x))))
            answers[pair.code, code] = AcceptedAnswer(
                pair.code, code, AnswerStatus.ANSWERED, estimate, 0.0, AnswerState.AGREED
            )
    keys = {
        item.code: ItemKey(
            item,
            None,
            Decimal(str(round(stated[item.code], 1))),
            KEY_U * stated[item.code],
            math.inf,
            fit=True,
        )
        for item in items
    }
    event = Event("invented", date(2027, 5, 8), items=items, pairs=pairs)
    return Results(event, keys, answers, ())


def fields(
    true: dict[str, int],
    kind: Field,
    n_pairs: int,
    n: int,
    station: Station,
    wrong: tuple[str, float] = ("", 1.0),
) -> Iterator[dict[str, KeyCheck]]:
    """The checks of ``n`` events, the key of one item wrong by a factor."""
    rng = np.random.default_rng([n_pairs, len(true), len(wrong[0])])
    stated = {code: value * (wrong[1] if code == wrong[0] else 1) for code, value in true.items()}
    for _ in range(n):
        found = check_keys(outcome(true, stated, kind, n_pairs, rng, station))
        yield {check.item: check for check in found}


def false_alarms(
    true: dict[str, int], kind: Field, n_pairs: int, n: int, station: Station
) -> dict[str, float]:
    """Share of fields in which each sound key is doubted."""
    found = [
        {code: check.flagged for code, check in checks.items()}
        for checks in fields(true, kind, n_pairs, n, station)
    ]
    return {code: mean(one[code] for one in found) for code in true}


def power(
    true: dict[str, int],
    kind: Field,
    n_pairs: int,
    n: int,
    station: Station,
    error: float,
) -> tuple[float, float]:
    """Share found, and share in which only a sound key is blamed, over the items."""
    seen = blamed = 0
    for wrong in true:
        for checks in fields(true, kind, n_pairs, n, station, (wrong, 1 + error)):
            seen += checks[wrong].flagged
            blamed += not checks[wrong].flagged and any(c.flagged for c in checks.values())
    return seen / n / len(true), blamed / n / len(true)


def show_false_alarms(
    title: str, true: dict[str, int], kinds: Sequence[Field], n: int, station: Station
) -> None:
    """A table of false alarms."""
    print(f"\n{title}: sound keys doubted, % of {n} fields, each item")
    print("field         " + "".join(f"{pairs:>{6 * len(true)}} pairs" for pairs in SIZES))
    for kind in kinds:
        cells = [false_alarms(true, kind, pairs, n, station).values() for pairs in SIZES]
        print(
            f"{kind.words:14}"
            + "      ".join("".join(f"{100 * share:6.1f}" for share in cell) for cell in cells)
        )


def show_power(
    title: str, true: dict[str, int], kinds: Sequence[Field], n: int, station: Station
) -> None:
    """A table of power."""
    print(f"\n{title}: one wrong key, % of {n} fields an item: found (only a sound one blamed)")
    signed = [sign * error for error in ERRORS for sign in (1, -1)]
    print("field          pairs " + "".join(f"{100 * error:+8.0f} %" for error in signed))
    for kind in kinds:
        for pairs in SIZES:
            cells = [power(true, kind, pairs, n, station, error) for error in signed]
            print(
                f"{kind.words:14} {pairs:5} "
                + "".join(f"{100 * seen:5.0f} ({100 * blamed:2.0f})" for seen, blamed in cells)
            )


GROSS = {
    "ten times": lambda key: key * 10,
    "a tenth": lambda key: key / 10,
    "digits exchanged": lambda key: int("".join((str(key)[1], str(key)[0], *str(key)[2:]))),
}


def show_gross(n: int) -> None:
    """Gross slips: found, and the true key among the two likeliest causes or the likeliest."""
    print(
        f"\ngross slips, 49 pairs, -11 % all, % of {n} fields: found, cause right, others doubted"
    )
    kind = FIELDS[1]
    for words, slip in GROSS.items():
        for wrong, true in JARS.items():
            checks = fields(JARS, kind, 49, n, Station.COUNT, (wrong, slip(true) / true))
            show_found(f"{words}, {wrong} {true} as {slip(true):.0f}", wrong, true, list(checks))
    for words, (gross, tare) in {
        "tare left in": (Decimal(1450), Decimal(450)),
        "tare taken twice": (Decimal(1000), Decimal(450)),
    }.items():
        # C2: 2,900 pieces of 0.345 g in a jar of 450 g
        stated = 2900 * (1.45 if words == "tare left in" else 0.55)
        rng = np.random.default_rng(7)
        found = []
        for _ in range(n):
            drawn = outcome(JARS, JARS | {"C2": stated}, kind, 49, rng)
            net = gross if words == "tare left in" else gross - tare
            weighed = replace(
                drawn.event,
                samples=(CountedSample("C2", 100, Decimal("34.5"), "scale"),),
                containers=(ContainerWeighing("C2", net + tare, tare, "scale"),),
            )
            found.append({c.item: c for c in check_keys(replace(drawn, event=weighed))})
        show_found(f"{words}, C2 2900 as {stated:.0f}", "C2", 2900, found)


def show_found(words: str, wrong: str, true: float, found: list[dict[str, KeyCheck]]) -> None:
    """One line of the table of gross slips."""
    seen = [checks[wrong] for checks in found if checks[wrong].flagged]
    right = sum(is_cause(check, true) for check in seen)
    others = mean(any(c.flagged for c in f.values() if c.item != wrong) for f in found)
    share = right / len(seen) if seen else 0.0
    print(f"{words:38} {len(seen) / len(found):6.0%} {share:6.0%} {others:6.0%}")


def is_cause(check: KeyCheck, true: float) -> bool:
    """Whether the likeliest slip gives the true value back, to 5 %."""
    causes = [s for s in check.slips if isinstance(s.cause, Slip) and s.key]
    return bool(causes) and abs(float(causes[0].key or 0) / true - 1) < 0.05


def main() -> None:
    """Print all tables."""
    n = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    show_false_alarms("Three jars", JARS, FIELDS, 5 * n, Station.COUNT)
    for codes in (("C1",), ("C2",), ("C3",), ("C1", "C2"), ("C1", "C3"), ("C2", "C3")):
        some = {code: JARS[code] for code in codes}
        show_false_alarms(" and ".join(codes) + " alone", some, FIELDS, 2 * n, Station.COUNT)
    show_false_alarms("Three boxes", BOXES, BOX_FIELDS, 2 * n, Station.VOLUME)
    show_gross(n)
    show_power("Three jars", JARS, FIELDS[1:], n, Station.COUNT)
    show_power("Three boxes", BOXES, BOX_FIELDS[:2], n, Station.VOLUME)


if __name__ == "__main__":
    main()
