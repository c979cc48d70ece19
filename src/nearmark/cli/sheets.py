"""``nearmark sheets``: all paper of the day, so that it can run when every screen dies."""

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

import click

from nearmark.cli.folder import folder_argument
from nearmark.cli.present import json_option, print_json
from nearmark.cli.print_pages import show_written
from nearmark.cli.progress import progress_bar
from nearmark.event_folder import read_event
from nearmark.printing.day_paper import paper_of


@click.command("sheets", help="Paper for the day: answer sheets, labels, rules, lists.")
@folder_argument
@click.option("--to", type=click.Path(path_type=Path), help="Where to write (FOLDER/sheets).")
@click.option("--letter", is_flag=True, help="US letter paper instead of A4.")
@click.option("--names", is_flag=True, help="Print children's names beside the codes.")
@json_option
def command(folder: Path, *, to: Path | None, letter: bool, names: bool, as_json: bool) -> None:
    """Write the paper of the day; the answer sheets are for printing on both sides."""
    event = read_event(folder)
    paper = "us-letter" if letter else "a4"
    jobs = [
        (f"{sheet.name}.pdf", partial(sheet.made, event, paper=paper, names=names))
        for sheet in paper_of(event)
    ]
    sheets = _written(jobs, to or folder / "sheets", quiet=as_json)
    if as_json:
        print_json({"pages": [str(sheet) for sheet in sheets]})
    else:
        show_written(sheets)


def _written(
    jobs: Sequence[tuple[str, Callable[[], bytes]]], folder: Path, *, quiet: bool
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
