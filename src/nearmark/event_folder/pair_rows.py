"""Rows of a list of pairs, each understood by itself with everything that is wrong in it."""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field

from nearmark.contest.event import PairStatus
from nearmark.errors import InputError, Problem
from nearmark.event_folder.grid import Line
from nearmark.event_folder.guard import unguarded
from nearmark.event_folder.numbers import NumberStyle
from nearmark.event_folder.pair_headings import Columns, folded
from nearmark.event_folder.tables import PAIRS

MAX_TEXT_CHARACTERS = 100
MAX_CODE_CHARACTERS = 20
"""It is printed on labels and typed on a keypad."""

_BETWEEN_NAMES = re.compile(r"[&+/;|\n]|\sand\s", re.IGNORECASE)
_NAME = r"[^\W\d_][\w'\u2019. -]*"
_TWO_NAMES = re.compile(rf"{_NAME}(?:\s*[,&+/;]\s*|\sand\s){_NAME}", re.IGNORECASE)
_MEMBERS = ("member_1", "member_2", "member_3")


@dataclass(frozen=True, slots=True)
class PreviewRow:
    """One row as it was understood."""

    row: int  # as a spreadsheet shows it
    code: str
    school: str
    members: tuple[str, ...]
    status: PairStatus = PairStatus.ENTERED
    heat: str = ""
    code_is_proposed: bool = False  # whether the source has no code for it
    problems: tuple[Problem, ...] = ()
    division: str = ""  # name of one of the event; empty: none


@dataclass(slots=True)
class Draft:
    """One row while it is being understood."""

    row: int
    cells: dict[str, str]
    members: list[str]
    problems: list[Problem] = field(default_factory=list)
    code_is_proposed: bool = False
    status: PairStatus = PairStatus.ENTERED

    def preview(self) -> PreviewRow:
        """The row as it is now."""
        cells = self.cells
        return PreviewRow(
            self.row,
            cells["code"],
            cells["school"],
            tuple(self.members),
            self.status,
            cells["heat"],
            self.code_is_proposed,
            tuple(self.problems),
            cells["division"],
        )


