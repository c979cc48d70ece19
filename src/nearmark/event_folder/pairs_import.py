"""A list of pairs from elsewhere, previewed row by row; nothing comes out until all is mended."""

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nearmark.contest.event import Pair
from nearmark.errors import FilesError, InputError, Problem
from nearmark.event_folder.grid import MAX_BYTES, Grid, Line, text_grid
from nearmark.event_folder.loading import text_of
from nearmark.event_folder.pair_headings import columns_of, n_known
from nearmark.event_folder.pair_repeats import Repeats
from nearmark.event_folder.pair_rows import Draft, PreviewRow, RowReader
from nearmark.event_folder.problems import Problems
from nearmark.event_folder.xlsx_cells import xlsx_grid
from nearmark.event_folder.xlsx_guard import OLE_START, ZIP_STARTS

_NO_DIVISIONS = (
    "names divisions, and this event has none",
    "Add the divisions in the settings of the event first, or remove the column",
)


@dataclass(frozen=True, slots=True)
class PairsPreview:
    """A list of pairs before it is imported."""

    rows: tuple[PreviewRow, ...]  # every row with something in it
    problems: tuple[Problem, ...]  # all of them, those of single rows and those of the whole source
    pairs: tuple[Pair, ...]  # to import; empty until there is no problem left

    def raise_if_any(self) -> None:
        """Refuse the whole list when anything is wrong."""
        if self.problems:
            raise FilesError(self.problems)


def preview_pairs(
    source: bytes | str,
    *,
    existing: Sequence[Pair] = (),
    divisions: Sequence[str] = (),
    name: str = "pairs",
) -> PairsPreview:
    r"""Understand a list of pairs and say everything that is wrong with it.

    ``source``: bytes of a CSV or XLSX file, or pasted text; ``docs/use/pairs-import.md`` says what
    may stand in it. ``existing``: pairs of the event already. ``divisions``: names of its
    divisions. ``name``: what messages call the source.

    >>> preview = preview_pairs("school,first child,second child\nFernhollow,Ada,Bo\n")
    >>> preview.pairs[0].code, preview.pairs[0].members
    ('P01', ('Ada', 'Bo'))
    """
    try:
        grid = _grid(source, name)
    except InputError as refused:
        return PairsPreview((), _as_problems(refused, name), ())
    if len(grid.lines) < 2:
        mend = "Begin with a row of headings, then one row for each pair"
        return PairsPreview((), (Problem(name, 0, "", "", "holds no pairs", mend),), ())
    heading, *lines = grid.lines
    columns, wrong = columns_of(heading.cells)
    if not divisions and _is_filled(columns.at.get("division"), lines):
        what, mend = _NO_DIVISIONS
        wrong = [*wrong, (columns.heading("division"), what, mend)]
    if wrong:
        problems = tuple(Problem(name, heading.row, h[:60], "", *said) for h, *said in wrong)
        return PairsPreview((), problems, ())
    reader = RowReader(columns, name, divisions)
    drafts = [reader.draft(line) for line in lines]
    _propose_codes(drafts, existing)
    repeats = Repeats(existing, [draft.cells["school"] for draft in drafts], columns, name)
    for draft in drafts:
        draft.problems += repeats.problems_of(
            draft.row, draft.cells["code"], draft.cells["school"], draft.members
        )
    return _preview(drafts)


def _is_filled(column: int | None, lines: Sequence[Line]) -> bool:
    if column is None:
        return False
    return any(line.cells[column].strip() for line in lines if column < len(line.cells))


def _as_problems(refused: InputError, name: str) -> tuple[Problem, ...]:
    if isinstance(refused, FilesError):
        return refused.problems
    value = "" if refused.value is None else str(refused.value)
    return (Problem(name, 0, "", value, refused.what, refused.mend),)


def _grid(source: bytes | str, name: str) -> Grid:
    if len(source) > MAX_BYTES:
        raise InputError(
            f"is larger than {MAX_BYTES / 1e6:.0f} MB",
            value=f"{len(source) / 1e6:,.1f} MB",
            mend="Keep only the list of pairs",
        )
    if isinstance(source, bytes) and source.startswith((*ZIP_STARTS, OLE_START)):
        return xlsx_grid(source)
    # Bytes, so that text pasted with a NUL or half a character is refused in the same way.
    content = source.encode(errors="surrogatepass") if isinstance(source, str) else source
    problems = Problems()
    text = text_of(name, content, problems)
    problems.raise_if_any()
    return text_grid(text or "", n_known)


def _propose_codes(drafts: Sequence[Draft], existing: Iterable[Pair]) -> None:
    without = [draft for draft in drafts if not draft.cells["code"]]
    given = [draft.cells["code"] for draft in drafts if draft.cells["code"]]
    taken = [*(pair.code for pair in existing), *given]
    for draft, code in zip(without, proposed_codes(taken, len(without)), strict=True):
        draft.cells["code"] = code
        draft.code_is_proposed = True


def _preview(drafts: Sequence[Draft]) -> PairsPreview:
    rows = tuple(draft.preview() for draft in drafts)
    problems = tuple(problem for row in rows for problem in row.problems)
    pairs = () if problems else tuple(map(_pair, rows))
    return PairsPreview(rows, problems, pairs)


def _pair(row: PreviewRow) -> Pair:
    return Pair(row.code, row.school, row.members, row.status, row.heat, division=row.division)


_NUMBERED = re.compile(r"(.*?)(\d{1,9})", re.ASCII | re.DOTALL)


def proposed_codes(taken: Iterable[str], n: int) -> list[str]:
    """Free codes that go on from those in use.

    ``taken``: codes in use; their commonest form is followed, ``P01`` when there is none. Returns:
    numbers above the highest in use, so that the code of a pair that left stays its own.

    >>> proposed_codes(["A7", "A9", "guest"], 2), proposed_codes([], 2)
    (['A10', 'A11'], ['P01', 'P02'])
    """
    used = list(taken)
    numbered = [match for code in used if (match := _NUMBERED.fullmatch(code))]
    forms = Counter((match[1], len(match[2])) for match in numbered)
    (prefix, width), _ = forms.most_common(1)[0] if forms else (("P", 2), 0)
    last = max((int(match[2]) for match in numbered if match[1] == prefix), default=0)
    folded = {code.casefold() for code in used}
    codes: list[str] = []
    while len(codes) < n:
        last += 1
        code = f"{prefix}{last:0{width}}"
        if code.casefold() not in folded:
            codes.append(code)
    return codes
