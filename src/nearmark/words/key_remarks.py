"""What to look at before a measured value is trusted, and what drawing says of its interval."""

import math
from functools import singledispatch
from typing import Final

from nearmark.kit.assigned_value import AssignedValue, percent_text
from nearmark.kit.drawn_check import DrawnCheck, Stated
from nearmark.kit.key_warnings import (
    CountsDisagree,
    FarFromOthers,
    KeyWarning,
    Lack,
    LargeBox,
    LongSide,
    ManyPieces,
    OffGrid,
    PiecesVary,
    SamplesAllAgree,
    SidesReadOnce,
    SkewCorner,
)
from nearmark.kit.odd_records import OddSpread
from nearmark.measurement.budget import Budget
from nearmark.measurement.rounding import round_to, two_digits
from nearmark.words.numbers import percent
from nearmark.words.odd_readings import ask_about_reading, reading_is_odd
from nearmark.words.translation import message, say


def warning_words(warning: KeyWarning) -> str:
    """What a person should look at, without a capital and a full stop."""
    return _warning(warning)


@singledispatch
def _warning(warning: KeyWarning) -> str:
    raise TypeError(type(warning).__name__)


@_warning.register
def off_grid(warning: OffGrid) -> str:
    """True of a number that its instrument cannot show."""
    facts = {
        "where": warning.where,
        "value": f"{warning.value:g}",
        "unit": warning.unit,
        "step": f"{warning.step:g}",
        "instrument": warning.instrument,
    }
    if warning.may_be_inches:
        return say(
            "{where}: {value} {unit} is not a whole number of steps ({step} {unit}) of "
            "{instrument}: a digit slip? Or inches?",
            **facts,
        )
    return say(
        "{where}: {value} {unit} is not a whole number of steps ({step} {unit}) of {instrument}: "
        "a digit slip?",
        **facts,
    )


@_warning.register
def far_from_others(warning: FarFromOthers) -> str:
    """True of a repeat that is far from the median of all."""
    return say(
        "{where}: {value} {unit} is far from the median {median} {unit}: digits swapped?",
        where=warning.where,
        value=f"{warning.value:g}",
        median=f"{warning.median:g}",
        unit=warning.unit,
    )


@_warning.register
def pieces_vary(warning: PiecesVary) -> str:
    """True of samples that no material scatters like."""
    return say(
        "the samples scatter as if single pieces varied by {percent}: look for a miscount or mixed "
        "material",
        percent=percent(warning.piece_cv),
    )


@_warning.register
def samples_all_agree(_: SamplesAllAgree) -> str:
    """True of samples that do not scatter at all."""
    return say(
        "all samples agree to the last digit: their scatter says nothing, the scale's resolution "
        "is used instead; make sure they are separate samples"
    )


@_warning.register
def odd_spread(warning: OddSpread) -> str:
    """True of a stated spread of pieces that the samples do not bear."""
    return say(
        "{found}. {question}",
        found=reading_is_odd(warning),
        question=ask_about_reading(warning),
    )


@_warning.register
def long_side(warning: LongSide) -> str:
    """True of a side that is longer than boxes are."""
    return say(
        "{edge}: {length} cm is very long: millimetres?",
        edge=warning.edge,
        length=f"{warning.length_cm:g}",
    )


@_warning.register
def large_box(warning: LargeBox) -> str:
    """True of a box that holds more than boxes do."""
    return say(
        "{litres} litres is a very large box: millimetres? If all sides were typed in "
        "millimetres, the box has {litres} cm3",
        litres=f"{warning.volume_cm3 / 1000:,.0f}",
    )


@_warning.register
def sides_read_once(_: SidesReadOnce) -> str:
    """True of a box with one reading of each side."""
    return say("each side was read once: U rests on the ruler's marks alone; read again")


