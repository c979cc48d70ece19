"""Rows that say again what another row or the event says already."""

from collections.abc import Iterable

from nearmark.contest.event import Pair
from nearmark.errors import Problem
from nearmark.event_folder.pair_headings import Columns, folded


class Repeats:
    """Remembers codes, children and schools row by row."""

    def __init__(self, existing: Iterable[Pair], columns: Columns, name: str) -> None:
        self.columns = columns
        self.name = name
        self.codes: dict[str, str] = {}
        self.children: dict[tuple[str, frozenset[str]], str] = {}
        self.spellings: dict[str, dict[str, None]] = {}
        for pair in existing:
            where = f"under {pair.code} in the event"
            self.codes[pair.code.casefold()] = "in the event"
            self.children.setdefault(_children(pair.school, pair.members), where)
            self.spellings.setdefault(folded(pair.school), {})[pair.school] = None

    def problems_of(
        self, row: int, code: str, school: str, members: Iterable[str]
    ) -> list[Problem]:
        """What a row repeats; then it is remembered itself.

        Parameters
        ----------
        row : int
        code, school : str
        members : iterable of str
        """
        found = []
        here = f"in row {row}"
        of_code = self.codes.setdefault(code.casefold(), here)
        if of_code != here:
            mend = "Give it another code; an empty cell gets the next free one"
            found.append(self._problem(row, "code", code, f"stands already {of_code}", mend))
        names = tuple(members)
        of_children = self.children.setdefault(_children(school, names), here)
        if names and of_children != here:
            mend = "Remove one of the two; add a letter if these are other children"
            what = f"these children of this school stand already {of_children}"
            found.append(self._problem(row, "", " & ".join(names), what, mend))
        known = self.spellings.setdefault(folded(school), {school: None})
        if school and school not in known:
            what = "is spelled otherwise than before; the school would be split"
            found.append(self._problem(row, "school", school, what, f"Write {next(iter(known))}"))
        return found

    def _problem(self, row: int, meaning: str, value: str, what: str, mend: str) -> Problem:
        heading = self.columns.heading(meaning) if meaning else ""
        return Problem(self.name, row, heading, value[:60], what, mend)


def _children(school: str, members: Iterable[str]) -> tuple[str, frozenset[str]]:
    return folded(school), frozenset(map(folded, members))
