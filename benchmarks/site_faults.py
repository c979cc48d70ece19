"""Hurt the real server in every way a day can, and print a figure for each.

Run: python benchmarks/site_faults.py [--short]

``--short`` takes a minute or two; the whole takes about half an hour.  Each line says what was
done, what was measured and whether it held; the exit status is 1 when one did not.

1. half-sent bodies: 20 and 200 of them, to three addresses, signed in or not, for 20 s: the slowest
   answer of the public page.
2. torn posts: 500 connections that break in the middle of a post: the page after, and the number of
   open files and threads of the server before and after.
3. crash loop: the answering process killed every 2 s for a minute while a client posts.
4. guesses: 405 wrong sign-ins by 24 clients while a client posts answers: the entry's p99.
5. kills: SIGKILL at random moments while 40 clients post (``site_kill.py``): nothing lost, nothing
   doubled.
6. PostgreSQL stopped without warning and started again, every 3 s, while 12 clients post; by
   tools/with-postgresql python benchmarks/site_faults.py, else left out.
7. the tests of ``tests/fault``: disk full, order of writes and syncs, noise in database and backup,
   upgrade of an old database, two servers on a folder, requests no browser makes.
"""

import http.client
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.parse
import uuid
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, closing, contextmanager, suppress
from pathlib import Path
from typing import Self

import site_kill  # type: ignore[import-not-found]  # beside this file
from site_kill import TOKEN, Site, free_port

MAX_PAGE_S = 1.0
MAX_ENTRY_P99_S = 0.2
N_POSTERS = 12
ADDRESSES = ("/entry/save/", "/sign-in/", "/not-here/")


class Report:
    """Lines with figures, and whether all held."""

    def __init__(self) -> None:
        self.is_good = True

    def say(self, what: str, figures: str, *, held: bool) -> None:
        """Print one line."""
        self.is_good &= held
        print(f"{'held' if held else 'LOST':5} {what}: {figures}", flush=True)


@contextmanager
def served(folder: Path) -> Iterator[tuple[Site, list[tuple[str, str]], list[str]]]:
    """A running server with its sessions and cells."""
    site = Site(folder / "data", free_port())
    sessions, cells = site_kill.fill_anew(site.data)
    site.start()
    try:
        yield site, sessions, cells
    finally:
        site.stop()


def head(site: Site, address: str, length: int, session: str = "") -> bytes:
    """Of a form, as a browser sends it."""
    cookie = f"sessionid={session}; csrftoken={TOKEN}" if session else f"csrftoken={TOKEN}"
    lines = [f"POST {address} HTTP/1.1", f"Host: 127.0.0.1:{site.port}", f"Cookie: {cookie}"]
    lines += ["Content-Type: application/x-www-form-urlencoded", f"Content-Length: {length}"]
    return "\r\n".join([*lines, "", ""]).encode()


def seconds_of(site: Site, address: str = "/results/") -> float:
    """How long the public page takes; infinite when there is no answer in 10 s."""
    began = time.monotonic()
    try:
        with closing(http.client.HTTPConnection("127.0.0.1", site.port, timeout=10)) as link:
            link.request("GET", address)
            link.getresponse().read()
    except OSError:
        return float("inf")
    return time.monotonic() - began


def half_sent(report: Report, folder: Path, held_s: float, counts: tuple[int, ...]) -> None:
    """Bodies that never come to their end."""
    with served(folder) as (site, sessions, _):
        for n in counts:
            for address in ADDRESSES:
                for session in ("", sessions[0][0]):
                    worst = _worst_while_held(site, n, head(site, address, 900, session), held_s)
                    who = "signed in" if session else "nobody"
                    figures = f"slowest page {1e3 * worst:.0f} ms of {held_s:.0f} s"
                    report.say(
                        f"{n} half-sent to {address}, {who}", figures, held=worst < MAX_PAGE_S
                    )


def _worst_while_held(site: Site, n: int, sent: bytes, held_s: float) -> float:
    with ExitStack() as held:
        for _ in range(n):
            link = held.enter_context(closing(socket.create_connection(("127.0.0.1", site.port))))
            link.sendall(sent + b"abc")
        worst, until = 0.0, time.monotonic() + held_s
        while time.monotonic() < until:
            worst = max(worst, seconds_of(site))
            time.sleep(0.1)
    return worst


def torn(report: Report, folder: Path, n: int) -> None:
    """Connections that break in the middle of a post."""
    with served(folder) as (site, sessions, _):
        (pid,) = site.answering()
        seconds_of(site)
        before = _open_of(pid)
        for _ in range(n):
            with closing(socket.create_connection(("127.0.0.1", site.port))) as link:
                link.sendall(head(site, "/entry/save/", 900, sessions[0][0]) + b"v-1-1=28")
        page = seconds_of(site)
        until = time.monotonic() + 30
        while (after := _open_of(pid))[0] > before[0] + 5 and time.monotonic() < until:
            time.sleep(0.2)
        figures = f"page {1e3 * page:.0f} ms; files, threads {before} before, {after} after"
        report.say(f"{n} torn posts", figures, held=page < MAX_PAGE_S and after[0] <= before[0] + 5)


