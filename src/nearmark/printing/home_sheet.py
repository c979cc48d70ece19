"""A pupil's home sheet: what to practise, why, and three tasks; nobody else is on the page."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.coaching.advice import pupil_advice
from nearmark.coaching.attempt import Attempt
from nearmark.coaching.body_reference import BodyReference, remeasure_by
from nearmark.coaching.home_tasks import home_tasks
from nearmark.coaching.kinds import Stratum
from nearmark.coaching.practice_plan import PlannedItem, what_next
from nearmark.coaching.pupil_habit import PupilHabit, attempts_in
from nearmark.errors import InputError
from nearmark.printing.typesetting import typeset
from nearmark.printing.words import day_text, number_text, wrappable
from nearmark.station import Station
from nearmark.words.coaching_advice import attempt_words, trial_words
from nearmark.words.coaching_child import child_habit_words, child_reason_words
from nearmark.words.deviations import AxisCentre, error_words
from nearmark.words.feedback_page import own_mark
from nearmark.words.home_tasks import task_fields, task_title, task_words
from nearmark.words.measuring import mark_nothing, measure_again
from nearmark.words.season_papers import (
    HomeSheetWords,
    home_sheet_words,
    practised,
    you_and_true,
)

LAST_ATTEMPTS = 3
LINES = 3
"""Strips, and kinds of thing to practise, that fit the page."""

MAX_REFERENCES = 8
MAX_ADVICE = 2
"""More than two new habits at once nobody takes on."""

_UNIT = {Station.MASS: "g", Station.COUNT: "", Station.VOLUME: "cm³"}


@dataclass(frozen=True, slots=True)
class Hand:
    """A pupil's own references."""

    references: tuple[BodyReference, ...] = ()
    measured: date | None = None  # day of the oldest reading


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
class TaskLine:
    """One task to do at home, as text."""

    title: str
    words: str
    fields: tuple[str, ...]  # numbers to write down


@dataclass(frozen=True, slots=True)
class HomeSheetView:
    """The page, ready to be set."""

    pupil: str
    words: HomeSheetWords
    practise: tuple[PractiseLine, ...]
    attempts: tuple[AttemptLine, ...]
    tasks: tuple[TaskLine, ...]
    advice: tuple[str, ...] = ()
    references: tuple[str, ...] = ()
    hand_care: str = ""


def home_sheet_pdf(  # noqa: PLR0913 - one argument a thing that may be on the page
    habits: Sequence[PupilHabit],
    *,
    day: date,
    known: Collection[Stratum] = (),
    week: int = 0,
    hand: Hand | None = None,
    bag: str = "",
    paper: str = "a4",
) -> bytes:
    """Set one pupil's home sheet.

    ``habits``: PupilHabit, n >= 1. ``week`` (weeks): since the season began: the tasks change with
    it. ``bag``: name of the material taken home; empty: none. ``paper``: ``a4`` or ``us-letter``.
    Returns: a PDF of one page. Raises InputError if there is no habit, or habits of more than one
    pupil.
    """
    view = home_sheet_view(habits, day=day, known=known, week=week, hand=hand, bag=bag)
    return typeset("home_sheet", view, day=day, paper=paper)


def home_sheet_view(
    habits: Sequence[PupilHabit],
    *,
    day: date,
    known: Collection[Stratum] = (),
    week: int = 0,
    hand: Hand | None = None,
    bag: str = "",
) -> HomeSheetView:
    """What the page says, as text.

    ``habits``: PupilHabit, n >= 1. ``week``: weeks. Raises InputError if there is no habit, or
    habits of more than one pupil.
    """
    if len({habit.pupil for habit in habits}) != 1:
        raise InputError(
            "needs the habits of one pupil", where="home sheet", mend="Log one attempt first"
        )
    asked = what_next(habits, known, LINES)
    attempts = attempts_in(habits)
    advice = tuple(trial_words(trial) for trial in pupil_advice(attempts)[:MAX_ADVICE])
    # Advice takes the place of one try: the page is full.
    last = attempts[-(LAST_ATTEMPTS - bool(advice)) :][::-1]
    hand = hand or Hand()
    pupil = wrappable(habits[0].pupil, 40)
    return HomeSheetView(
        pupil=pupil,
        words=home_sheet_words(pupil, day_text(day), wrappable(bag, 60)),
        practise=tuple(_practise(item, habits) for item in asked),
        attempts=tuple(map(_attempt, last)),
        tasks=tuple(
            TaskLine(task_title(task), task_words(task), task_fields(task))
            for task in home_tasks([item.station for item in asked], week)
        ),
        advice=advice,
        references=tuple(_reference(each) for each in hand.references[:MAX_REFERENCES]),
        hand_care=" ".join(_hand_care(hand)),
    )


def _practise(item: PlannedItem, habits: Sequence[PupilHabit]) -> PractiseLine:
    kind = (item.station, item.size)
    habit = next((h for h in habits if (h.station, h.size) == kind), None)
    return PractiseLine(
        wrappable(practised(item.station, item.size), 60),
        "" if habit is None else child_habit_words(habit),
        child_reason_words(item),
    )


def _attempt(attempt: Attempt) -> AttemptLine:
    ratio, unit = attempt.estimate / attempt.true, _UNIT[attempt.station]
    space = f" {unit}" if unit else ""
    mark = Mark(ratio, own_mark(), MarkKind.THIS)
    return AttemptLine(
        what=f"{day_text(attempt.day)}, {wrappable(attempt.thing, 60)}",
        numbers=you_and_true(
            f"{_shown(attempt.estimate)}{space}", f"{_shown(attempt.true)}{space}"
        ),
        told=error_words(ratio),
        advice=attempt_words(attempt),
        strip=strip_svg(
            [mark], width_px=300, title=attempt.thing, centre=AxisCentre.TRUE, few_ticks=True
        ),
    )


def _shown(value: float) -> str:
    """Whole from a hundred on, one decimal below."""
    return number_text(value, 0 if value >= 100 or value == round(value) else 1)


def _reference(each: BodyReference) -> str:
    return f"{wrappable(each.name, 30)} {number_text(each.length_cm, 1)} cm"


def _hand_care(hand: Hand) -> Iterator[str]:
    if hand.measured:
        yield measure_again(day_text(remeasure_by(hand.measured)))
    yield mark_nothing()
