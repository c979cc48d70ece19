"""Why a row of an uncertainty budget is what it is, as a phrase behind the name of the row."""

from collections.abc import Iterable
from functools import singledispatch
from typing import Final

from nearmark.measurement.budget import Component
from nearmark.measurement.rounding import result_text
from nearmark.measurement.row_notes import (
    CornerFactor,
    FewSamples,
    FromSamples,
    FullCounts,
    Reason,
    RowNote,
    UpperBound,
    WeighingAgrees,
    WidenedByStudent,
)
from nearmark.words.translation import message, say, say_count


def row_notes(row: Component) -> str:
    """All that is known of why one row is what it is; empty when nothing is.

    >>> row_notes(Component("resolution of gross", 131.2, "g", 0, notes=(Reason.CONTAINED,)))
    'contained in the repeatability'
    """
    return "; ".join(note_words(note) for note in row.notes)


def silent_rows(rows: Iterable[Component]) -> str:
    """True of rows that were looked at and contribute nothing; empty when there are none.

    >>> silent_rows([Component("moisture and dust", 1, "relative", 0.0)])
    'Looked at, nothing added: moisture and dust.'
    """
    silent = [_row_words(row) for row in rows if not row.contribution]
    return say("Looked at, nothing added: {rows}.", rows="; ".join(silent)) if silent else ""


def _row_words(row: Component) -> str:
    if not row.notes:
        return row.name
    return say("{row} ({notes})", row=row.name, notes=row_notes(row))


def note_words(note: RowNote) -> str:
    """One reason, without a capital and a full stop."""
    return _note(note)


@singledispatch
def _note(note: RowNote) -> str:
    raise TypeError(type(note).__name__)


_REASONS: Final = {
    Reason.CONTAINED: message("contained in the repeatability"),
    Reason.ONE_READING: message("one reading only: no scatter to be seen"),
    Reason.SHARED_BY_SAMPLES: message("all samples of one size share it: no repeat shows it"),
    Reason.ROUNDING_HIDDEN: message("they scatter too little to show it"),
    Reason.TOO_LITTLE_SCATTER: message("the samples scatter less than this allows for"),
    Reason.STATED_SPREAD: message("from piece_cv"),
    Reason.FROM_CONTAINER: message(
        "zero: the samples came out of the container itself (on the safe side)"
    ),
    Reason.SAME_SCALE: message("cancels: the same scale weighed the samples"),
    Reason.MIXING_NOT_STATED: message("not stated: were the samples taken from the top only?"),
    Reason.ALL_DEPTHS: message("zero: the samples came from all depths of the lot"),
    Reason.ONE_PLACE: message("the samples came from one place of the lot"),
    Reason.ONE_COUNT: message("one count only: no scatter to be seen"),
    Reason.ONE_PERSON: message("one person's counts"),
    Reason.SHOWN_BY_ANOTHER: message("another person's count would show it"),
    Reason.WEIGHTED: message("weighted by its inverse variance"),
    Reason.ZERO_NOT_STATED: message("none stated: is the end of the ruler worn?"),
    Reason.SAME_RULER: message("common to all sides read with it"),
    Reason.SAME_WALLS: message("common to all sides: two walls each"),
    Reason.EXACT_PRODUCT: message("exact variance of a product (Goodman 1960)"),
}


@_note.register
def reason(note: Reason) -> str:
    """True of a row with a reason that needs no number."""
    return say(_REASONS[note])


@_note.register
def from_samples(note: FromSamples) -> str:
    """True of the scatter of samples."""
    return say_count("from {n} degree of freedom", "from {n} degrees of freedom", note.dof)


@_note.register
def widened_by_student(note: WidenedByStudent) -> str:
    """True of a repeated reading of a container whose u has Student's factor in it."""
    return say_count(
        "with Student's factor for {n} degree of freedom",
        "with Student's factor for {n} degrees of freedom",
        note.dof,
    )


@_note.register
def upper_bound(note: UpperBound) -> str:
    """True of a piece spread that nobody stated."""
    return say(
        "upper {level} % bound of the scatter of the samples", level=f"{100 * note.level:.0f}"
    )


@_note.register
def few_samples(note: FewSamples) -> str:
    """True of every count by weighing."""
    return say(
        "upper {level} % bound of the scatter, a usual piece spread of {usual} % counted as one "
        "more degree of freedom, and Student's factor; pieces differ by {most} % at most unless "
        "the samples show more: so that U holds although weighing ends when it looks small",
        level=f"{100 * note.level:.0f}",
        usual=f"{100 * note.usual_cv:.0f}",
        most=f"{100 * note.max_cv:.1f}",
    )


@_note.register
def full_counts(note: FullCounts) -> str:
    """True of two full counts or more by different people."""
    if note.agree:
        return say("{n} independent full counts that agree", n=note.n)
    return say("{n} independent full counts that do not agree", n=note.n)


@_note.register
def weighing_agrees(note: WeighingAgrees) -> str:
    """True of counts by hand that are fit and that a weighing checks."""
    return say(
        "the count by weighing, {weighed}, agrees (E_n {e_n})",
        weighed=result_text(note.weighed, note.expanded_u, "pieces"),
        e_n=f"{note.e_n:.2f}",
    )


@_note.register
def corner_factor(note: CornerFactor) -> str:
    """True of a box whose corner is off a right angle."""
    return say("volume multiplied by {factor}", factor=f"{note.factor:.5f}")