@_warning.register
def skew_corner(warning: SkewCorner) -> str:
    """True of a box whose base is no rectangle."""
    return say(
        "the corner is {off} degrees off a right angle: {share} was taken off; measure the base "
        "along its perpendicular height",
        off=f"{warning.off_deg:g}",
        share=percent_text(warning.share),
    )


@_warning.register
def counts_disagree(warning: CountsDisagree) -> str:
    """True of counts by hand that miscounts of single pieces do not explain."""
    return say(
        "the counts do not agree ({counts}): miscounts of single pieces explain {explained} apart, "
        "not {apart}",
        counts=", ".join(map(str, warning.counts)),
        explained=f"{warning.explained:.0f}",
        apart=warning.apart,
    )


@_warning.register
def many_pieces(warning: ManyPieces) -> str:
    """True of a large count by hand."""
    return say(
        "above {limit} pieces miscounts grow: check the count by weighing as well",
        limit=warning.limit,
    )


_LACKS: Final = {Lack.SECOND_COUNTER: message("only one person counted")}


def lack_words(assigned: AssignedValue) -> str:
    """What a value lacks to be fit, however small U is; empty when nothing."""
    return "" if assigned.missing is None else say(_LACKS[assigned.missing])


def u_words(assigned: AssignedValue) -> str:
    """True of every measured value: how large U is, and what it lacks however small U is."""
    within = say(
        "U is {u} of the value; the limit is {limit}.",
        u=percent_text(assigned.relative_expanded_u),
        limit=percent_text(assigned.u_limit),
    )
    if assigned.missing is None:
        return within
    lack = say("However small U is, it is not fit: {lack}.", lack=lack_words(assigned))
    return f"{within} {lack}"


def coverage_words(budget: Budget) -> str:
    """True of every measured value: what its U covers, and what that rests on; no full stop."""
    level, k = f"{100 * budget.level:g}", f"{budget.coverage_factor:.2f}"
    if math.isinf(budget.dof):
        return say("U at {level} %, k = {k}, infinite degrees of freedom", level=level, k=k)
    return say(
        "U at {level} %, k = {k}, {dof} degrees of freedom",
        level=level,
        k=k,
        dof=f"{budget.dof:.1f}",
    )


def points_moved(assigned: AssignedValue) -> str:
    """True of every measured value: what its U means for a good answer."""
    return say(
        "It can move an answer of 90 points by {points} points.",
        points=f"{assigned.points_effect:.1f}",
    )


def drawn_words(check: DrawnCheck) -> str:
    """The interval that drawing gives, and how the stated one is beside it; no full stop."""
    low, high = (f"{round_to(end, check.places):f}" for end in check.interval)
    return drawn_interval(check, low, high, check.unit)


_STATED: Final = {
    Stated.AGREES: message(
        "Checked by {draws} draws (JCGM 101): 95 % interval {low} to {high} {unit}, as stated"
    ),
    Stated.WIDER: message(
        "Checked by {draws} draws (JCGM 101): 95 % interval {low} to {high} {unit}. The stated "
        "interval is wider by up to {most} {step_unit}: that is on the safe side"
    ),
    Stated.NARROWER: message(
        "Checked by {draws} draws (JCGM 101): 95 % interval {low} to {high} {unit}. The stated "
        "interval is narrower by up to {most} {step_unit}: take the drawn one"
    ),
    Stated.BESIDE: message(
        "Checked by {draws} draws (JCGM 101): 95 % interval {low} to {high} {unit}. The stated "
        "interval is beside it by up to {most} {step_unit}: take the drawn one"
    ),
}


def drawn_interval(check: DrawnCheck, low: str, high: str, unit: str) -> str:
    """The same with the ends and the unit as a page writes them."""
    return say(
        _STATED[check.verdict],
        draws=f"{check.n_draws:,}",
        low=low,
        high=high,
        unit=unit,
        most=two_digits(max(abs(check.low_off), abs(check.high_off))),
        step_unit=check.unit,
    )
