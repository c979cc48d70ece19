"""``nearmark serve``: the whole day in the browser, for every device of this network."""

from pathlib import Path

import click
import segno

from nearmark.cli.present import json_option, print_json
from nearmark.errors import InputError
from nearmark.site.serving import Served, lan_address, prepare, run


@click.command("serve", help="Run the event in the browser, for this network.")
@click.option(
    "--data",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("nearmark-data"),
    show_default=True,
    help="Folder that holds the database and the secret key.",
)
@click.option("--port", type=click.IntRange(1, 65535), default=8000, show_default=True)
@click.option("--local", is_flag=True, help="Only this computer, not the network.")
@click.option("--host", "hosts", multiple=True, help="Another name under which devices ask for it.")
@click.option(
    "--certificate",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="TLS certificate (PEM): serve https.",
)
@click.option(
    "--certificate-key",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="Its private key (PEM).",
)
@json_option
def command(  # noqa: PLR0913 - one argument an option
    data: Path,
    *,
    port: int,
    local: bool,
    hosts: tuple[str, ...],
    certificate: Path | None,
    certificate_key: Path | None,
    as_json: bool,
) -> None:
    """Start the site and say where it is; the database may be set by NEARMARK_DATABASE_URL."""
    if (certificate is None) != (certificate_key is None):
        raise InputError(
            "both are needed",
            where="--certificate and --certificate-key",
            mend="Give the certificate and its private key, or neither",
        )
    served = Served(
        data=data,
        port=port,
        address="127.0.0.1" if local else lan_address(),
        is_local=local,
        hosts=hosts,
        certificate=certificate,
        certificate_key=certificate_key,
    )
    prepare(served)
    if as_json:
        print_json({"url": served.url, "data": str(served.data)})
    else:
        _tell(served)
    run(served)


def _tell(served: Served) -> None:
    click.echo(f"\nNearmark is at {served.url}\n")
    if not served.is_local:
        segno.make(served.url, error="m").terminal(compact=True)
        click.echo("\nDevices on this network scan the code, or open the address.")
        if served.certificate is None:
            click.echo("Without a certificate anyone on this Wi-Fi can read along: use your own.")
    click.echo(f"Everything is kept in {served.data}. Stop with Ctrl+C.\n")
