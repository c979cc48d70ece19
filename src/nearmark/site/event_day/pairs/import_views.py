"""A list of pairs from elsewhere: looked at row by row, then imported whole."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from nearmark.contest.event import Pair
from nearmark.errors import Problem
from nearmark.event_folder.pair_rows import PreviewRow
from nearmark.event_folder.pairs_import import PairsPreview, preview_pairs
from nearmark.site.common.lookup import pasted_or_file
from nearmark.site.common.responses import done, post_only, show
from nearmark.site.door.visitor import visitor_of
from nearmark.site.event.current import open_event
from nearmark.site.event.load import pairs_of
from nearmark.site.event_day.pairs.actions import import_pairs
from nearmark.words.replies import pairs_imported

REFUSED = 422
MIN_ROWS = 12
MAX_ROWS = 200
"""Rows of the box with a number; a longer list is better chosen as a file."""


@dataclass(frozen=True, slots=True)
class PairImportView:
    """Where a list is pasted or chosen, and what was understood of it."""

    title: str
    pasted: str
    n_rows: int
    numbers: str  # beside the rows of what was pasted
    is_given: bool
    preview: PairsPreview  # empty until a list is given
    name: str  # what the list is called
    whole: list[Problem]  # those that are of no single row
    bad_rows: list[PreviewRow]
    good: str  # what is sent back to be imported
    has_divisions: bool  # whether a row names one


def pair_import(request: HttpRequest) -> HttpResponse:
    """Where a list is pasted or chosen; a post shows what was understood, and imports nothing."""
    is_given = request.method == "POST"
    pasted, name = request.POST.get("text", ""), ""
    preview = PairsPreview((), (), ())
    if is_given:
        name, source = pasted_or_file(request, "list of pairs", kinds="a CSV or XLSX file")
        event = open_event()
        divisions = list(event.divisions.values_list("name", flat=True))
        preview = preview_pairs(source, existing=pairs_of(event), divisions=divisions, name=name)
    of_rows = [problem for row in preview.rows for problem in row.problems]
    n_rows = max(MIN_ROWS, min(len(pasted.splitlines()) + 2, MAX_ROWS))
    view = PairImportView(
        title="Import pairs",
        pasted=pasted,
        n_rows=n_rows,
        numbers="\n".join(str(row) for row in range(1, n_rows + 1)),
        is_given=is_given,
        preview=preview,
        name=name,
        whole=[problem for problem in preview.problems if problem not in of_rows],
        bad_rows=[row for row in preview.rows if row.problems],
        good=written(preview.pairs),
        has_divisions=any(row.division for row in preview.rows),
    )
    status = REFUSED if preview.problems else 200
    return show(request, "event_day/pairs/pair_import", view, status=status)


def written(pairs: Iterable[Pair]) -> str:
    """Pairs as the text that is sent back to be imported."""
    out = io.StringIO()
    sheet = csv.writer(out, lineterminator="\n")
    pairs = tuple(pairs)
    has_divisions = any(pair.division for pair in pairs)
    more = ("division",) if has_divisions else ()
    sheet.writerow(["code", "school", "first child", "second child", "status", "heat", *more])
    for p in pairs:
        first, second = (*p.members, "", "")[:2]
        cells = [p.code, p.school, first, second, p.status.value, p.heat]
        sheet.writerow([*cells, p.division] if has_divisions else cells)
    return out.getvalue()


@post_only
def pair_import_confirm(request: HttpRequest) -> HttpResponse:
    """Import what the preview showed."""
    n = import_pairs(request.POST.get("good", ""), by=visitor_of(request).name)
    return done(request, pairs_imported(n), "pairs")
