"""How near the site comes to the disk, and how light and quick its pages are.

Run: python benchmarks/site.py [rounds]

One run on this machine: an invented event of 200 pairs and 10 items in a data folder of the disk
that holds the working directory, and ``nearmark serve`` on the loopback.

The bound is the bare rate of durable commits: one thread, plain sqlite3, the same settings (WAL,
synchronous=FULL), one insert of the same row a transaction, no web.  Against it stands a closed
loop of clients that each post one answer at a time, as scorers' tablets do: one client, then 40.
The bare rate is taken before and after each, and each ratio is to the mean of the two, because
other work on the machine comes and goes.  All clients run in one thread of this process and share
the machine with the server; with 40 of them the server may put several entries into one commit, so
that a ratio above 1 is possible.
"""

import http.client
import os
import re
import selectors
import shutil
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
from contextlib import closing
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import islice
from pathlib import Path
from typing import Self

import numpy as np

from nearmark.contest.event import AnswerReading, AnswerStatus, Event, HandCount, Item, Pair
from nearmark.station import Station

N_PAIRS = 200
N_ITEMS = 10
BARE_COMMITS = 300
POSTS = {1: 120, 40: 480}
"""Clients -> answers they post in a round."""
MAX_NUMBER = max(POSTS)
PAGES_READ = 15
TOKEN = "a" * 32
GOAL_TIMES_PLAIN, GOAL_PAGE_MS, GOAL_BYTES = 2.0, 100, 250_000


def invented_event(*, answered: bool) -> Event:
    """Log-normal answers of 200 pairs to ten jars, each read twice."""
    rng = np.random.default_rng(1)
    pairs = tuple(Pair(f"P{n:03d}", f"school {n % 12}", ("a", "b")) for n in range(1, N_PAIRS + 1))
    items = tuple(Item(f"C{n}", Station.COUNT, f"jar {n}") for n in range(1, N_ITEMS + 1))
    values = 2000 * np.exp(rng.normal(0, 0.25, (N_PAIRS, N_ITEMS)))
    readings = tuple(
        AnswerReading(
            pair.code, item.code, n, f"clerk {n}", AnswerStatus.ANSWERED, Decimal(int(values[p, i]))
        )
        for p, pair in enumerate(pairs)
        for i, item in enumerate(items)
        for n in (1, 2)
    )
    counts = tuple(HandCount(i.code, 2000 + k, w) for i in items for k, w in enumerate("xy"))
    return Event(
        "Larkspur Valley Estimation Day",
        date(2027, 5, 8),
        items=items,
        pairs=pairs,
        hand_counts=counts,
        answers=readings if answered else (),
    )


@dataclass(frozen=True)
class Site:
    """A prepared data folder: its port, the sessions of its readers, its cells."""

    data: Path
    port: int
    sessions: list[tuple[str, int]]
    cells: list[str]


def prepare_site(data: Path, event: Event, n_clients: int, *, released: bool) -> Site:
    """Fill a data folder in a process of its own, which sets Django up once."""
    port = free_port()
    command = [sys.executable, __file__, "--fill", str(data), str(port), str(n_clients)]
    command += ["1" if event.answers else "0", "1" if released else "0"]
    told = subprocess.run(command, check=True, capture_output=True, text=True).stdout.split("\n")
    readers = [(key, int(pk)) for key, pk in (line.split() for line in told[0].split(";"))]
    return Site(data, port, readers, told[1].split())


