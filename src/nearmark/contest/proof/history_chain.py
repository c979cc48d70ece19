"""Every act of the event as a chain: each line's hash holds the line before it.

Who takes a line out, changes one or puts one in changes every hash after it, and with it the head
that was printed with the standings.  What a line says is held by a keyed hash, so that the chain
can be shown to everybody without the names in it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from nearmark.contest.proof.canonical import digest, keyed_digest

BEGINNING: Final = digest("Nearmark history, format 1")


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One act."""

    at: str  # when, in UTC: ``2027-05-08T09:12:31Z``
    details_digest: str  # keyed hash of ``details``
    # Who, what, the old and the new value, why; ``None`` where it is not shown.
    details: Mapping[str, str] | None = None


def history_line(at: str, details: Mapping[str, str], salt: str) -> HistoryLine:
    """An act as a line of the chain.

    >>> history_line("2027-05-08T09:12:31Z", {"who": "Juniper"}, "5a17").at
    '2027-05-08T09:12:31Z'

    Parameters
    ----------
    details : ``who``, ``what``, ``old``, ``new``, ``why``
    salt : hexadecimal digits
    """
    return HistoryLine(at, keyed_digest(salt, dict(details)), dict(details))


def chain_head(lines: Iterable[HistoryLine]) -> str:
    """The hash of the whole history, oldest line first, in hexadecimal digits.

    >>> first = history_line("2027-05-08T09:12:31Z", {"who": "Juniper"}, "5a17")
    >>> chain_head([first]) == chain_head([first, first])
    False
    """
    head = BEGINNING
    for number, line in enumerate(lines, start=1):
        head = digest([head, str(number), line.at, line.details_digest])
    return head


def changed_details(lines: Iterable[HistoryLine], salt: str) -> tuple[int, ...]:
    """Numbers of the lines, from 1, whose words are not those that the chain holds.

    >>> line = history_line("2027-05-08T09:12:31Z", {"who": "Juniper"}, "5a17")
    >>> changed_details([line], "5a17"), changed_details([line], "00")
    ((), (1,))
    """
    return tuple(
        number
        for number, line in enumerate(lines, start=1)
        if line.details is not None
        and keyed_digest(salt, dict(line.details)) != line.details_digest
    )
