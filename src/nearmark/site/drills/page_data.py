"""What the pages of a drill show: own answers to who sits there, everything to the coach."""

from dataclasses import dataclass

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.contest import score
from nearmark.printing.words import number_text
from nearmark.site.common.local_time import local_day
from nearmark.site.drills.actions import attempt_of_answer
from nearmark.site.drills.models import Drill, DrillAnswer, DrillItem, DrillSeat
from nearmark.site.drills.seat_actions import code_of
from nearmark.station import UNITS
from nearmark.words.coaching_advice import attempt_words
from nearmark.words.feedback_page import own_mark
from nearmark.words.numbers import points_words
from nearmark.words.sides import unit_text


@dataclass(frozen=True, slots=True)
class AnswerFeedback:
    """One answer as whoever gave it sees of it."""

    item: DrillItem
    points: str
    own: str
    true: str
    unit: str
    advice: str
    strip: str  # SVG


def told_of(row: DrillAnswer) -> AnswerFeedback:
    """An answer with its score, its strip and one sentence."""
    item = row.item
    attempt = attempt_of_answer(row, local_day(row.at))
    ratio = attempt.estimate / attempt.true
    return AnswerFeedback(
        item,
        points_words(score(row.estimate, item.true), 0),
        number_text(row.estimate),
        number_text(item.true, 0 if item.true == round(item.true) else 1),
        unit_text(UNITS[attempt.station]),
        attempt_words(attempt).replace("cm3", unit_text("cm3")),
        strip_svg([Mark(ratio, own_mark(), MarkKind.THIS)], width_px=340, title=item.name),
    )


@dataclass(frozen=True, slots=True)
class Cell:
    """One seat and one thing on the coach's page."""

    item: str
    points: str  # empty while nothing was answered


@dataclass(frozen=True, slots=True)
class SeatRow:
    """One seat on the coach's page."""

    seat: DrillSeat
    code: str
    state: str
    cells: tuple[Cell, ...]

    @property
    def n_answered(self) -> int:
        """Things answered."""
        return sum(bool(cell.points) for cell in self.cells)


def seat_rows(drill: Drill, items: list[DrillItem]) -> list[SeatRow]:
    """Everybody's seat, with what was answered so far."""
    seats = list(drill.seats.select_related("drill", "pupil", "pair").prefetch_related("answers"))
    return [
        SeatRow(seat, code_of(seat), _state(seat, len(items)), tuple(_cells(seat, items)))
        for seat in seats
    ]


def _cells(seat: DrillSeat, items: list[DrillItem]) -> list[Cell]:
    answers = {row.item_id: row for row in seat.answers.all()}
    return [Cell(item.name, _points(answers.get(item.pk), item)) for item in items]


def _points(row: DrillAnswer | None, item: DrillItem) -> str:
    if row is None:
        return ""
    return points_words(score(row.estimate, item.true), 0)


def _state(seat: DrillSeat, n_items: int) -> str:
    if seat.handed_in_at is not None:
        return "handed in"
    if len(seat.answers.all()) == n_items:
        return "all answered"
    if seat.joined_at is None:
        return "not here yet" if seat.drill.closed_at is None else "was not here"
    return "at work" if seat.drill.closed_at is None else "came"
