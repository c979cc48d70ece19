"""``nearmark pairs-import``: a list of pairs into an event, after a look at every row."""

import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import click
from rich.text import Text

from nearmark.cli.examples import examples
from nearmark.cli.folder import folder_argument
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.table import Column, show_table
from nearmark.errors import InputError
from nearmark.event_folder import read_event, write_event
from nearmark.event_folder.grid import MAX_BYTES
from nearmark.event_folder.pair_rows import PreviewRow
from nearmark.event_folder.pairs_import import PairsPreview, preview_pairs
from nearmark.words.numbers import plural
from nearmark.words.replies import pairs_imported

STANDARD_INPUT = "-"


@click.command(
    "pairs-import",
    help="Preview a list of pairs, then add it to an event folder.",
    epilog=examples(
        "nearmark pairs-import list.csv larkspur-valley",
        "nearmark pairs-import list.csv larkspur-valley --write",
    ),
)
@click.argument("file")
@folder_argument
@click.option("--write", is_flag=True, help="Save the pairs into the folder.")
@json_option
def command(file: str, folder: Path, *, write: bool, as_json: bool) -> None:
    """Print every row; import nothing until every one is right."""
    event = read_event(folder)
    name = "standard input" if file == STANDARD_INPUT else Path(file).name
    divisions = [division.name for division in event.divisions]
    preview = preview_pairs(_content(file), existing=event.pairs, divisions=divisions, name=name)
    if not as_json and preview.rows:
        _show(preview)
    preview.raise_if_any()
    if write:
        write_event(replace(event, pairs=event.pairs + preview.pairs), folder)
    if as_json:
        print_json(_as_json(preview) | {"written": write})
        return
    n = len(preview.pairs)
    if write:
        console().print(f"{pairs_imported(n)} They are in {folder}.\n")
    else:
        console().print(
            f"Nothing is written yet; add --write to add {plural(n, 'pair')} to {folder}\n"
        )


def _content(file: str) -> bytes:
    """The bytes of the file, or of standard input; one more than the limit is enough."""
    try:
        if file == STANDARD_INPUT:
            return sys.stdin.buffer.read(MAX_BYTES + 1)
        with Path(file).open("rb") as opened:
            return opened.read(MAX_BYTES + 1)
    except (OSError, ValueError) as error:
        raise InputError(
            f"cannot be read: {getattr(error, 'strerror', None) or error}",
            where="FILE",
            value=file,
            mend="Name a CSV or XLSX file, or - for text on standard input",
        ) from error


def _as_json(preview: PairsPreview) -> dict[str, Any]:
    return {
        "pairs": [
            {
                "row": row.row,
                "code": row.code,
                "code_is_proposed": row.code_is_proposed,
                "school": row.school,
                "members": list(row.members),
                "status": row.status.value,
                "heat": row.heat,
                **({"division": row.division} if row.division else {}),
            }
            for row in preview.rows
        ]
    }


def _show(preview: PairsPreview) -> None:
    divisions = ("division",) if any(row.division for row in preview.rows) else ()
    columns = [
        Column(heading, right=heading == "row", wraps=heading not in {"row", "code", ""})
        for heading in ("row", "code", "school", "children", *divisions, "")
    ]
    rows: list[list[str | Text]] = []
    for row in preview.rows:
        *cells, verdict = _cells(row)
        more = (row.division,) if divisions else ()
        rows.append([str(row.row), *map(_safe, (*cells, *more, verdict))])
    out = console()
    out.print()
    show_table(out, columns, rows)
    solo = sum(len(row.members) == 1 for row in preview.rows)
    bad = sum(bool(row.problems) for row in preview.rows)
    out.print(
        f"\n{plural(len(preview.rows), 'row')}, {solo} with one child alone, {bad} to correct"
    )


def _cells(row: PreviewRow) -> tuple[str, str, str, str]:
    code = f"{row.code} (new)" if row.code_is_proposed else row.code
    return code, row.school, " & ".join(row.members), "FIX" if row.problems else ""


def _safe(text: str) -> Text:
    """Text that cannot steer the terminal."""
    return Text("".join(c if c.isprintable() else "\ufffd" for c in text))
