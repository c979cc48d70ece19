"""``nearmark backup``: a copy of the whole site in one file, also while it serves."""

from datetime import UTC, datetime
from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.present import json_option, print_json
from nearmark.cli.snapshot import backup_argument, data_option, snapshot_as_json, snapshot_as_text
from nearmark.site.copies.backups import back_up
from nearmark.site.copies.snapshots import note_care


@click.command(
    "backup",
    help="Copy the site's database into one file, also while it serves.",
    epilog=examples(
        "nearmark backup saturday.nearmark --data our-data",
    ),
)
@backup_argument
@data_option
@json_option
def command(file: Path, *, data: Path, as_json: bool) -> None:
    """Write the copy and say what is in it."""
    snapshot = back_up(data, file)
    now = datetime.now(UTC)  # noqa: TID251 - no site is set up whose clock could be asked
    note_care(data, backed_up_at=now.isoformat())
    if as_json:
        print_json({"file": str(file), "holds": snapshot_as_json(snapshot)})
        return
    click.echo(f"\nThe copy is whole and on the disk: {file}\n{snapshot_as_text(snapshot)}")
    click.echo("It holds names and password hashes: keep it like the data folder itself.\n")