def fill(data: Path, port: int, n_clients: int, *, answered: bool, released: bool) -> None:
    """Write the event, the readers and their sessions; print what the clients need."""
    from nearmark.site.server.serving import Served, prepare  # noqa: PLC0415 - needs Django set up

    prepare(Served(data, port, "127.0.0.1", is_local=True))
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY  # noqa: PLC0415, I001
    from django.contrib.sessions.backends.db import SessionStore  # noqa: PLC0415
    from django.utils import timezone  # noqa: PLC0415
    from nearmark.site.door.actions import open_device  # noqa: PLC0415
    from nearmark.site.event.load import save_event  # noqa: PLC0415
    from nearmark.site.models import Account  # noqa: PLC0415
    from nearmark.site.door.access import Role  # noqa: PLC0415
    from nearmark.site.door.visitor import DEVICE_IN_SESSION  # noqa: PLC0415

    record = save_event(invented_event(answered=answered), by="bench", now=timezone.now())
    if released:
        record.released_at = timezone.now()
        record.save()
    told = []
    for n in range(n_clients):
        role = Role.LEAD if n == 0 else Role.SCORER
        account = Account(name=f"reader {n}", role=role.value, password="unusable")
        account.save()
        session = SessionStore()
        session[SESSION_KEY] = str(account.pk)
        session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
        session[HASH_SESSION_KEY] = account.get_session_auth_hash()
        session[DEVICE_IN_SESSION] = open_device(account, "bench").pk
        session.save()
        told.append(f"{session.session_key} {account.pk}")
    print(";".join(told))
    print(" ".join(f"{p.pk}-{i.pk}" for p in record.pairs.all() for i in record.items.all()))


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def bare_commits(folder: Path) -> float:
    """Durable inserts a second into the site's own table, without the site."""
    file = folder / f"bare-{uuid.uuid4().hex}.sqlite3"
    with closing(sqlite3.connect(file, isolation_level=None)) as database:
        database.execute("pragma journal_mode=wal")
        database.execute("pragma synchronous=full")
        database.execute(
            "create table entry (id integer primary key, key char(32) unique, pair int, item int,"
            " reading int, clerk text, status text, value text, cup text, at text)"
        )
        row = (1, 1, 1, "reader 1", "answered", "2870", "", "2027-05-08 10:00:00.000000")
        start = time.perf_counter()
        for _ in range(BARE_COMMITS):
            database.execute("begin immediate")
            database.execute(
                "insert into entry values (null,?,?,?,?,?,?,?,?,?)", (uuid.uuid4().hex, *row)
            )
            database.execute("commit")
        return BARE_COMMITS / (time.perf_counter() - start)


