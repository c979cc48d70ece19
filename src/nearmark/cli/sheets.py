"""``nearmark sheets``: all paper of the day, so that it can run when every screen dies."""

from collections.abc import Callable
from pathlib import Path

import click

from nearmark.cli.folder import folder_argument
from nearmark.cli.present import json_option, print_json
from nearmark.cli.print_pages import show_written
from nearmark.cli.progress import progress_bar
from nearmark.contest import Event
from nearmark.event_folder import read_event
from nearmark.printing import (
    answer_sheets_pdf,
    check_in_list_pdf,
    cup_numbers_pdf,
    labels_pdf,
    spare_sheet_pdf,
    station_rules_pdf,
    tally_form_pdf,
)


@click.command("sheets", help="Paper for the day: answer sheets, labels, rules, lists.")
@folder_argument
@click.option("--to", type=click.Path(path_type=Path), help="Where to write (FOLDER/sheets).")
@click.option("--letter", is_flag=True, help="US letter paper instead of A4.")
@click.option("--names", is_flag=True, help="Print children's names beside the codes.")
@json_option
def command(folder: Path, *, to: Path | None, letter: bool, names: bool, as_json: bool) -> None:
    """Write the paper of the day; the answer sheets are for printing on both sides."""
    event = read_event(folder)
    jobs = _jobs(event, paper="us-letter" if letter else "a4", names=names)
    sheets = _written(jobs, to or folder / "sheets", quiet=as_json)
    if as_json:
        print_json({"pages": [str(sheet) for sheet in sheets]})
    else:
        show_written(sheets)


def _jobs(event: Event, *, paper: str, names: bool) -> list[tuple[str, Callable[[], bytes]]]:
    """File name and how to make it; an event without a list of cups needs no cup numbers."""
    cups: list[tuple[str, Callable[[], bytes]]] = [
        ("cup-numbers.pdf", lambda: cup_numbers_pdf(event, paper=paper))
    ]
    return [
        ("answer-sheets.pdf", lambda: answer_sheets_pdf(event, paper=paper, names=names)),
        ("answer-sheet-spare.pdf", lambda: spare_sheet_pdf(event, paper=paper)),
        ("labels.pdf", lambda: labels_pdf(event, paper=paper)),
        *(cups if event.cups else []),
        ("station-rules.pdf", lambda: station_rules_pdf(event, paper=paper)),
        ("check-in.pdf", lambda: check_in_list_pdf(event, paper=paper, names=names)),
        ("tally-forms.pdf", lambda: tally_form_pdf(event, paper=paper)),
    ]


def _written(
    jobs: list[tuple[str, Callable[[], bytes]]], folder: Path, *, quiet: bool
) -> tuple[Path, ...]:
    """Set everything first: a refusal leaves no half a set behind."""
    made: dict[Path, bytes] = {}
    with progress_bar(quiet=quiet) as bar:
        task = bar.add_task("Setting the sheets", total=len(jobs))
        for name, build in jobs:
            made[folder / name] = build()
            bar.advance(task)
    folder.mkdir(parents=True, exist_ok=True)
    for path, document in made.items():
        path.write_bytes(document)
    return tuple(made)
