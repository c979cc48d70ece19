"""``nearmark handbook``: the handbook of a lead, or the handout for coaches, as PDF."""

from datetime import UTC, datetime
from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.present import json_option, print_json
from nearmark.cli.print_pages import show_written
from nearmark.errors import InputError
from nearmark.printing.handbook import HANDBOOK, HANDOUT, handbook_pdf


@click.command(
    "handbook",
    help="The handbook of a lead as PDF, or the two pages for coaches.",
    epilog=examples("nearmark handbook", "nearmark handbook --handout --letter"),
)
@click.option("--to", type=click.Path(path_type=Path), help="The file; else handbook.pdf, here.")
@click.option("--handout", is_flag=True, help="Only the two pages for coaches.")
@click.option("--letter", is_flag=True, help="US letter paper instead of A4.")
@json_option
def command(to: Path | None, *, handout: bool, letter: bool, as_json: bool) -> None:
    """Write the PDF."""
    name = HANDOUT if handout else HANDBOOK
    file = to or Path(f"{name}.pdf")
    today = datetime.now(UTC).astimezone().date()  # noqa: TID251 - the command line is the clock
    pages = handbook_pdf(name, day=today, paper="us-letter" if letter else "a4")
    try:
        file.write_bytes(pages)
    except OSError as problem:
        raise InputError(
            f"cannot be written ({problem.strerror})",
            where="--to",
            value=file,
            mend="Name a file in a folder that may be written",
        ) from problem
    if as_json:
        print_json({"pages": [str(file)]})
    else:
        show_written((file,))
