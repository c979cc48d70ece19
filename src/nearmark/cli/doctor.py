"""``nearmark doctor``: whether everything is ready, and what to do where it is not."""

from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path

import click

from nearmark.cli.examples import examples
from nearmark.cli.present import json_option, print_json
from nearmark.cli.snapshot import data_option
from nearmark.errors import visible
from nearmark.site.server.doctor import checks
from nearmark.site.server.serving import lan_address


@click.command(
    "doctor",
    help="Look whether everything is ready, and say what to do.",
    epilog=examples(
        "nearmark doctor --data our-data",
    ),
)
@data_option
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    default=8000,
    show_default=True,
    help="The one that serve uses.",
)
@json_option
def command(*, data: Path, port: int, as_json: bool) -> None:
    """Print the checks; works beside a running server."""
    address = lan_address()
    now = datetime.now(UTC)  # noqa: TID251 - the clock of this computer is what is looked at
    found = checks(data, port=port, address=address, url=f"http://{address}:{port}/", now=now)
    if as_json:
        print_json(
            {"is_ready": all(c.is_good for c in found), "checks": [asdict(c) for c in found]}
        )
        return
    click.echo()
    for check in found:
        click.echo(
            f"  {'good' if check.is_good else 'LOOK':5} {check.name:13} {visible(check.words)}"
        )
        if check.mend:
            click.echo(f"{'':20} {visible(check.mend)}.")
    n = sum(not check.is_good for check in found)
    click.echo(f"\n{'Everything is ready.' if n == 0 else f'{n} to look at.'}\n")
