"""``nearmark serve``: the whole day in the browser, for every device of this network."""

import socket
import ssl
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

import click
import segno

from nearmark.cli.examples import examples
from nearmark.cli.present import json_option, print_json
from nearmark.errors import InputError
from nearmark.site.copies.snapshots import note_care
from nearmark.site.server.own_certificate import fingerprint, own_certificate
from nearmark.site.server.serving import Served, lan_address, prepare, run

_WARNING: Final = """
Each device warns once that the connection is not private. The warning means: no authority has
signed the certificate, so the browser cannot know that it talks to this computer. What is typed is
encrypted all the same. To be sure, open the details of the certificate on the device and compare
its SHA-256 fingerprint with this one, then go on:
{fingerprint}
"""


@click.command(
    "serve",
    help="Run the event in the browser, for this network.",
    epilog=examples(
        "nearmark serve",
        "nearmark serve --local --data our-data",
    ),
)
@click.option(
    "--data",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("nearmark-data"),
    show_default=True,
    help="Folder that holds the database and the secret key.",
)
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    default=8000,
    show_default=True,
    help="Take another if this one is in use.",
)
@click.option("--local", is_flag=True, help="Only this computer, not the network.")
@click.option("--host", "hosts", multiple=True, help="Another name under which devices ask for it.")
@click.option("--https", is_flag=True, help="Serve https with a certificate of its own.")
@click.option(
    "--certificate",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="Your own TLS certificate (PEM): serve https with it.",
)
@click.option(
    "--certificate-key",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="Its private key (PEM).",
)
@click.option(
    "--second-folder",
    type=click.Path(exists=True, file_okay=False, writable=True, path_type=Path),
    help="Copy every snapshot there too, such as to a stick; kept for later starts.",
)
@json_option
def command(  # noqa: PLR0913 - one argument an option
    data: Path,
    *,
    port: int,
    local: bool,
    hosts: tuple[str, ...],
    https: bool,
    certificate: Path | None,
    certificate_key: Path | None,
    second_folder: Path | None,
    as_json: bool,
) -> None:
    """Start the site and say where it is; the database may be set by NEARMARK_DATABASE_URL."""
    if (certificate is None) != (certificate_key is None):
        raise InputError(
            "both are needed",
            where="--certificate and --certificate-key",
            mend="Give the certificate and its private key, or neither",
        )
    if certificate is not None:
        _refuse_wrong_pair(certificate, certificate_key)
    address = "127.0.0.1" if local else lan_address()
    is_own = https and certificate is None
    if is_own:
        names = (address, "localhost", "127.0.0.1", socket.gethostname(), *hosts)
        certificate, certificate_key = own_certificate(
            data, names, now=datetime.fromtimestamp(time.time(), UTC)
        )
    served = Served(
        data=data,
        port=port,
        address=address,
        is_local=local,
        hosts=hosts,
        certificate=certificate,
        certificate_key=certificate_key,
    )
    prepare(served)
    if second_folder is not None:
        note_care(data, second=str(second_folder.resolve()), second_trouble="")
    if as_json:
        print_json({"url": served.url, "data": str(served.data)})
    else:
        _tell(served, is_own=is_own)
    run(served)


def _refuse_wrong_pair(certificate: Path, key: Path | None) -> None:
    """The server would say so only after it has said where it is."""
    try:
        # An encrypted key would make the library ask for its password, and nobody may be there.
        ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER).load_cert_chain(certificate, key, lambda: "")
    except (OSError, ValueError) as error:
        raise InputError(
            f"cannot be used ({getattr(error, 'reason', None) or error})",
            where="--certificate and --certificate-key",
            value=certificate,
            mend="Give a certificate (PEM) and the private key that belongs to it, not encrypted",
        ) from error


def _tell(served: Served, *, is_own: bool) -> None:
    click.echo(f"\nNearmark is at {served.url}\n")
    if not served.is_local:
        segno.make(served.url, error="m").terminal(compact=True)
        click.echo("\nDevices on this network scan the code, or open the address.")
        if served.certificate is None:
            click.echo("Anyone on this Wi-Fi can read along. To prevent it: nearmark serve --https")
    if is_own and served.certificate is not None:
        click.echo(_WARNING.format(fingerprint=fingerprint(served.certificate)))
    click.echo(f"Everything is kept in {served.data}. Stop with Ctrl+C.\n")
