"""Kill the server at random moments while 40 clients post: nothing acknowledged may be lost.

Run: python benchmarks/site_kill.py [kills] [seed]

The real ``nearmark serve`` on a fresh data folder; every client posts its own answers one after the
other, and posts an answer that was not acknowledged again, with the same key, as the outbox of the
browser does.  SIGKILL goes in turn to the process that answers, to the one that started it, and to
both.  The server is started again on the same folder with the same command, and nothing else is
done; a killed answering process is replaced by the server itself.  At the end every key must be in
the database exactly once, and SQLite's own check must find nothing.

A kill leaves what the system has in its cache: a power cut does not.  That the synchronisation is
in force is checked in ``tests/fault/test_site_power.py``.
"""

import http.client
import json
import os
import shutil
import signal
import socket
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import urllib.parse
import uuid
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np

Fill = Callable[[Path], tuple[list[tuple[str, str]], list[str]]]
"""Fills a folder, and gives the sessions with their readers, and the cells."""

N_CLIENTS = 40
N_PAIRS = 200
N_ITEMS = 20
TOKEN = "a" * 32
START_S = 120
PATIENCE_S = 0.02
"""Between two tries of a client: a server that starts is not helped by more."""

MAX_ANSWERED = 150
MAX_POSTING_S = 3.0
"""How many answers, or seconds, go by between two kills at most."""


@dataclass
class Site:
    """The server and its folder."""

    data: Path
    port: int
    process: subprocess.Popen[bytes] | None = None

    @property
    def terminal(self) -> Path:
        """Where what it says in the terminal is kept."""
        self.data.parent.mkdir(parents=True, exist_ok=True)
        return self.data.with_name("terminal.txt")

    def begin(self) -> None:
        """Start, and wait for nothing."""
        command = [sys.executable, "-m", "nearmark.cli", "serve", "--local"]
        command += ["--data", str(self.data), "--port", str(self.port)]
        with self.terminal.open("ab") as terminal:
            self.process = subprocess.Popen(
                command, env=environment(), stdout=subprocess.DEVNULL, stderr=terminal
            )

    def start(self) -> float:
        """Start, and give the seconds until the first answer."""
        began = time.monotonic()
        self.begin()
        self.wait_until_it_answers()
        return time.monotonic() - began

    def wait_until_it_answers(self) -> None:
        """Give up when it has stopped, or after ``START_S``."""
        until = time.monotonic() + START_S
        while not (self.has_begun() and self.answers()):
            if self.process is None or self.process.poll() is not None:
                raise RuntimeError("the server stopped at its start")
            if time.monotonic() > until:
                raise RuntimeError("the server did not start")
            time.sleep(0.02)

    def has_begun(self) -> bool:
        """Whether it has a process that answers: the one of a killed server may still be ending."""
        try:
            return bool(self.answering())
        except FileNotFoundError:
            return not Path("/proc/self/task").exists()

    def answers(self) -> bool:
        """Whether it does now."""
        try:
            with closing(http.client.HTTPConnection("127.0.0.1", self.port, timeout=5)) as link:
                link.request("GET", "/results/")
                return link.getresponse().status < 500
        except (OSError, http.client.HTTPException):
            return False

    def answering(self) -> list[int]:
        """Processes that the server has started."""
        assert self.process is not None
        pid = self.process.pid
        return [int(p) for p in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()]

    def stop(self) -> None:
        """As Ctrl+C does."""
        if self.process is not None:
            self.process.terminate()
            self.process.wait(60)


MORE: dict[str, str] = {}
"""Environment of the server beside ours, such as the address of another database."""


def environment() -> dict[str, str]:
    """Ours, without what would send the server elsewhere or make its start slow."""
    left_out = ("DJANGO", "NEARMARK", "PYTHONDONTWRITEBYTECODE")
    return {k: v for k, v in os.environ.items() if not k.startswith(left_out)} | MORE


@dataclass
class Told:
    """What the clients sent and what they were told; each list is only appended to."""

    acknowledged: list[str] = field(default_factory=list)
    replayed: set[str] = field(default_factory=set)
    refused: list[str] = field(default_factory=list)


