"""The rules of each station, for the wall: plain words, large, and what an answer earns."""

from dataclasses import dataclass
from fractions import Fraction

from nearmark.contest.event import Event
from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import score
from nearmark.errors import InputError
from nearmark.printing.typesetting import typeset
from nearmark.printing.wishes import Wishes, minutes_of
from nearmark.printing.words import day_text, number_text, wrappable
from nearmark.station import UNITS, Station
from nearmark.words.numbers import points_words
from nearmark.words.rules import rules_words
from nearmark.words.sides import unit_text
from nearmark.words.station_rules import (
    best_points,
    both_sides_alike,
    if_it_were,
    left_blank_earns,
    no_points,
    rules_foot,
    rules_title,
    station_headline,
    station_steps,
    together_lines,
    you_act,
    you_get,
)
from nearmark.words.translation import digits

SHOWN_PERCENT = (50, 75, 90, 100, 110, 125, 150, 200)
"""Answers whose points are shown, in percent of the true value."""


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
    title: str
    foot: str
    you_get: str
    stations: tuple[StationPage, ...]
    seal: str = ""


def station_rules_pdf(event: Event, wishes: Wishes = Wishes()) -> bytes:  # noqa: B008 - frozen
    """Set a page for the wall of each station that has items.

    Raises InputError if there are no items.
    """
    view = station_rules_view(event, wishes)
    return typeset("station_rules", view, day=event.day, paper=wishes.paper)


def station_rules_view(
    event: Event,
    wishes: Wishes = Wishes(),  # noqa: B008 - frozen
) -> StationRulesView:
    """What the pages say, as text."""
    present = [s for s in Station if any(item.station is s for item in event.items)]
    if not present:
        raise InputError(
            "has no station to explain", where="items.csv", mend="Enter the items first"
        )
    name = wrappable(event.name, 120)
    return StationRulesView(
        event=name,
        day=day_text(event.day),
        title=rules_title(name),
        foot=rules_foot(name, wrappable(rules_words(event.rules))),
        you_get=you_get(),
        stations=tuple(_page(event, station, minutes_of(event, wishes)) for station in present),
        seal=wishes.seal,
    )


def _page(event: Event, station: Station, minutes: int) -> StationPage:
    target = f"{_amount(event.rules.target_mass_g)} g"
    true = event.rules.target_mass_g if station is Station.MASS else Fraction(100)
    return StationPage(
        title=station_headline(station, target),
        items=", ".join(wrappable(i.code, 12) for i in event.items if i.station is station),
        steps=station_steps(station, target),
        together=together_lines(minutes),
        if_true=if_it_were(_amount(true), unit_text(UNITS[station])),
        act=you_act(station),
        columns=points_columns(event.rules, true),
        points=points_sentences(event.rules),
    )


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
    return (
        best_points(_percent(best_within) if best_within else "", _points(best)),
        both_sides_alike(),
        no_points("" if rules.zero_at == 1 else _percent(rules.zero_at)),
        left_blank_earns(_points(rules.blank_score) if rules.blank_score else ""),
    )


def _points(points: Fraction) -> str:
    return points_words(points, 0 if points.denominator == 1 else 1)


def _percent(share: Fraction) -> str:
    return digits(f"{float(100 * share):.3g} %")


def _amount(value: Fraction) -> str:
    return number_text(float(value), 0 if value.denominator == 1 else 1)
