"""A pupil's home sheet: what to practise, why, and three tasks; nobody else is on the page."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.coaching.attempt import Attempt, Station
from nearmark.coaching.attempt_advice import attempt_advice
from nearmark.coaching.body_reference import BodyReference, remeasure_by
from nearmark.coaching.home_tasks import HomeTask, home_tasks
from nearmark.coaching.practice_plan import Need, needs, plan_session
from nearmark.coaching.pupil_habit import SURE, PupilHabit, side
from nearmark.errors import InputError
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text, wrappable
from nearmark.words.deviations import error_words

LAST_ATTEMPTS = 3
LINES = 3
"""Strips, and kinds of thing to practise, that fit the page."""

MOST_REFERENCES = 8

_WHAT = {
    Station.MASS: "Scooping 100 g",
    Station.COUNT: "Counting by layers",
    Station.VOLUME: "Volume of boxes",
}
_UNIT = {Station.MASS: "g", Station.COUNT: "", Station.VOLUME: "cm³"}


@dataclass(frozen=True, slots=True)
class Hand:
    """A pupil's own references.

    Attributes
    ----------
    measured : date or None
        Day of the oldest reading.
    """

    references: tuple[BodyReference, ...] = ()
    measured: date | None = None


@dataclass(frozen=True, slots=True)
class PractiseLine:
    """One thing to practise, as text."""

    what: str
    habit: str
    reason: str


@dataclass(frozen=True, slots=True)
class AttemptLine:
    """One attempt as the page shows it."""

    what: str
    numbers: str
    told: str
    advice: str
    strip: str


@dataclass(frozen=True, slots=True)
class HomeSheetView:
    """The page, ready to be set."""

    pupil: str
    day: str
    practise: tuple[PractiseLine, ...]
    attempts: tuple[AttemptLine, ...]
    tasks: tuple[HomeTask, ...]
    references: tuple[str, ...] = ()
    measure_again: str = ""
    bag: str = ""


def home_sheet_pdf(
    habits: Sequence[PupilHabit],
    *,
    day: date,
    week: int = 0,
    hand: Hand | None = None,
    bag: str = "",
    paper: str = "a4",
) -> bytes:
    """Set one pupil's home sheet.

    Parameters
    ----------
    habits : PupilHabit, shape (n,), n >= 1
        Of one pupil.
    week : weeks
        Since the season began: the tasks change with it.
    bag : str
        Name of the material taken home; empty: none.
    paper : ``a4`` or ``us-letter``

    Returns
    -------
    bytes
        A PDF of one page.

    Raises
    ------
    InputError
        If there is no habit, or habits of more than one pupil.
    """
    view = home_sheet_view(habits, day=day, week=week, hand=hand, bag=bag)
    return typeset("home_sheet", view, day=day, paper=paper)


def home_sheet_view(
    habits: Sequence[PupilHabit],
    *,
    day: date,
    week: int = 0,
    hand: Hand | None = None,
    bag: str = "",
) -> HomeSheetView:
    """What the page says, as text.

    Parameters
    ----------
    habits : PupilHabit, shape (n,), n >= 1
    week : weeks

    Raises
    ------
    InputError
        If there is no habit, or habits of more than one pupil.
    """
    if len({habit.pupil for habit in habits}) != 1:
        raise InputError(
            "needs the habits of one pupil", where="home sheet", mend="Log one attempt first"
        )
    asked = _most_needed(habits)
    attempts = sorted((a for habit in habits for a in habit.attempts), key=lambda a: a.day)
    hand = hand or Hand()
    return HomeSheetView(
        pupil=wrappable(habits[0].pupil, 40),
        day=day_text(day),
        practise=tuple(_practise(need, habits) for need in asked),
        attempts=tuple(_attempt(attempt) for attempt in attempts[-LAST_ATTEMPTS:][::-1]),
        tasks=home_tasks([need.station for need in asked], week),
        references=tuple(_reference(each) for each in hand.references[:MOST_REFERENCES]),
        measure_again=day_text(remeasure_by(hand.measured)) if hand.measured else "",
        bag=wrappable(bag, 60),
    )


def _most_needed(habits: Sequence[PupilHabit]) -> list[Need]:
    """As the practice plan takes them in turn, each kind once."""
    known = {(need.station, need.size): need for need in needs(habits, {})}
    plan = plan_session(tuple(known.values()), 2 * LINES)
    order = dict.fromkeys((item.station, item.size) for item in plan)
    return [known[stratum] for stratum in order][:LINES]


def _practise(need: Need, habits: Sequence[PupilHabit]) -> PractiseLine:
    habit = next(h for h in habits if (h.station, h.size) == (need.station, need.size))
    size = f", {need.size}" if need.size else ""
    tries = "one try" if need.n == 1 else f"{need.n} tries"
    return PractiseLine(
        wrappable(f"{_WHAT[need.station]}{size}", 60),
        _habit(habit),
        f"Worth about {need.items * need.gain:.1f} points an item; {tries} so far.",
    )


def _habit(habit: PupilHabit) -> str:
    if habit.n == 1:
        return "You have tried this once: a second try tells more."
    if max(habit.p_low, 1 - habit.p_low) < SURE:
        return "No habit of reading high or low so far: keep your way steady."
    told = side(habit.posterior.bias)
    if told == "right":
        return "You read this right on average: keep your way steady."
    low = habit.posterior.bias < 0
    if habit.station is Station.MASS:
        return f"Your scoops are usually about {told}: take a little {'more' if low else 'less'}."
    return f"You usually read about {told}: there is {'more' if low else 'less'} than it looks."


def _attempt(attempt: Attempt) -> AttemptLine:
    ratio, unit = attempt.estimate / attempt.true, _UNIT[attempt.station]
    space = f" {unit}" if unit else ""
    mark = Mark(ratio, "you", MarkKind.THIS)
    return AttemptLine(
        what=f"{day_text(attempt.day)}, {wrappable(attempt.thing, 60)}",
        numbers=f"you {_shown(attempt.estimate)}{space}, true {_shown(attempt.true)}{space}",
        told=error_words(ratio),
        advice=attempt_advice(attempt),
        strip=strip_svg([mark], width_px=300, title=attempt.thing),
    )


def _shown(value: float) -> str:
    """Whole from a hundred on, one decimal below."""
    return number_text(value, 0 if value >= 100 or value == round(value) else 1)


def _reference(each: BodyReference) -> str:
    return f"{wrappable(each.name, 30)} {number_text(each.length_cm, 1)} cm"
