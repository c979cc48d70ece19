"""Every error raised on purpose; each carries its data.

::

    NearmarkError
      InputError            a value the person can correct
        UnitError           a value that looks like another unit
        FilesError          one or more problems in an event folder, all of them at once
      MeasurementError      the readings cannot bear the result asked for
        TooFewReadings
        ReadingsDisagree
      RuleError             the rule set in force forbids it

A message has three parts: where and which value, what is wrong, and what to do.  Pages and
tables are built from the attributes, not from the text.  Anything else that is raised is a defect.
"""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass


def visible(text: str) -> str:
    r"""Text whose control signs are shown instead of obeyed: a terminal obeys what it is sent.

    >>> print(visible("name\x1b[2J"))
    name\x1b[2J
    """
    return "".join(
        sign.encode("unicode_escape").decode()
        if sign != "\n" and unicodedata.category(sign).startswith("C")
        else sign
        for sign in text
    )


class NearmarkError(Exception):
    """Anything Nearmark refuses on purpose.

    ``what``: what is wrong, in plain words. ``where``: which value: an option, a field, a sample.
    ``value``: the offending value as given; ``None`` if there is none to show. ``mend``: what the
    person can do about it.
    """

    def __init__(self, what: str, *, where: str = "", value: object = None, mend: str = "") -> None:
        self.what = what
        self.where = where
        self.value = value
        self.mend = mend
        super().__init__(what, where, value, mend)

    def __str__(self) -> str:
        head = f"{self.where}: " if self.where else ""
        got = "" if self.value is None else f" (got {self.value})"
        tail = f". {self.mend}" if self.mend else ""
        return visible(f"{head}{self.what}{got}{tail}")


class InputError(NearmarkError):
    """A value the person can correct."""


class UnitError(InputError):
    """A value that looks as if it were given in another unit."""


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing wrong in a file, with the place and what to do."""

    file: str  # file name inside the event folder
    # Line as a spreadsheet shows it (the heading is row 1); 0 when the whole file is meant.
    row: int
    column: str  # heading of the column or key of the table; empty when the whole row is meant
    value: str  # what is there
    what: str  # what is wrong
    mend: str  # what to do

    def __str__(self) -> str:
        row = f", row {self.row}" if self.row else ""
        column = f", column {self.column}" if self.column else ""
        got = f" (got {self.value!r})" if self.value else ""
        return visible(f"{self.file}{row}{column}: {self.what}{got}. {self.mend}")


class FilesError(InputError):
    """Everything wrong in a set of files, reported at once.

    ``problems``: at least one; those of a whole file come first, then by file and row. ``more``:
    how many were found beyond those listed.
    """

    def __init__(self, problems: Sequence[Problem], *, more: int = 0) -> None:
        self.problems = tuple(
            sorted(problems, key=lambda each: (bool(each.row or each.column), each))
        )
        self.more = more
        n = len(self.problems) + more
        super().__init__(
            f"{n} problem{'' if n == 1 else 's'} found, nothing was read",
            mend="Correct the rows named, save, and run again",
        )

    def __str__(self) -> str:
        return "\n".join([super().__str__(), *map(str, self.problems)])


class MeasurementError(NearmarkError):
    """The readings cannot bear the result asked for."""


class TooFewReadings(MeasurementError):  # noqa: N818 - reads as the fact it states
    """Too few readings for a scatter.

    ``where``: which readings. ``got``, ``need`` (readings): how many there are and how many are
    needed.
    """

    def __init__(self, where: str, *, got: int, need: int, mend: str = "") -> None:
        self.got = got
        self.need = need
        super().__init__(
            f"at least {need} needed, {got} given", where=where, mend=mend or "Take more readings"
        )


class ReadingsDisagree(MeasurementError):  # noqa: N818 - reads as the fact it states
    """Readings of the same thing differ more than scatter can explain."""


class RuleError(NearmarkError):
    """The rule set in force forbids it."""
