"""The rules of each station, for the wall: plain words, large, and what an answer earns."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from nearmark.contest.event import Event
from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import points_text, score
from nearmark.errors import InputError
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text, wrappable
from nearmark.station import UNITS, Station
from nearmark.words.rules import question, rules_words
from nearmark.words.sides import unit_text

HEAT_MINUTES = 30
"""Time of a pair for all stations together (common practice, no source)."""

SHOWN_PERCENT = (50, 75, 90, 100, 110, 125, 150, 200)
"""Answers whose points are shown, in percent of the true value."""

_TIMES = "\N{MULTIPLICATION SIGN}"
_TOGETHER = (
    f"You have {HEAT_MINUTES} minutes for all stations together.",
    f"You may use a pencil, paper, and a calculator with + \N{MINUS SIGN} {_TIMES} ÷ only.",
    "No phone, no ruler, no scale, nothing marked on your hands.",
    "Never hold your sheet against a container or a box.",
    "You hand in once: after that, nothing is changed.",
)


@dataclass(frozen=True, slots=True)
class PointsColumn:
    """The points of one answer."""

    answer: str
    points: str
    share: float  # of the full score, 0 to 1
    is_near: bool  # whether it lies in the band from 90 to 110 %


@dataclass(frozen=True, slots=True)
class StationPage:
    """One station's page."""

    title: str
    items: str
    steps: tuple[str, ...]
    together: tuple[str, ...]
    if_true: str
    act: str
    columns: tuple[PointsColumn, ...]
    points: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StationRulesView:
    """The pages of all stations present, ready to be set."""

    event: str
    day: str
    rules: str
    stations: tuple[StationPage, ...]
    seal: str = ""


def station_rules_pdf(event: Event, *, paper: str = "a4", seal: str = "") -> bytes:
    """Set a page for the wall of each station that has items.

    ``paper``: ``a4`` or ``us-letter``. ``seal``: when the keys were sealed, and their hash; empty:
    not sealed. Raises InputError if there are no items.
    """
    view = station_rules_view(event, seal=seal)
    return typeset("station_rules", view, day=event.day, paper=paper)


def station_rules_view(event: Event, *, seal: str = "") -> StationRulesView:
    """What the pages say, as text."""
    present = [s for s in Station if any(item.station is s for item in event.items)]
    if not present:
        raise InputError(
            "has no station to explain", where="items.csv", mend="Enter the items first"
        )
    return StationRulesView(
        event=wrappable(event.name, 120),
        day=day_text(event.day),
        rules=wrappable(rules_words(event.rules)),
        stations=tuple(_page(event, station) for station in present),
        seal=seal,
    )


def _page(event: Event, station: Station) -> StationPage:
    title, steps = _STEPS[station](event.rules)
    true = event.rules.target_mass_g if station is Station.MASS else Fraction(100)
    return StationPage(
        title=title,
        items=", ".join(wrappable(i.code, 12) for i in event.items if i.station is station),
        steps=steps,
        together=_TOGETHER,
        if_true=f"If the true value were {_amount(true)} {unit_text(UNITS[station])}",
        act="you scoop" if station is Station.MASS else "you write",
        columns=points_columns(event.rules, true),
        points=points_sentences(event.rules),
    )


def _mass(rules: RuleSet) -> tuple[str, tuple[str, ...]]:
    target = f"{_amount(rules.target_mass_g)} g"
    return f"Scoop {target}", (
        "Take one cup with a number. It is yours until you hand it in.",
        f"Scoop until you think {target} are inside. The cup itself does not count.",
        "Lift it, look at it, add some, tip some back: as often as you like.",
        "Carry the cup and your answer sheet to the scale desk. The desk weighs it once.",
        "Never taste. Wash your hands afterwards.",
    )


def _count(rules: RuleSet) -> tuple[str, tuple[str, ...]]:
    del rules
    return question(Station.COUNT), (
        "Look from above and from the sides. Bring your eyes down to the table.",
        "You may turn the container on the table. Do not lift, shake or open it.",
        "Think how many pieces are inside. You may work it out on paper.",
        "Write the whole number beside the same code on your answer sheet.",
        "Never taste.",
    )


def _volume(rules: RuleSet) -> tuple[str, tuple[str, ...]]:
    del rules
    return "How big is the box?", (
        "Look at the box from all sides. You may turn it on the table. Do not lift or open it.",
        "Think how long, how wide and how high it is, in centimetres.",
        f"Volume = length {_TIMES} width {_TIMES} height. A cube of 1 cm each way is 1 cm³.",
        "Write the whole number of cm³ beside the same code on your answer sheet.",
    )


_STEPS: dict[Station, Callable[[RuleSet], tuple[str, tuple[str, ...]]]] = {
    Station.MASS: _mass,
    Station.COUNT: _count,
    Station.VOLUME: _volume,
}


def points_columns(rules: RuleSet, true: Fraction) -> tuple[PointsColumn, ...]:
    """What some answers would earn, from half to double the true value.

    ``true``: an invented true value; never that of an item.

    >>> [c.points for c in points_columns(RuleSet(), Fraction(100))]
    ['50', '75', '90', '100', '90', '75', '50', '0']
    """
    columns = []
    for percent in SHOWN_PERCENT:
        answer = true * percent / 100
        points = score(answer, true, rules)
        share = float(points / rules.full_score)
        columns.append(
            PointsColumn(_amount(answer), _points(points), share, is_near=90 <= percent <= 110)
        )
    return tuple(columns)


def points_sentences(rules: RuleSet) -> tuple[str, ...]:
    """The score rule in plain words.

    >>> points_sentences(RuleSet())[2]
    'Double the true value or more: 0 points.'
    """
    best = score(1, 1, rules)
    # A cap holds on beyond the free band: until the fall comes down to it.
    fall = (rules.zero_at - rules.free_within) * (1 - best / rules.full_score)
    best_within = rules.free_within + fall
    near = "Exactly right" if not best_within else f"Up to {_percent(best_within)} off"
    end = (
        "Double the true value or more"
        if rules.zero_at == 1
        else f"{_percent(rules.zero_at)} off or more"
    )
    blank = f"{_points(rules.blank_score)} points" if rules.blank_score else "0 points, so try"
    return (
        f"{near}: {_points(best)} points.",
        "The further off, the fewer; too high and too low count the same.",
        f"{end}: 0 points.",
        f"Left blank: {blank}.",
    )


def _points(points: Fraction) -> str:
    return points_text(points, 0 if points.denominator == 1 else 1)


def _percent(share: Fraction) -> str:
    return f"{float(100 * share):.3g} %"


def _amount(value: Fraction) -> str:
    return number_text(float(value), 0 if value.denominator == 1 else 1)
