"""Everything wrong in a folder, collected while reading goes on, and the nearest known name."""

import re
from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from difflib import get_close_matches

from nearmark.errors import FilesError, Problem

MAX_SHOWN = 100
"""Problems shown per file; a slip in a heading or a setting repeats itself in every row."""

MAX_SHOWN_CHARACTERS = 60
MAX_SEARCHED = 1_000
"""Among more names only capitals and leading zeros are looked at: a search takes too long."""


@dataclass(slots=True)
class Problems:
    """What is wrong so far."""

    # The first ``MAX_SHOWN`` of each file (list of Problem by file name).
    found: dict[str, list[Problem]] = field(default_factory=dict)
    # How many there are beyond those (Counter of file name).
    unshown: Counter[str] = field(default_factory=Counter)

    def add(self, problem: Problem) -> None:
        """Keep a problem; the first one beyond the limit becomes the line that counts the rest."""
        shown = self.found.setdefault(problem.file, [])
        if len(shown) > MAX_SHOWN:
            self.unshown[problem.file] += 1
        elif len(shown) == MAX_SHOWN:
            self.unshown[problem.file] = 1
            shown.append(replace(problem, column="", value="", mend="Correct those above first"))
        else:
            shown.append(replace(problem, value=_short(problem.value)))

    def is_full(self, file: str) -> bool:
        """Whether a further problem of the file would only be counted."""
        return len(self.found.get(file, ())) > MAX_SHOWN

    def raise_if_any(self) -> None:
        """Refuse the whole folder when anything was found."""
        for file, more in self.unshown.items():
            last = self.found[file][MAX_SHOWN]
            self.found[file][MAX_SHOWN] = replace(
                last, what=f"and {more:,} more problems in this file, the next of them in this row"
            )
        every = [problem for shown in self.found.values() for problem in shown]
        if every:
            # The line that counts the others means one of them.
            raise FilesError(every, more=self.unshown.total() - len(self.unshown))


def nearest(value: str, known: Collection[str]) -> str:
    """What to do about a name that is not known: the nearest one, or the first few.

    Only a name with the same digits is offered: 7 is not nearly 77, it is another cup.

    >>> nearest("c1", ["C1", "C2"]), nearest("P2", ["P42", "P02"])
    ('Did you mean C1?', 'Did you mean P02?')
    >>> nearest("x", ["C1", "C2"]), nearest("77", ["6", "7"])
    ('Known: C1, C2', 'Known: 6, 7')
    """
    by_fold = {_folded(name): name for name in known}
    folded = _folded(value[:MAX_SHOWN_CHARACTERS])
    few = by_fold if len(by_fold) <= MAX_SEARCHED else [n for n in by_fold if n == folded]
    alike = [name for name in few if _digits(name) == _digits(folded)]
    close = get_close_matches(folded, alike, n=1)
    if close:
        return f"Did you mean {by_fold[close[0]]}?"
    if not known:
        return "None is known yet"
    first = [_short(name) for name in list(known)[:5]]
    return f"Known: {', '.join(first)}{', ...' if len(known) > len(first) else ''}"


def _folded(name: str) -> str:
    """A name without capitals and leading zeros, which a spreadsheet takes from 007."""
    return re.sub(r"(?<!\d)0+(?=\d)", "", name.casefold())


def _digits(name: str) -> str:
    return re.sub(r"\D", "", name)


def _short(text: str) -> str:
    # A file name that is not UTF-8 reaches us with halves of characters no terminal can print.
    text = text.encode(errors="replace").decode()
    if len(text) <= MAX_SHOWN_CHARACTERS:
        return text
    return text[: MAX_SHOWN_CHARACTERS - 3] + "..."