@dataclass
class Outcome:
    """What became of one run."""

    kills: int
    acknowledged: int
    replayed: int
    refused: list[str]
    lost: set[str]
    doubled: int
    unknown: set[str]
    integrity: str
    restarts_s: list[float]


def killed(folder: Path, n_kills: int, seed: int, fill: Fill | None = None) -> Outcome:
    """One run: fill, post, kill, start again, count."""
    rng = np.random.default_rng(seed)
    site = Site(folder / "data", free_port())
    sessions, cells = (fill or fill_anew)(site.data)
    told, stop = Told(), threading.Event()
    restarts = [site.start()]
    try:
        with ThreadPoolExecutor(N_CLIENTS) as clients:
            shares = [
                clients.submit(post_all, site.port, who, cells[n::N_CLIENTS], told, stop)
                for n, who in enumerate(sessions)
            ]
            try:
                for n in range(n_kills):
                    post_for_a_while(told, rng)
                    restarts += kill(site, n % 3)
                    check_so_far(site, told)
                post_for_a_while(told, rng)
            finally:
                stop.set()
            sent = {key for share in shares for key in share.result()}
    finally:
        site.stop()
    return counted(site, told, sent, n_kills, restarts)


def post_for_a_while(told: Told, rng: np.random.Generator) -> None:
    """So many answers, and a moment: counted, so that a slow machine is killed at work too."""
    enough = len(told.acknowledged) + int(rng.integers(MAX_ANSWERED))
    until = time.monotonic() + MAX_POSTING_S
    while len(told.acknowledged) < enough and time.monotonic() < until:
        time.sleep(0.002)
    time.sleep(rng.uniform(0, 0.01))


def kill(site: Site, who: int) -> list[float]:
    """SIGKILL to the answering process (0), to its parent (1), or to both (2)."""
    assert site.process is not None
    began = time.monotonic()
    if who in {0, 2}:
        for pid in site.answering():
            os.kill(pid, signal.SIGKILL)
    if who == 0:
        site.wait_until_it_answers()
        return [time.monotonic() - began]
    site.process.kill()
    site.process.wait()
    return [site.start()]


def check_so_far(site: Site, told: Told) -> None:
    """Nothing acknowledged before this moment may be missing after a restart."""
    before = set(told.acknowledged)
    missing = before - set(kept(site))
    if missing:
        raise RuntimeError(f"{len(missing)} acknowledged entries are lost")


def post_all(
    port: int, who: tuple[str, str], cells: list[str], told: Told, stop: threading.Event
) -> set[str]:
    """Post until stopped; what is not acknowledged is posted again under its key."""
    session, reader = who
    headers = {
        "Cookie": f"sessionid={session}; csrftoken={TOKEN}",
        "Accept": "application/json",
        "Content-Type": "application/x-www-form-urlencoded",
    }
    sent = set()
    link = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    for cell in cells:
        key = uuid.uuid4().hex
        form = {f"v-{cell}": "2870", f"k-{cell}": key, "heat": "", "reader": reader}
        body = urllib.parse.urlencode(form | {"csrfmiddlewaretoken": TOKEN})
        while not stop.is_set():
            if key in sent:
                told.replayed.add(key)
            sent.add(key)
            try:
                link.request("POST", "/entry/save/", body, headers)
                answer = link.getresponse()
                said = answer.read()
            except (OSError, http.client.HTTPException):
                link.close()
                time.sleep(PATIENCE_S)
                continue
            if answer.status == 200 and json.loads(said)["saved"] == [cell]:
                told.acknowledged.append(key)
            elif answer.status >= 500:
                continue
            else:
                told.refused.append(f"{answer.status} {said[:200]!r}")
            break
        if stop.is_set():
            break
    link.close()
    return sent


def kept(site: Site) -> list[str]:
    with closing(sqlite3.connect(site.data / "nearmark.sqlite3", timeout=20)) as database:
        return [key for (key,) in database.execute("SELECT key FROM site_answerentry")]