class RowReader:
    """Understands rows below one row of headings."""

    def __init__(self, columns: Columns, name: str, divisions: Sequence[str] = ()) -> None:
        self.columns = columns
        self.name = name
        self.divisions = {folded(division): division for division in divisions}

    def draft(self, line: Line) -> Draft:
        """Understand one row."""
        cells = {
            meaning: _tidy(line.cells[at]) if at < len(line.cells) else ""
            for meaning, at in self.columns.at.items()
        }
        cells = dict.fromkeys(("code", "school", "status", "heat", "room", "division"), "") | cells
        draft = Draft(line.row, cells, [])
        draft.members = self._members(draft, line)
        self._note_flaws(draft, line)
        self._note_bad_texts(draft)
        self._note_bad_cells(draft)
        return draft

    def note(self, draft: Draft, meaning: str, value: str, what: str, mend: str) -> None:
        """Add a problem of one cell to a row."""
        heading = self.columns.heading(meaning)
        draft.problems.append(Problem(self.name, draft.row, heading, value[:60], what, mend))

    def _members(self, draft: Draft, line: Line) -> list[str]:
        in_one = self.columns.at.get("members")
        if in_one is None:
            names = self._single_names(draft)
        else:
            names = self._names_in_one(
                draft, line.cells[in_one] if in_one < len(line.cells) else ""
            )
        names = list(filter(None, names))
        last = "member_2" if in_one is None else "members"
        if not names:
            self.note(draft, "member_1" if in_one is None else "members", "", *_NOBODY)
        elif len(names) == 2 and names[0].casefold() == names[1].casefold():
            what = "is the name of the first child too"
            mend = "Add a letter if these are two children; empty the cell if it is one"
            self.note(draft, last, names[1], what, mend)
        return names

    def _single_names(self, draft: Draft) -> list[str]:
        first, second, third = (draft.cells.get(meaning, "") for meaning in _MEMBERS)
        if third:
            self.note(draft, "member_3", third, *_THIRD)
        if _TWO_NAMES.fullmatch(first) and not second and not third:
            what = "may be two children in one cell"
            mend = "Two children: give each a cell. One child: write the name without comma or &"
            self.note(draft, "member_1", first, what, mend)
        if second and not first:
            what = "is empty although a second child is given"
            self.note(draft, "member_1", "", what, "Write the one child there")
        return [first, second, third]

    def _names_in_one(self, draft: Draft, cell: str) -> list[str]:
        names = [_tidy(part) for part in _BETWEEN_NAMES.split(cell)]
        if "," in cell:
            what = "has a comma, which may stand between two children or inside one name"
            self.note(draft, "members", cell, what, "Write & between two children")
        if sum(map(bool, names)) > 2:
            self.note(draft, "members", cell, *_THIRD)
        return names

    def _note_flaws(self, draft: Draft, line: Line) -> None:
        """What was wrong with cells before their meaning was known, and cells without heading."""
        meanings = {at: meaning for meaning, at in self.columns.at.items()}
        for at, cell in enumerate(line.cells):
            flaw = line.flaws.get(at)
            if at not in meanings:
                if cell.strip() or flaw:
                    what = "is a cell under no heading"
                    mend = "Empty it, or give the column a heading"
                    draft.problems.append(Problem(self.name, draft.row, "", cell[:60], what, mend))
            elif flaw:
                self.note(draft, meanings[at], cell, flaw.what, flaw.mend)

    def _note_bad_texts(self, draft: Draft) -> None:
        for meaning, text in draft.cells.items():
            most = MAX_CODE_CHARACTERS if meaning == "code" else MAX_TEXT_CHARACTERS
            if len(text) > most:
                what = f"has more than {most} characters"
                self.note(draft, meaning, text, what, "Write it shorter")
            hidden = next(filter(_is_hidden, text), "")
            if hidden:
                what = f"holds a hidden control character (U+{ord(hidden):04X})"
                self.note(draft, meaning, text, what, "Type it again")

    def _note_bad_cells(self, draft: Draft) -> None:
        if not draft.cells["school"]:
            self.note(draft, "school", "", "is empty", "Write the school in every row")
        status = draft.cells["status"]
        if draft.cells["room"]:
            what = "is a room, which a list of pairs cannot give"
            self.note(
                draft, "room", draft.cells["room"], what, "Empty it; rooms come with the heats"
            )
        self._find_division(draft)
        try:
            draft.status = _status(status)
        except InputError as refused:
            self.note(draft, "status", status, refused.what, refused.mend)

    def _find_division(self, draft: Draft) -> None:
        """The division as the event writes it; below "Grade", 3 means Grade 3."""
        cell = draft.cells["division"]
        if not cell:
            return
        spoken = f"{self.columns.heading('division')} {cell}"
        found = self.divisions.get(folded(cell)) or self.divisions.get(folded(spoken))
        if found is None:
            known = ", ".join(self.divisions.values())
            mend = f"Write one of: {known}; or add it in the settings of the event"
            self.note(draft, "division", cell, "is not a division of this event", mend)
        else:
            draft.cells["division"] = found


_THIRD = ("is a third child; a pair has two at most", "Give this child a row of its own")
_NOBODY = ("is empty: there is no child in this row", "Write the child, or empty the whole row")


def _tidy(cell: str) -> str:
    """Composed letters, single spaces: a name copied from elsewhere equals the same name typed."""
    return unicodedata.normalize("NFC", unguarded(" ".join(cell.split())))


def _status(cell: str) -> PairStatus:
    """By the rules of the same column of the event folder."""
    if not cell:
        return PairStatus.ENTERED
    status: PairStatus = PAIRS.columns[PAIRS.position("status")].kind.read(cell, NumberStyle(","))
    return status


def _is_hidden(character: str) -> bool:
    """Control, private and direction-changing characters; joiners belong to some scripts."""
    return unicodedata.category(character) in {"Cc", "Co", "Cs"} or (
        "\u202a" <= character <= "\u202e" or "\u2066" <= character <= "\u2069"
    )