class Server:
    """``nearmark serve`` while in the block."""

    def __init__(self, site: Site, *, is_plain: bool = False) -> None:
        self.site = site
        self.is_plain = is_plain

    def __enter__(self) -> Self:
        command = [sys.executable, "-m", "nearmark.cli", "serve", "--local"]
        command += ["--data", str(self.site.data), "--port", str(self.site.port)]
        if self.is_plain:
            plain = Path(__file__).with_name("plain_entry.py")
            command = [sys.executable, str(plain), str(self.site.data), str(self.site.port)]
        self.process = subprocess.Popen(
            command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        until = time.monotonic() + 60
        while time.monotonic() < until:
            try:
                get(self.site, "/results/")
            except OSError:
                threading.Event().wait(0.1)
            else:
                return self
        raise SystemExit("the server did not start")

    def cpu_s(self) -> float:
        """Processor time of the process that answers, so far."""
        pid = self.process.pid
        children = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
        stats = [Path(f"/proc/{child}/stat").read_text() for child in children]
        ticks = [stat.rpartition(")")[2].split()[11:13] for stat in stats]
        return sum(int(user) + int(system) for user, system in ticks) / os.sysconf("SC_CLK_TCK")

    def __exit__(self, *_: object) -> None:
        self.process.terminate()
        self.process.wait(20)


def headers(site: Site, reader: int) -> dict[str, str]:
    session = site.sessions[reader][0]
    return {
        "Cookie": f"sessionid={session}; csrftoken={TOKEN}",
        "Accept": "application/json",
        "Content-Type": "application/x-www-form-urlencoded",
    }


def get(site: Site, address: str) -> bytes:
    with closing(http.client.HTTPConnection("127.0.0.1", site.port, timeout=30)) as link:
        link.request("GET", address, headers=headers(site, 0) | {"Accept": "text/html"})
        answer = link.getresponse()
        body = answer.read()
        if answer.status != 200:
            raise SystemExit(f"{address}: {answer.status}")
        return body


def post_of(site: Site, reader: int, cell: str) -> bytes:
    """One answer as a browser's script sends it."""
    form = {f"v-{cell}": "2870", f"k-{cell}": str(uuid.uuid4())}
    form |= {"reader": str(site.sessions[reader][1]), "csrfmiddlewaretoken": TOKEN}
    body = urllib.parse.urlencode(form)
    head = {"Host": f"127.0.0.1:{site.port}", "Content-Length": str(len(body))}
    lines = [f"{name}: {value}" for name, value in (head | headers(site, reader)).items()]
    return "\r\n".join(["POST /entry/save/ HTTP/1.1", *lines, "", body]).encode()


class Client:
    """A tablet: posts, waits until it is told "saved", posts the next."""

    def __init__(self, site: Site, reader: int, cells: list[str]) -> None:
        self.posts = [post_of(site, reader, cell) for cell in reversed(cells)]
        self.link = socket.create_connection(("127.0.0.1", site.port), timeout=60)
        self.link.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self.n_posts = len(cells)
        self.got = b""
        self.latencies: list[float] = []

    def send(self) -> None:
        """Post the next answer."""
        self.start = time.perf_counter()
        self.link.sendall(self.posts.pop())

    def take(self) -> bool:
        """Take what came; whether that was the last answer."""
        self.got += self.link.recv(65_536)
        head, found, body = self.got.partition(b"\r\n\r\n")
        length = re.search(rb"content-length: (\d+)", head, re.IGNORECASE)
        if not found or length is None or len(body) < int(length[1]):
            return False
        self.latencies.append(time.perf_counter() - self.start)
        if not head.startswith(b"HTTP/1.1 200"):
            raise SystemExit(f"not taken: {self.got[:500]!r}")
        self.got = b""
        if self.posts:
            self.send()
        return len(self.latencies) == self.n_posts


def post_all(site: Site, n_clients: int, cells: list[str]) -> tuple[float, list[float]]:
    """Entries a second, and their latencies in s."""
    clients = [Client(site, n, cells[n::n_clients]) for n in range(n_clients)]
    start = time.perf_counter()
    with selectors.DefaultSelector() as selector:
        for client in clients:
            selector.register(client.link, selectors.EVENT_READ, client)
            client.send()
        n_open = len(clients)
        while n_open:
            for key, _ in selector.select():
                if key.data.take():
                    selector.unregister(key.fileobj)
                    n_open -= 1
    took = time.perf_counter() - start
    for client in clients:
        client.link.close()
    latencies = sorted(t for client in clients for t in client.latencies)
    return len(latencies) / took, latencies


def against_a_plain_view(folder: Path, n_rounds: int) -> None:
    """The same answers to a plain Django view and to the site, turn about."""
    rates: dict[bool, list[float]] = {True: [], False: []}
    cpu_s: dict[bool, list[float]] = {True: [], False: []}
    latencies: dict[bool, list[float]] = {True: [], False: []}
    sites = {
        is_plain: prepare_site(
            folder / f"plain-{is_plain}", invented_event(answered=False), MAX_NUMBER, released=False
        )
        for is_plain in rates
    }
    cells = {is_plain: iter(site.cells) for is_plain, site in sites.items()}
    with Server(sites[True], is_plain=True) as plain, Server(sites[False]) as own:
        servers = {True: plain, False: own}
        for n_round in range(n_rounds + 1):
            for is_plain, site in sites.items():
                n_posts = (
                    POSTS[MAX_NUMBER] if n_round else MAX_NUMBER
                )  # the first opens files and connections
                before = servers[is_plain].cpu_s()
                rate, found = post_all(site, MAX_NUMBER, list(islice(cells[is_plain], n_posts)))
                if n_round:
                    cpu_s[is_plain].append((servers[is_plain].cpu_s() - before) / n_posts)
                    rates[is_plain].append(rate)
                    latencies[is_plain] += found
    for is_plain, name in ((True, "plain view"), (False, "the site")):
        told = sorted(latencies[is_plain])
        print(
            f"{name:10} {statistics.median(rates[is_plain]):6.0f} /s at {MAX_NUMBER} clients; "
            f"latency median {1e3 * statistics.median(told):.1f} ms, "
            f"p99 {1e3 * told[int(0.99 * len(told))]:.1f} ms, longest {1e3 * told[-1]:.1f} ms; "
            f"processor {1e3 * statistics.median(cpu_s[is_plain]):.2f} ms an answer"
        )
    ratio = statistics.median(rates[False]) / statistics.median(rates[True])
    print(f"the site takes {ratio:.2f} times the answers of a plain view (goal {GOAL_TIMES_PLAIN})")


def entries(folder: Path, n_rounds: int) -> None:
    site = prepare_site(
        folder / "entry", invented_event(answered=False), MAX_NUMBER, released=False
    )
    cells = iter(site.cells)
    ratios: dict[int, list[float]] = {n: [] for n in POSTS}
    all_latencies: dict[int, list[float]] = {n: [] for n in POSTS}
    n_acknowledged = 0
    with Server(site):
        # The first requests open files and connections.
        post_all(site, MAX_NUMBER, list(islice(cells, MAX_NUMBER)))
        n_acknowledged += MAX_NUMBER
        for _ in range(n_rounds):
            before = bare_commits(folder)
            for n_clients, n_posts in POSTS.items():
                rate, latencies = post_all(site, n_clients, list(islice(cells, n_posts)))
                after = bare_commits(folder)
                bare = (before + after) / 2
                ratios[n_clients].append(rate / bare)
                all_latencies[n_clients] += latencies
                n_acknowledged += len(latencies)
                print(f"{n_clients:3} clients {rate:7.0f} /s, bare {bare:7.0f} /s, ", end="")
                print(f"ratio {rate / bare:.2f}, load {os.getloadavg()[0]:.1f}")
                before = after
    with closing(sqlite3.connect(site.data / "nearmark.sqlite3")) as database:
        kept = database.execute("select count(distinct key) from site_answerentry").fetchone()[0]
    for n_clients, found in ratios.items():
        told = sorted(all_latencies[n_clients])
        print(
            f"{n_clients:3} clients: ratio {statistics.median(found):.2f}; ",
            end="",
        )
        print(f"latency median {1e3 * statistics.median(told):.1f} ms, ", end="")
        print(f"p99 {1e3 * told[int(0.99 * len(told))]:.1f} ms, longest {1e3 * told[-1]:.1f} ms")
    print(f"acknowledged {n_acknowledged}, on the disk {kept}")


def pages(folder: Path) -> None:
    site = prepare_site(folder / "pages", invented_event(answered=True), 1, released=True)
    with Server(site):
        for address in ("/results/", "/standings/", "/entry/", "/event/"):
            times, body = [], b""
            for _ in range(PAGES_READ):
                start = time.perf_counter()
                body = get(site, address)
                times.append(1e3 * (time.perf_counter() - start))
            kilobytes = weight(site, body) / 1e3
            print(f"{address:12} first {times[0]:6.0f} ms, ", end="")
            print(f"median {statistics.median(times):6.0f} ms (goal {GOAL_PAGE_MS}), ", end="")
            print(f"{kilobytes:.0f} kB (goal {GOAL_BYTES // 1000})")


def weight(site: Site, body: bytes) -> int:
    """Bytes of a page with the files it names and the two fonts its style sheet loads."""
    text = body.decode()
    parts = [p for p in text.replace("'", '"').split('"') if p.startswith("/static/")]
    fonts = [
        f"{parts[0].rsplit('/', 1)[0]}/fonts/atkinson-hyperlegible-latin-{w}-normal.woff2"
        for w in (400, 700)
    ]
    return len(body) + sum(len(get(site, part)) for part in {*parts, *fonts})


def main(n_rounds: int = 3) -> None:
    if not 1 <= n_rounds <= (N_PAIRS * N_ITEMS - MAX_NUMBER) // sum(POSTS.values()):
        raise SystemExit("1 to 3 rounds: there are so many answers")
    folder = Path(tempfile.mkdtemp(prefix="nearmark-bench-", dir=os.environ.get("BENCH_DIR", ".")))
    try:
        against_a_plain_view(folder, n_rounds)
        entries(folder, n_rounds)
        pages(folder)
    finally:
        shutil.rmtree(folder)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--fill"]:
        path, port, n, answered, released = sys.argv[2:]
        fill(Path(path), int(port), int(n), answered=answered == "1", released=released == "1")
    else:
        main(*map(int, sys.argv[1:]))
