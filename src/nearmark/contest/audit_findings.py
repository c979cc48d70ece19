"""What the sheets that were read again show: how many are wrong, and how many are unread."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from nearmark.contest.audit_sampling import ESCALATE_AT, AuditOutcome, audit_outcome
from nearmark.errors import InputError

MIN_ROLLS: Final = 6
"""Six dice give 46,656 seeds: nobody tries them all in front of witnesses (our own choice)."""

MAX_ROLLS: Final = 12


@dataclass(frozen=True, slots=True)
class AuditFindings:
    """How far the audit is, and what it found."""

    # Of those named and those drawn, together.
    n_listed: int
    n_read: int
    n_wrong: int
    unread: tuple[str, ...]  # codes still to be read
    # Of those drawn at random, and what they were drawn from.
    n_sample_read: int
    n_sample_wrong: int
    n_others: int
    n_left_out: int = 0  # that would have been named but for the number of sheets asked for
    n_unweighed: int = 0  # read, but without a mass to read: it is on no paper

    @property
    def must_read_all(self) -> bool:
        """Whether so many are wrong that every sheet is read again."""
        return self.n_wrong >= ESCALATE_AT

    @property
    def of_sample(self) -> AuditOutcome | None:
        """What the random sample says; ``None`` while a sheet is unread, or without a sample."""
        if not self.n_sample_read or self.unread:
            return None
        return audit_outcome(self.n_others, self.n_sample_read, self.n_sample_wrong)


def audit_findings(
    targeted: tuple[str, ...],
    sample: tuple[str, ...],
    agrees: Mapping[str, bool],
    *,
    n_others: int,
    n_left_out: int = 0,
    n_unweighed: int = 0,
) -> AuditFindings:
    """Count what was read.

    >>> found = audit_findings(("P1",), ("P2",), {"P1": True, "P2": True}, n_others=8)
    >>> found.n_read, found.n_wrong, found.must_read_all
    (2, 0, False)

    Parameters
    ----------
    targeted, sample : codes; as the plan names and draws them
    agrees : mapping of code -> bool
        Whether the paper says what was keyed; a sheet not read yet is left out.
    n_others : sheets; what the sample was drawn from
    n_left_out : sheets; named but for the number of sheets asked for
    n_unweighed : sheets; read without a mass
    """
    listed = (*targeted, *sample)
    read = [code for code in listed if code in agrees]
    drawn = [code for code in sample if code in agrees]
    return AuditFindings(
        n_listed=len(listed),
        n_read=len(read),
        n_wrong=sum(not agrees[code] for code in read),
        unread=tuple(code for code in listed if code not in agrees),
        n_sample_read=len(drawn),
        n_sample_wrong=sum(not agrees[code] for code in drawn),
        n_others=n_others,
        n_left_out=n_left_out,
        n_unweighed=n_unweighed,
    )


def rolled_seed(rolls: str) -> int:
    """The public seed from dice rolled in front of everybody: their digits read as one number.

    >>> rolled_seed("4 1 6 2 2 5")
    416225

    Parameters
    ----------
    rolls : one digit a die, in the order rolled; spaces do not matter
    """
    digits = "".join(rolls.split())
    if not digits or any(digit not in "123456" for digit in digits):
        raise InputError(
            "must be digits from 1 to 6",
            where="dice",
            value=rolls[:40],
            mend="Roll a die in front of everybody and type what it shows, one digit a roll",
        )
    if not MIN_ROLLS <= len(digits) <= MAX_ROLLS:
        raise InputError(
            f"must be {MIN_ROLLS} to {MAX_ROLLS} rolls",
            where="dice",
            value=rolls[:40],
            mend="Roll again, or leave out the last ones",
        )
    return int(digits)
