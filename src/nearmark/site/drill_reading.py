"""What the pages of a drill show: own answers to who sits there, everything to the coach."""

from dataclasses import dataclass

from nearmark.charts import Mark, MarkKind, error_words, strip_svg
from nearmark.coaching import attempt_advice
from nearmark.contest import score
from nearmark.contest.scoring import points_text
from nearmark.printing.words import number_text
from nearmark.site.acts.drill_seats import code_of
from nearmark.site.acts.drills import attempt_of_answer, local_day
from nearmark.site.models import Drill, DrillAnswer, DrillItem, DrillSeat

UNITS = {"mass": "g", "count": "pieces", "volume": "cm³"}


@dataclass(frozen=True, slots=True)
class Told:
    """One answer as whoever gave it is told of it.

    Attributes
    ----------
    item : DrillItem
    points : str
    own, true, unit : str
    words : str
        How far off.
    advice : str
    strip : str
        SVG; empty for a blank.
    """

    item: DrillItem
    points: str
    own: str
    true: str
    unit: str
    words: str
    advice: str
    strip: str


def told_of(row: DrillAnswer) -> Told:
    """An answer with its score, its strip and one sentence.

    Parameters
    ----------
    row : DrillAnswer
    """
    item, unit = row.item, UNITS[row.item.station]
    true = number_text(item.true)
    attempt = attempt_of_answer(row, local_day(row.at))
    if attempt is None or row.estimate is None:
        return Told(item, "0", "", true, unit, "left blank", "A careful try is worth it.", "")
    ratio = attempt.estimate / attempt.true
    return Told(
        item,
        points_text(score(row.estimate, item.true), 0),
        number_text(row.estimate),
        true,
        unit,
        error_words(ratio),
        attempt_advice(attempt),
        strip_svg([Mark(ratio, "you", MarkKind.THIS)], width_px=340, title=item.name),
    )


@dataclass(frozen=True, slots=True)
class Cell:
    """One seat and one thing on the coach's page.

    Attributes
    ----------
    item : str
    points : str
        Empty while nothing was answered.
    """

    item: str
    points: str


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
    """Everybody's seat, with what was answered so far.

    Parameters
    ----------
    drill : Drill
    items : list of DrillItem
    """
    seats = list(drill.seats.select_related("pupil", "pair").prefetch_related("answers"))
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
    return "blank" if row.estimate is None else points_text(score(row.estimate, item.true), 0)


def _state(seat: DrillSeat, n_items: int) -> str:
    if seat.handed_in_at is not None:
        return "handed in"
    if len(seat.answers.all()) == n_items:
        return "all answered"
    return "not here yet" if seat.joined_at is None else "at work"
