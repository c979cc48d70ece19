"""Prepare the data folder and run the server: one process, one write lock."""

import os
import socket
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import django
from django.core.management import call_command
from django.db import connections
from granian import Granian
from granian.constants import Interfaces

from nearmark.errors import InputError

BLOCKING_THREADS: Final = 16
"""Requests answered at the same time; entries wait for the write lock in any case."""


@dataclass(frozen=True, slots=True)
class Served:
    """Where and how the site is served.

    Attributes
    ----------
    data : path of a folder
    port : int
    address : str
        Of this computer, as other devices see it.
    is_local : bool
        Whether only this computer may ask.
    hosts : tuple of str
        Other names under which devices may ask.
    certificate, certificate_key : path or None
    """

    data: Path
    port: int
    address: str
    is_local: bool = False
    hosts: tuple[str, ...] = ()
    certificate: Path | None = None
    certificate_key: Path | None = None

    @property
    def url(self) -> str:
        """What to open in a browser."""
        scheme = "http" if self.certificate is None else "https"
        return f"{scheme}://{self.address}:{self.port}/"


def lan_address() -> str:
    """The address of this computer on its network; the loopback when there is none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Connecting a datagram socket sends nothing; it only asks which way would be taken.
            probe.connect(("192.0.2.1", 9))
        except OSError:
            return "127.0.0.1"
        return str(probe.getsockname()[0])


def prepare(served: Served) -> None:
    """Set the environment of the site, and bring its database up to date.

    Parameters
    ----------
    served : Served

    Raises
    ------
    InputError
        If the folder cannot be written to, or the port is taken.
    """
    _check_port(served)
    hosts = {"localhost", "127.0.0.1", socket.gethostname(), served.address, *served.hosts}
    os.environ |= {
        "DJANGO_SETTINGS_MODULE": "nearmark.site.configured",
        "NEARMARK_DATA": str(served.data.resolve()),
        "NEARMARK_HOSTS": " ".join(sorted(hosts)),
        "NEARMARK_URL": served.url,
        "NEARMARK_TLS": "0" if served.certificate is None else "1",
    }
    try:
        django.setup()
    except OSError as error:
        raise InputError(
            f"cannot be written to ({error.strerror})",
            where="--data",
            value=served.data,
            mend="Choose a folder of your own",
        ) from error
    call_command("migrate", verbosity=0, interactive=False)
    # The server's own process opens its own connections.
    connections.close_all()


def _check_port(served: Served) -> None:
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((_bind_to(served), served.port))
        except OSError as error:
            raise InputError(
                f"cannot be used ({error.strerror})",
                where="--port",
                value=served.port,
                mend="Stop what runs there, or choose another port",
            ) from error


def _bind_to(served: Served) -> str:
    return "127.0.0.1" if served.is_local else "0.0.0.0"  # noqa: S104 - the hall's devices must reach it


def run(served: Served) -> None:
    """Serve until stopped.

    Parameters
    ----------
    served : Served
        Prepared.
    """
    Granian(
        "nearmark.site.wsgi:application",
        address=_bind_to(served),
        port=served.port,
        interface=Interfaces.WSGI,
        workers=1,  # the write lock is the process's
        blocking_threads=BLOCKING_THREADS,
        log_access=False,
        log_enabled=False,
        ssl_cert=served.certificate,
        ssl_key=served.certificate_key,
    ).serve()
