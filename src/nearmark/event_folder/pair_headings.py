"""Which column of a list of pairs is which, by headings in the words people use."""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.event_folder.problems import nearest

HEADINGS: dict[str, tuple[str, ...]] = {
    "code": ("code", "pair", "pair code", "pair number", "number", "no"),
    "school": ("school", "name of school", "school name"),
    "member_1": (
        *("first child", "child 1", "child", "first pupil", "pupil 1", "pupil"),
        *("first student", "student 1", "student", "first member", "member 1"),
    ),
    "member_2": (
        *("second child", "child 2", "second pupil", "pupil 2", "second student"),
        *("student 2", "second member", "member 2", "partner"),
    ),
    "member_3": (
        *("third child", "child 3", "third pupil", "pupil 3", "third student"),
        *("student 3", "third member", "member 3"),
    ),
    "members": ("children", "both children", "names", "pupils", "students", "members"),
    "status": ("status",),
    "heat": ("heat",),
    "room": ("room",),
    "division": ("division", "grade"),
}
"""Meaning -> headings, the plainest first.  ``member_3`` and ``room`` are known so that what
is below them can be refused."""

_BY_WORDS = {words: meaning for meaning, known in HEADINGS.items() for words in known}


@dataclass(frozen=True, slots=True)
class Columns:
    """The column of each meaning."""

    at: dict[str, int]  # position by meaning
    headings: list[str]  # as they stand in the source

    def heading(self, meaning: str) -> str:
        """The heading a person sees for a meaning; the plainest one when it has no column."""
        return self.headings[self.at[meaning]] if meaning in self.at else HEADINGS[meaning][0]


def folded(text: str) -> str:
    """A heading or name without capitals, accent forms, marks and double spaces.

    >>> folded(" Child_1: "), folded("St. Ash")
    ('child 1', 'st ash')
    """
    text = unicodedata.normalize("NFKC", text).casefold()
    return " ".join(re.sub(r"[\W_]+", " ", text).split())


def n_known(cells: Sequence[str]) -> int:
    """How many cells are known headings."""
    return sum(folded(cell) in _BY_WORDS for cell in cells)


def columns_of(cells: Sequence[str]) -> tuple[Columns, list[tuple[str, str, str]]]:
    """Understand a row of headings.

    Returns (heading, what, mend): what is wrong.
    """
    headings = [" ".join(cell.split()) for cell in cells]
    if not n_known(headings):
        known = ", ".join(words[0] for meaning, words in HEADINGS.items() if meaning != "member_3")
        return Columns({}, headings), [
            ("", "is no row of headings", f"Begin with a row of headings such as {known}")
        ]
    at: dict[str, int] = {}
    wrong = []
    for position, heading in enumerate(headings):
        meaning = _BY_WORDS.get(folded(heading))
        if not folded(heading):
            continue
        if meaning is None:
            mend = f"{nearest(folded(heading), _BY_WORDS)} Rename or remove the column"
            wrong.append((heading, "is not a known heading", mend))
        elif meaning in at:
            first = headings[at[meaning]]
            wrong.append((heading, f"means the same as {first!r}", "Remove one of the two columns"))
        else:
            at[meaning] = position
    return Columns(at, headings), wrong + ([] if wrong else _missing(at))


def _missing(at: dict[str, int]) -> list[tuple[str, str, str]]:
    wrong = []
    if "school" not in at:
        wrong.append(("school", "is missing in the headings", "Add a column with the school"))
    if "members" in at and {"member_1", "member_2", "member_3"} & set(at):
        wrong.append(
            ("children", "is beside single names", "Keep one column for each child or one only")
        )
    elif not {"members", "member_1"} & set(at):
        wrong.append(
            ("first child", "is missing in the headings", "Add a column with the first child")
        )
    return wrong
