"""``nearmark sheets``: the day in a folder, so that it can run when every screen dies."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.folder import folder_argument
from nearmark.cli.language import language_option
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.print_pages import fonts_option, missing_json, show_missing, show_written
from nearmark.cli.progress import progress_bar
from nearmark.contest import results
from nearmark.event_folder import read_event
from nearmark.printing.day_folder import ALL_IN_ONE, FolderFile, all_in_one, day_folder
from nearmark.printing.fonts_in_use import fonts_from
from nearmark.printing.label_grids import label_grid
from nearmark.printing.missing_signs import missing_signs
from nearmark.printing.wishes import Wishes
from nearmark.words.translation import Language


@click.command(
    "sheets",
    help="Paper for the day: answer sheets, labels, rules, lists.",
    epilog=examples(
        "nearmark sheets larkspur-valley --start 09:00 --interval 40 --letter",
    ),
)
@folder_argument
@click.option("--to", type=click.Path(path_type=Path), help="Where to write (FOLDER/sheets).")
@click.option("--letter", is_flag=True, help="US letter paper instead of A4.")
@click.option("--names", is_flag=True, help="Print children's names beside the codes.")
@click.option("--large", is_flag=True, help="Large print of lists, letters and answer sheets.")
@click.option("--start", type=click.DateTime(["%H:%M"]), help="Start of heat 1, such as 09:00.")
@click.option("--minutes", type=int, help="Length of a heat; the rule set says it.")
@click.option("--interval", type=int, help="Minutes from start to start; the length by default.")
@click.option(
    "--places",
    type=int,
    help="Places to scoop at, for their cards; the rooms or the rule set of the event say it.",
)
@click.option(
    "--labels",
    default="cut",
    show_default=True,
    metavar="GRID",
    help="Label sheets: cut, 4x2, 7x2 (A4), 5x2 (letter), or ROWSxCOLUMNS:TOP,LEFT,GAP in mm.",
)
@fonts_option
@language_option
@json_option
def command(  # noqa: PLR0913 - one argument an option
    folder: Path,
    *,
    to: Path | None,
    letter: bool,
    names: bool,
    large: bool,
    start: datetime | None,
    minutes: int | None,
    interval: int | None,
    places: int | None,
    labels: str,
    fonts: Path | None,
    spoken: Language,
    as_json: bool,
) -> None:
    """Write the paper of the day; what shows a key goes into a folder of its own."""
    wishes = Wishes(
        paper="us-letter" if letter else "a4",
        names=names,
        large=large,
        language=spoken.code,
        start=None if start is None else start.time(),
        minutes=minutes,
        interval=interval,
        labels=label_grid(labels),
        places=places,
    )
    outcome = results(read_event(folder))
    target = to or folder / "sheets"
    with fonts_from(fonts):
        made = _made(day_folder(outcome, wishes), quiet=as_json)
        missing = missing_signs(outcome.event, names=names)
    pages = {file.name: content for file, content in made if not file.is_sealed}
    pages[ALL_IN_ONE] = all_in_one(outcome.event, made)
    sealed = {file.name: content for file, content in made if file.is_sealed}
    for name, content in (pages | sealed).items():
        path = target / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    if as_json:
        print_json(
            {
                "pages": [str(target / name) for name in pages],
                "sealed": [str(target / name) for name in sealed],
                "not_printed": missing_json(missing),
            }
        )
        return
    show_written(tuple(target / name for name in pages))
    console().print("For the lead alone, sealed until release:")
    console().print("  " + ", ".join(sealed))
    show_missing(missing)


def _made(files: Sequence[FolderFile], *, quiet: bool) -> list[tuple[FolderFile, bytes]]:
    """Set everything first: a refusal leaves no half a set behind."""
    made = []
    with progress_bar(quiet=quiet) as bar:
        task = bar.add_task("Setting the sheets", total=len(files))
        for file in files:
            made.append((file, file.build()))
            bar.advance(task)
    return made
