"""Prepare the data folder and run the server: one process, one write lock."""

import logging
import os
import socket
import sqlite3
import threading
import time
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Final

import django
from django.core.management import call_command
from django.db import DatabaseError, connections
from django.db.migrations.executor import MigrationExecutor
from granian import Granian
from granian.constants import Interfaces

from nearmark.errors import InputError
from nearmark.site.copies.backups import keep_before
from nearmark.site.copies.database_check import DATABASE_FILE, refuse_damaged, refuse_newer
from nearmark.site.copies.folder_lock import WAIT_S, hold_folder, own_folder
from nearmark.site.server.log_file import begin_log

STOP_S: Final = 5
"""How long what is being answered may take after Ctrl+C; then it is killed, which loses nothing
that was acknowledged."""

MAX_CONNECTIONS: Final = 2_000
"""Open at the same time; one that waits for the rest of a body costs nothing else."""

SHORT_LIFE_S: Final = 1.5
"""An answering process that ends sooner than this after its start is given a pause."""

MAX_PAUSE_S: Final = 5.0


@dataclass(frozen=True, slots=True)
class Served:
    """Where and how the site is served."""

    data: Path
    port: int
    address: str  # of this computer, as other devices see it
    is_local: bool = False  # whether only this computer may ask
    hosts: tuple[str, ...] = ()  # other names under which devices may ask
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

    Raises InputError if the folder cannot be written to or is in use, its database cannot be read,
    or the port is taken.
    """
    _check_port(served)
    hosts = {"localhost", "127.0.0.1", socket.gethostname(), served.address, *served.hosts}
    os.environ |= {
        "DJANGO_SETTINGS_MODULE": "nearmark.site.server.configured",
        "NEARMARK_DATA": str(served.data.resolve()),
        "NEARMARK_HOSTS": " ".join(sorted(hosts)),
        "NEARMARK_URL": served.url,
        "NEARMARK_TLS": "0" if served.certificate is None else "1",
    }
    try:
        own_folder(served.data)
        _HELD.append(hold_folder(served.data))
        begin_log(served.data)
        django.setup()
    except OSError as error:
        raise InputError(
            f"cannot be written to ({error.strerror})",
            where="--data",
            value=served.data,
            mend="Choose a folder of your own",
        ) from error
    _bring_up_to_date(served.data)
    # The server's own process opens its own connections.
    connections.close_all()


_HELD: Final[list[IO[bytes]]] = []
"""The folder is this process's until its end."""


def _is_behind() -> bool:
    """Whether there is a database, and an older Nearmark has written it."""
    executor = MigrationExecutor(connections["default"])
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    is_sqlite = connections["default"].vendor == "sqlite"  # others have their own backups
    return is_sqlite and bool(plan) and bool(executor.loader.applied_migrations)


def _bring_up_to_date(data: Path) -> None:
    refuse_damaged(data / DATABASE_FILE, where="--data")
    refuse_newer(data / DATABASE_FILE)
    try:
        if _is_behind():
            keep_before("update", data / DATABASE_FILE)
        call_command("migrate", verbosity=0, interactive=False)
    except (DatabaseError, sqlite3.Error, OSError) as error:
        raise InputError(
            f"holds a database that cannot be used ({error})",
            where="--data",
            value=data,
            mend="Check that the disk is not full and the folder may be written to; else bring a "
            "backup back: nearmark restore --help",
        ) from error


def _check_port(served: Served) -> None:
    until = time.monotonic() + WAIT_S
    while (refusal := _port_refusal(served)) is not None:
        # A server that was killed a moment ago may still be ending.
        if time.monotonic() > until:
            raise InputError(
                f"cannot be used ({refusal.strerror})",
                where="--port",
                value=served.port,
                mend="Stop what runs there, or choose another port",
            ) from refusal
        time.sleep(0.1)


def _port_refusal(served: Served) -> OSError | None:
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((_bind_to(served), served.port))
        except OSError as error:
            return error
    return None


def _bind_to(served: Served) -> str:
    return "127.0.0.1" if served.is_local else "0.0.0.0"  # noqa: S104 - the hall's devices must reach it


def run(served: Served) -> None:
    """Serve until stopped: the process that answers is started again whenever it ends."""
    _LIFELINE.extend(os.pipe())
    pause_s = 0.0
    while True:
        began = time.monotonic()
        try:
            _serve(served)
        except SystemExit:  # as the library ends when its process has ended by itself
            is_short = time.monotonic() - began < SHORT_LIFE_S
            pause_s = min(2 * pause_s + 0.1, MAX_PAUSE_S) if is_short else 0.0
            logging.getLogger(__name__).error(_ENDED)  # noqa: TRY400 - a trace says nothing here
            time.sleep(pause_s)
        else:
            return


_ENDED: Final = (
    "The part that answers the tablets ended by itself and is started again. "
    "Nothing that was saved is lost. If it happens again and again, close other programs "
    "(the memory may be full) and run: nearmark doctor"
)


def _serve(served: Served) -> None:
    Granian(
        "nearmark.site.server.asgi:application",
        address=_bind_to(served),
        port=served.port,
        interface=Interfaces.ASGINL,
        workers=1,  # the write lock is the process's
        workers_kill_timeout=STOP_S,
        backlog=MAX_CONNECTIONS,
        websockets=False,
        log_access=False,
        log_enabled=False,
        ssl_cert=served.certificate,
        ssl_key=served.certificate_key,
    ).serve()


_LIFELINE: Final[list[int]] = []
"""Both ends of a pipe on which nothing is ever said: reading it ends when its writer dies."""


def end_with_parent() -> None:
    """Let the process that answers end when the one that started it was killed.

    It would go on alone otherwise, and keep the port and the folder from the next start.
    """
    if not _LIFELINE:
        return
    reader, writer = _LIFELINE
    os.close(writer)

    def wait() -> None:
        os.read(reader, 1)
        os._exit(1)  # what was answered is on the disk; nothing else counts

    threading.Thread(target=wait, name="lifeline", daemon=True).start()
