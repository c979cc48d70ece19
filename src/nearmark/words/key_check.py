"""What the field's own answers say about a key, and which slip could be behind a wrong one."""

import math
from typing import Final

from nearmark.contest.event import Side
from nearmark.contest.field_offset import MIN_ANSWERS
from nearmark.contest.key_check import KeyCheck, NoSlip
from nearmark.contest.key_slips import KeySlip, Slip
from nearmark.words.numbers import either, give_or_take, percent, signed_percent
from nearmark.words.translation import message, say, say_count

_SLIPS: Final = {
    KeySlip.DECIDED: message("the decided value wrong, the measured one right"),
    KeySlip.KEY_DIGITS: message(
        "digits {first} and {second} of the key exchanged ({typed} for {meant})"
    ),
    KeySlip.TEN_TIMES_TOO_LARGE: message("key ten times too large"),
    KeySlip.TEN_TIMES_TOO_SMALL: message("key ten times too small"),
    KeySlip.SAMPLES_TWICE: message("pieces of the counted samples taken as twice as many"),
    KeySlip.SAMPLES_HALF: message("pieces of the counted samples taken as half as many"),
    KeySlip.GROSS_DIGITS: message(
        "digits {first} and {second} of the gross mass exchanged ({typed} g for {meant} g)"
    ),
    KeySlip.TARE_DIGITS: message(
        "digits {first} and {second} of the tare exchanged ({typed} g for {meant} g)"
    ),
    KeySlip.TARE_TWICE: message("tare subtracted twice"),
    KeySlip.TARE_LEFT_IN: message("tare left in"),
    KeySlip.EDGE_DIGITS: message(
        "digits {first} and {second} of the {side} exchanged ({typed} cm for {meant} cm)"
    ),
    KeySlip.EDGE_IN_INCHES: message("{side} read in inches"),
    KeySlip.EDGE_AS_INCHES: message("{side} read in cm and entered as inches"),
    KeySlip.ALL_IN_INCHES: message("all edges read in inches"),
    KeySlip.ALL_AS_INCHES: message("all edges in cm entered as inches"),
    KeySlip.EDGE_DOUBLED: message("one edge doubled"),
    KeySlip.EDGE_HALVED: message("one edge halved"),
    KeySlip.OUTSIDE: message("measured outside instead of inside"),
    KeySlip.INSIDE: message("measured inside instead of outside"),
}

_SIDES: Final = {
    Side.LENGTH: message("length"),
    Side.WIDTH: message("width"),
    Side.HEIGHT: message("height"),
}


def check_sentences(check: KeyCheck) -> tuple[str, ...]:
    """The finding about one key: too few answers, nothing to see, or a doubt with its reasons."""
    if check.robust_log_ratio is None:
        return too_few_answers(check.n), second_way()
    if not check.flagged:
        return off_the_key(check), seen_every_other_time(check), second_way()
    return (
        please_check(check),
        *((may_be_another(check.rivals),) if check.rivals else ()),
        likeliest_slip(check.likely_slip) if check.likely_slip else no_common_slip(),
        *((may_be_right(),) if check.may_be_right else ()),
    )


def check_words(check: KeyCheck) -> str:
    """The finding about one key as one text."""
    return " ".join(check_sentences(check))


def limit_words(check: KeyCheck) -> str:
    """What the check cannot see."""
    if check.seen_error is None:
        return second_way()
    return f"{seen_every_other_time(check)} {second_way()}"


def too_few_answers(n: int) -> str:
    """True below the number of answers that can speak against a key."""
    return say_count(
        "{n} answer is too few to judge the key by: at least {least} needed.",
        "{n} answers are too few to judge the key by: at least {least} needed.",
        n,
        least=MIN_ANSWERS,
    )


def second_way() -> str:
    """True of every key: the answers cannot prove that it is right."""
    return say("Only a second way to the key can prove it: count, weigh or measure it again.")


def off_the_key(check: KeyCheck) -> str:
    """How far the answers are off a key that is not doubted, and how far they usually are."""
    return say(
        "The middle of {n} answers is {percent} off the key (expected: {expected}).",
        **_offset(check),
    )


def please_check(check: KeyCheck) -> str:
    """True of a doubted key: the answers are farther off than a sound key leads to expect."""
    return say(
        "Please check this key again: the middle of {n} answers is {percent} off the key "
        "(expected: {expected}).",
        **_offset(check),
    )


def _offset(check: KeyCheck) -> dict[str, object]:
    expected = signed_percent(math.expm1(check.expected or 0))
    return {
        "n": check.n,
        "percent": signed_percent(math.expm1(check.robust_log_ratio or 0)),
        "expected": give_or_take(expected, percent(check.sd or 0)),
    }


def seen_every_other_time(check: KeyCheck) -> str:
    """How large an error of the key must be to show in these answers half of the time."""
    error = check.seen_error or 0
    return say(
        "A key {large} too large or {small} too small would show only every other time, and a "
        "smaller error less often.",
        large=percent(math.expm1(error)),
        small=percent(-math.expm1(-error)),
    )


def may_be_another(rivals: tuple[str, ...]) -> str:
    """True when the answers fit another wrong key about as well."""
    return say(
        "The wrong key may also be that of {items}: the answers cannot show which.",
        items=either(rivals),
    )


def likeliest_slip(slip: Slip) -> str:
    """True when one common slip explains the answers better than any other error."""
    return say("If it is wrong, the likeliest slip is: {slip}.", slip=slip_words(slip))


def no_common_slip() -> str:
    """True when no common slip explains the answers better than any other error."""
    return say("No common slip explains it well.")


def may_be_right() -> str:
    """True when an unusual field explains the answers nearly as well as a wrong key."""
    return say("It may also be right, and this field unusual.")


def cause_words(cause: Slip | NoSlip) -> str:
    """An explanation of a doubted key, as it is listed with its probability."""
    if cause is NoSlip.AS_STATED:
        return say("the key is right, this field is unusual")
    return slip_words(cause) if isinstance(cause, Slip) else say("some other error")


def slip_words(slip: Slip) -> str:
    """One slip that would have led to this key, for the person who looks again.

    >>> from decimal import Decimal
    >>> slip_words(Slip(KeySlip.KEY_DIGITS, 1420.0, 1, Decimal(4120), Decimal(1420)))
    'digits 1 and 2 of the key exchanged (4120 for 1420)'
    """
    return say(
        _SLIPS[slip.kind],
        side=side_name(slip.side) if slip.side else "",
        first=slip.position,
        second=slip.position + 1,
        typed=slip.typed,
        meant=slip.meant,
    )


def side_name(side: Side) -> str:
    """The name of an edge of a box."""
    return say(_SIDES[side])