def _open_of(pid: int) -> tuple[int, int]:
    process = Path(f"/proc/{pid}")
    return len([*(process / "fd").iterdir()]), len([*(process / "task").iterdir()])


class Poster:
    """One scorer who types one answer after the other, and the seconds of each."""

    def __init__(self, site: Site, who: tuple[str, str], cells: list[str], pause_s: float) -> None:
        self.site, self.who, self.cells, self.pause_s = site, who, cells, pause_s
        self.seconds: list[float] = []
        self.acknowledged: list[str] = []
        self.stop = threading.Event()
        self.thread = threading.Thread(target=self._post_all)

    def __enter__(self) -> Self:
        self.thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.stop.set()
        self.thread.join()

    def _post_all(self) -> None:
        for cell in self.cells:
            key = uuid.uuid4().hex
            began = time.monotonic()
            while not self.stop.is_set() and not self._is_saved(cell, key):
                time.sleep(0.05)
            if self.stop.is_set():
                return
            self.seconds.append(time.monotonic() - began)
            self.acknowledged.append(key)
            self.stop.wait(self.pause_s)

    def _is_saved(self, cell: str, key: str) -> bool:
        form = {f"v-{cell}": "2870", f"k-{cell}": key, "heat": "", "reader": self.who[1]}
        headers = {
            "Cookie": f"sessionid={self.who[0]}; csrftoken={TOKEN}",
            "Accept": "application/json",
            "Content-Type": "application/x-www-form-urlencoded",
        }
        body = urllib.parse.urlencode(form | {"csrfmiddlewaretoken": TOKEN})
        with suppress(OSError, http.client.HTTPException):
            link = http.client.HTTPConnection("127.0.0.1", self.site.port, timeout=10)
            with closing(link):
                link.request("POST", "/entry/save/", body, headers)
                answer = link.getresponse()
                answer.read()
                return answer.status == 200
        return False

    def p99_s(self) -> float:
        """Of an answer."""
        return sorted(self.seconds)[int(0.99 * len(self.seconds))] if self.seconds else float("inf")


def crash_loop(report: Report, folder: Path, n_kills: int) -> None:
    """The answering process killed every 2 s."""
    with served(folder) as (site, sessions, cells):
        with Poster(site, sessions[0], cells, 0.01) as poster:
            for _ in range(n_kills):
                time.sleep(2.0)
                for pid in site.answering():
                    os.kill(pid, signal.SIGKILL)
            site.wait_until_it_answers()
        is_up = site.process is not None and site.process.poll() is None
        lost = set(poster.acknowledged) - set(site_kill.kept(site))
        n_told = site.terminal.read_text().count("ended by itself and is started again")
        figures = (
            f"{len(poster.acknowledged)} acknowledged, {len(lost)} lost, longest wait "
            f"{max(poster.seconds):.1f} s, {n_told} lines in the terminal"
        )
        report.say(f"killed {n_kills} times, every 2 s", figures, held=is_up and not lost)


def guesses(report: Report, folder: Path, n: int, n_clients: int) -> None:
    """Wrong sign-ins under ever new names while somebody types answers."""
    with served(folder) as (site, sessions, cells):
        with Poster(site, sessions[0], cells, 0.02) as alone:
            time.sleep(3)
        done = set(alone.cells[: len(alone.seconds) + 1])
        rest = [cell for cell in cells if cell not in done]
        began = time.monotonic()
        with Poster(site, sessions[0], rest, 0.02) as poster, ThreadPoolExecutor(n_clients) as pool:
            statuses = [*pool.map(lambda k: _wrong_sign_in(site, k), range(n))]
            took = time.monotonic() - began
            time.sleep(max(0.0, 3 - took))
        figures = (
            f"{took:.1f} s, {statuses.count(422)} looked at, {statuses.count(409)} refused; "
            f"entry p99 {1e3 * poster.p99_s():.0f} ms of {len(poster.seconds)} "
            f"(alone {1e3 * alone.p99_s():.0f} ms)"
        )
        # Of a machine that is busy with other work the guesses may take no more than half.
        allowed_s = max(MAX_ENTRY_P99_S, 2 * alone.p99_s())
        held = poster.p99_s() < allowed_s and statuses.count(422) <= 40
        report.say(f"{n} wrong sign-ins by {n_clients} clients", figures, held=held)


def _wrong_sign_in(site: Site, k: int) -> int:
    body = urllib.parse.urlencode(
        {"name": f"name {k}", "password": "a guess", "csrfmiddlewaretoken": TOKEN}
    )
    headers = {
        "Cookie": f"csrftoken={TOKEN}",
        "Content-Type": "application/x-www-form-urlencoded",
    }
    with closing(http.client.HTTPConnection("127.0.0.1", site.port, timeout=120)) as link:
        link.request("POST", "/sign-in/", body, headers)
        answer = link.getresponse()
        answer.read()
        return answer.status