def counted(
    site: Site, told: Told, sent: set[str], n_kills: int, restarts_s: list[float]
) -> Outcome:
    keys = kept(site)
    with closing(sqlite3.connect(site.data / "nearmark.sqlite3")) as database:
        integrity = database.execute("PRAGMA integrity_check").fetchone()[0]
        doubled = database.execute(
            "SELECT count(*) FROM (SELECT 1 FROM site_answerentry GROUP BY pair_id, item_id, clerk"
            " HAVING count(*) > 1)"
        ).fetchone()[0]
    return Outcome(
        kills=n_kills,
        acknowledged=len(told.acknowledged),
        replayed=len(told.replayed),
        refused=told.refused,
        lost=set(told.acknowledged) - set(keys),
        doubled=doubled + len(keys) - len(set(keys)),
        unknown=set(keys) - sent,
        integrity=integrity,
        restarts_s=restarts_s,
    )


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def fill_anew(data: Path) -> tuple[list[tuple[str, str]], list[str]]:
    """Fill the folder in a process of its own, which sets the site up once."""
    command = [sys.executable, __file__, "--fill", str(data)]
    told: dict[str, Any] = json.loads(
        subprocess.run(command, check=True, env=environment(), stdout=subprocess.PIPE).stdout
    )
    return [(session, reader) for session, reader in told["sessions"]], told["cells"]


def write_site(data: Path) -> None:
    """An invented event and a session for each client; print what the clients need."""
    from nearmark.site.server.serving import Served, prepare  # noqa: PLC0415 - needs a process of its own

    prepare(Served(data, free_port(), "127.0.0.1", is_local=True))
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY  # noqa: PLC0415, I001
    from django.contrib.sessions.backends.db import SessionStore  # noqa: PLC0415
    from django.utils import timezone  # noqa: PLC0415
    from nearmark.contest.event import Event, Item, Pair  # noqa: PLC0415
    from nearmark.station import Station  # noqa: PLC0415
    from nearmark.site.door.actions import open_device  # noqa: PLC0415
    from nearmark.site.event.load import save_event  # noqa: PLC0415
    from nearmark.site.models import Account  # noqa: PLC0415
    from nearmark.site.door.access import Role  # noqa: PLC0415
    from nearmark.site.door.visitor import DEVICE_IN_SESSION  # noqa: PLC0415

    event = Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        items=tuple(Item(f"C{n}", Station.COUNT, f"jar {n}") for n in range(1, N_ITEMS + 1)),
        pairs=tuple(Pair(f"P{n:03d}", "Quillbank", ("a", "b")) for n in range(1, N_PAIRS + 1)),
    )
    record = save_event(event, by="bench", now=timezone.now())
    sessions = []
    for n in range(N_CLIENTS):
        account = Account(name=f"reader {n}", role=Role.SCORER.value, password="unusable")
        account.save()
        session = SessionStore()
        session[SESSION_KEY] = str(account.pk)
        session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
        session[HASH_SESSION_KEY] = account.get_session_auth_hash()
        session[DEVICE_IN_SESSION] = open_device(account, "bench").pk
        session.save()
        sessions.append((session.session_key, str(account.pk)))
    cells = [f"{p.pk}-{i.pk}" for p in record.pairs.all() for i in record.items.all()]
    print(json.dumps({"sessions": sessions, "cells": cells}))


def main(n_kills: int = 100, seed: int = 20270508) -> None:
    total, at_once = 0, 12  # each round has cells for more posts than come
    folder = Path(tempfile.mkdtemp(prefix="nearmark-kill-", dir=os.environ.get("BENCH_DIR", ".")))
    try:
        while total < n_kills:
            n = min(at_once, n_kills - total)
            outcome = killed(folder / str(total), n, seed + total)
            total += n
            restarts = f"{statistics.median(outcome.restarts_s):.2f} s"
            print(
                f"seed {seed + total - n}: {outcome.kills} kills, {outcome.acknowledged} "
                f"acknowledged, {outcome.replayed} sent again, {len(outcome.lost)} lost, "
                f"{outcome.doubled} doubled, {len(outcome.unknown)} unknown, "
                f"{len(outcome.refused)} refused, integrity {outcome.integrity}, "
                f"median time until it answers {restarts}",
                flush=True,
            )
            if outcome.refused:
                print(outcome.refused[:3])
    finally:
        shutil.rmtree(folder)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--fill"]:
        write_site(Path(sys.argv[2]))
    else:
        main(*map(int, sys.argv[1:]))
