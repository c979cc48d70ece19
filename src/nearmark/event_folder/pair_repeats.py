"""Rows that say again what another row or the event says already."""

from collections import Counter
from collections.abc import Iterable

from nearmark.contest.event import Pair
from nearmark.errors import Problem
from nearmark.event_folder.pair_headings import Columns, folded


class Repeats:
    """Remembers codes, children and schools row by row."""

    def __init__(
        self, existing: Iterable[Pair], schools: Iterable[str], columns: Columns, name: str
    ) -> None:
        self.columns = columns
        self.name = name
        self.codes: dict[str, str] = {}
        self.children: dict[tuple[str, frozenset[str]], str] = {}
        existing = tuple(existing)
        self.spellings = best_spellings([pair.school for pair in existing], schools)
        for pair in existing:
            where = f"under {pair.code} in the event"
            self.codes[pair.code.casefold()] = "in the event"
            self.children.setdefault(_children(pair.school, pair.members), where)

    def problems_of(
        self, row: int, code: str, school: str, members: Iterable[str]
    ) -> list[Problem]:
        """What a row repeats; then it is remembered itself."""
        found = []
        here = f"in row {row}"
        of_code = self.codes.setdefault(code.casefold(), here)
        if of_code != here:
            mend = "Give it another code; an empty cell gets the next free one"
            found.append(self._problem(row, "code", code, f"is there already {of_code}", mend))
        names = tuple(members)
        of_children = self.children.setdefault(_children(school, names), here)
        if names and of_children != here:
            mend = "Remove one of the two; add a letter if these are other children"
            what = f"these children of this school stand already {of_children}"
            found.append(self._problem(row, "", " & ".join(names), what, mend))
        best = self.spellings.get(folded(school), school)
        if school != best:
            what = "is spelled otherwise in other rows; the school would be split"
            found.append(self._problem(row, "school", school, what, f"Write {best}"))
        return found

    def _problem(self, row: int, meaning: str, value: str, what: str, mend: str) -> Problem:
        heading = self.columns.heading(meaning) if meaning else ""
        return Problem(self.name, row, heading, value[:60], what, mend)


def best_spellings(in_event: Iterable[str], in_list: Iterable[str]) -> dict[str, str]:
    """The spelling of each school that the others should have.

    ``in_event``, ``in_list``: one for each pair. Returns spelling by folded name: the event's own,
    where it has the school; else the one most rows have; among equals one in which every word has a
    capital, then the first.

    >>> best_spellings([], ["st anne", "St Anne", "Elm", "ELM", "Elm"])
    {'st anne': 'St Anne', 'elm': 'Elm'}
    """
    counts: dict[str, Counter[tuple[bool, str]]] = {}
    for is_in_event, schools in ((True, in_event), (False, in_list)):
        for school in filter(None, schools):
            counts.setdefault(folded(school), Counter())[is_in_event, school] += 1

    def rank(counted: tuple[tuple[bool, str], int]) -> tuple[bool, int, bool]:
        (is_in_event, school), n = counted
        return is_in_event, n, school == school.title()

    # The first of equals: max keeps it, and a Counter keeps the order of the rows.
    return {name: max(of_it.items(), key=rank)[0][1] for name, of_it in counts.items()}


def _children(school: str, members: Iterable[str]) -> tuple[str, frozenset[str]]:
    return folded(school), frozenset(map(folded, members))