def kills(report: Report, folder: Path, n: int) -> None:
    """As ``site_kill.py``, in rounds."""
    total, lost, doubled, acknowledged, is_whole = 0, 0, 0, 0, True
    while total < n:
        part = min(12, n - total)
        outcome = site_kill.killed(folder / str(total), part, 20270508 + total)
        total += part
        lost, doubled = lost + len(outcome.lost), doubled + outcome.doubled
        acknowledged += outcome.acknowledged
        is_whole &= outcome.integrity == "ok"
    figures = f"{acknowledged} acknowledged, {lost} lost, {doubled} doubled, whole: {is_whole}"
    report.say(f"{n} kills under 40 clients", figures, held=is_whole and not lost and not doubled)


def postgresql_restarts(report: Report, folder: Path, n: int) -> None:
    """The database server of ``tools/with-postgresql``, stopped under load."""
    address = os.environ.get("NEARMARK_TEST_POSTGRESQL")
    if not address:
        print("left out: PostgreSQL restarted (run by tools/with-postgresql)")
        return
    site_kill.MORE["NEARMARK_DATABASE_URL"] = address
    try:
        with served(folder) as (site, sessions, cells), ExitStack() as posting:
            posters = [
                posting.enter_context(Poster(site, who, cells[k::N_POSTERS], 0.02))
                for k, who in enumerate(sessions[:N_POSTERS])
            ]
            for _ in range(n):
                time.sleep(3.0)
                _restart_postgresql(address)
            time.sleep(3.0)
            posting.close()
            kept = _kept_in_postgresql(address)
    finally:
        site_kill.MORE.clear()
    acknowledged = [uuid.UUID(key) for poster in posters for key in poster.acknowledged]
    n_lost, n_doubled = len(set(acknowledged) - set(kept)), len(kept) - len(set(kept))
    longest = max(max(poster.seconds) for poster in posters)
    figures = (
        f"{len(acknowledged)} acknowledged, {n_lost} lost, {n_doubled} doubled, "
        f"longest wait {longest:.1f} s"
    )
    held = not n_lost and not n_doubled and len(acknowledged) > N_POSTERS
    report.say(f"PostgreSQL restarted {n} times", figures, held=held)


def _restart_postgresql(address: str) -> None:
    import psycopg  # noqa: PLC0415 - only here

    with closing(psycopg.connect(address)) as database:
        (folder,) = database.execute("SHOW data_directory").fetchone() or ("",)
    binaries = sorted(Path("/usr/lib/postgresql").glob("*/bin/pg_ctl"))
    command = [str(binaries[-1]), "-D", folder, "-m", "immediate", "-w"]
    command += ["-l", f"{folder}/../server-log", "restart"]
    owner = ["runuser", "-u", "postgres", "--"] if os.getuid() == 0 else []
    subprocess.run([*owner, *command], check=True, stdout=subprocess.DEVNULL, cwd="/")


def _kept_in_postgresql(address: str) -> list[uuid.UUID]:
    import psycopg  # noqa: PLC0415 - only here

    with closing(psycopg.connect(address)) as database:
        return [key for (key,) in database.execute("SELECT key FROM site_answerentry")]


def fault_tests(report: Report, *, is_short: bool) -> None:
    """The tests of ``tests/fault``."""
    tests = Path(__file__).parents[1] / "tests" / "fault"
    command = [sys.executable, "-m", "pytest", "-q", "-n", "0", "-p", "no:cacheprovider"]
    chosen = [str(tests / "test_site_backups.py")] if is_short else [str(tests)]
    run = subprocess.run([*command, *chosen], capture_output=True, text=True, check=False)
    last = (run.stdout.strip().splitlines() or ["nothing ran"])[-1]
    report.say("tests of tests/fault", last, held=run.returncode == 0)


def main(*, is_short: bool) -> int:
    report = Report()
    folder = Path(tempfile.mkdtemp(prefix="nearmark-faults-", dir=os.environ.get("BENCH_DIR", ".")))
    parts: list[Callable[[Path], None]] = [
        lambda f: half_sent(report, f, *((2, (20,)) if is_short else (20, (20, 200)))),
        lambda f: torn(report, f, 50 if is_short else 500),
        lambda f: crash_loop(report, f, 3 if is_short else 30),
        lambda f: guesses(report, f, 60 if is_short else 405, 24),
        lambda f: postgresql_restarts(report, f, 2 if is_short else 10),
        lambda f: kills(report, f, 3 if is_short else 200),
    ]
    try:
        for n, part in enumerate(parts):
            (folder / str(n)).mkdir()
            part(folder / str(n))
        fault_tests(report, is_short=is_short)
    finally:
        shutil.rmtree(folder)
    print("all held" if report.is_good else "NOT all held")
    return 0 if report.is_good else 1


if __name__ == "__main__":
    sys.exit(main(is_short="--short" in sys.argv[1:]))
