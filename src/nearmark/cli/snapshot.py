"""What is in a database, shown by ``backup`` and ``restore``."""

from pathlib import Path
from typing import Any

import click

from nearmark.site.copies.database_check import Snapshot

data_option = click.option(
    "--data",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("nearmark-data"),
    show_default=True,
    help="Folder that holds the database.",
)
backup_argument = click.argument("file", type=click.Path(dir_okay=False, path_type=Path))


def snapshot_as_text(snapshot: Snapshot) -> str:
    """Lines for the terminal; the time is this computer's."""
    newest = snapshot.newest
    written = "never" if newest is None else f"{newest.astimezone():%d %B %Y, %H:%M:%S}"
    lines = [snapshot.event or "no event yet", f"last written: {written}"]
    lines += [f"{n:,} {words}" for words, n in snapshot.counts.items()]
    return "".join(f"  {line}\n" for line in lines)


def snapshot_as_json(snapshot: Snapshot) -> dict[str, Any]:
    """The keys of a snapshot that ``--json`` prints."""
    newest = snapshot.newest
    return {
        "event": snapshot.event,
        "newest": None if newest is None else newest.astimezone().isoformat(),
        "counts": snapshot.counts,
    }
