"""``nearmark restore``: a backup comes back, and what was there before is kept."""

import sys
from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.present import json_option, print_json
from nearmark.cli.snapshot import backup_argument, data_option, snapshot_as_json, snapshot_as_text
from nearmark.errors import InputError
from nearmark.site.copies.backups import present, restore
from nearmark.site.copies.database_check import Snapshot, look_at


@click.command(
    "restore",
    help="Bring a backup back, after a copy of what is there now.",
    epilog=examples(
        "nearmark restore saturday.nearmark --data our-data",
    ),
)
@backup_argument
@data_option
@click.option("--yes", is_flag=True, help="Do it without asking.")
@json_option
def command(file: Path, *, data: Path, yes: bool, as_json: bool) -> None:
    """Show both states and their dates; replace only after a yes."""
    given, here = look_at(file), present(data)
    if not as_json:
        click.echo(f"\nIn the backup:\n{snapshot_as_text(given)}")
        click.echo(f"  {_CHECKED[given.has_checksum]}\n")
        now = "  nothing that can be read\n" if here is None else snapshot_as_text(here)
        click.echo(f"In {data} now:\n{now}")
        click.echo(_older(given, here))
    if not yes:
        _ask(as_json=as_json)
    kept = restore(data, file)
    if as_json:
        facts = {
            "now": snapshot_as_json(given),
            "before": None if here is None else snapshot_as_json(here),
        }
        print_json(facts | {"kept": None if kept is None else str(kept)})
        return
    click.echo(f"Done. {'' if kept is None else f'What was there before is kept: {kept}'}\n")


_CHECKED = {
    True: "checksum right: it is what was written",
    False: "no checksum (an older Nearmark or another program made it): its content was checked",
}


def _ask(*, as_json: bool) -> None:
    if as_json or not sys.stdin.isatty():
        raise InputError(
            "nobody is there to say yes; nothing was changed",
            where="--yes",
            mend="Look at both states, then run it again with --yes",
        )
    click.confirm("Put the backup in the place of what is there now?", abort=True)


def _older(given: Snapshot, here: Snapshot | None) -> str:
    if here is None or here.newest is None:
        return ""
    if given.newest is None or given.newest < here.newest:
        return (
            "\nThe backup is OLDER: what was written since then will not be there any more.\n"
            "Everything that is there now is kept in a file beside it.\n"
        )
    return ""
