"""A mock contest: the list of things by the clock, and the result when it is over."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from nearmark.contest import Results
from nearmark.contest.heat_times import HeatState
from nearmark.site.common import clock
from nearmark.site.drills.actions import clock_of
from nearmark.site.drills.mock_event import mock_results, seat_label
from nearmark.site.drills.models import Drill, DrillItem, DrillSeat
from nearmark.words.numbers import ordinal, points_words


@dataclass(frozen=True, slots=True)
class Placed:
    """One line of the result."""

    place: str
    called: str
    total: str


@dataclass(frozen=True, slots=True)
class MockResult:
    """Who won; empty until a mock contest is closed."""

    placed: Sequence[Placed] = ()
    winners: Sequence[str] = ()
    highest: str = ""


@dataclass(frozen=True, slots=True)
class OwnResult:
    """Total and place of one seat; the place is empty where there is none."""

    total: str
    highest: str
    place: str
    n_placed: int


@dataclass(frozen=True, slots=True)
class MockClock:
    """The clock of a mock contest."""

    left: str
    seconds_left: int
    runs: bool
    is_over: bool


def mock_clock(drill: Drill) -> MockClock | None:
    """The clock as a page shows it; ``None`` for a drill, which has none."""
    if not drill.is_mock:
        return None
    now = clock_of(drill)
    return MockClock(
        left=clock.countdown_text(1000 * now.seconds_left),
        seconds_left=now.seconds_left,
        runs=now.state in (HeatState.RUNNING, HeatState.LAST_MINUTES),
        is_over=now.state is HeatState.OVER,
    )


def mock_result(drill: Drill) -> MockResult:
    """The result once it is closed, for the coach."""
    if not drill.is_mock or drill.closed_at is None or drill.started_at is None:
        return MockResult()
    outcome = mock_results(drill)
    called = {seat_label(s): s.called for s in drill.seats.select_related("pupil", "pair")}
    placed = [
        Placed(ordinal(line.place), called[line.pair.code], _points(line.total, outcome))
        for line in outcome.pairs
        if line.place is not None
    ]
    winners = [each.called for each in placed if each.place == placed[0].place]
    return MockResult(placed, winners, _points(outcome.highest_total, outcome))


def _points(points: Fraction, outcome: Results) -> str:
    return points_words(points, outcome.event.rules.decimals)


def own_result(seat: DrillSeat) -> OwnResult:
    """Total and place of one seat, without anybody else's name."""
    outcome = mock_results(seat.drill)
    line = next(each for each in outcome.pairs if each.pair.code == seat_label(seat))
    return OwnResult(
        total=_points(line.total, outcome),
        highest=_points(outcome.highest_total, outcome),
        place="" if line.place is None else ordinal(line.place),
        n_placed=sum(each.place is not None for each in outcome.pairs),
    )


def open_items(seat: DrillSeat) -> list[tuple[DrillItem, str]]:
    """Everything asked, with what this seat wrote down so far."""
    answers = {row.item_id: row for row in seat.answers.all()}
    return [
        (item, f"{answers[item.pk].estimate:f}" if item.pk in answers else "")
        for item in seat.drill.items.all()
    ]
