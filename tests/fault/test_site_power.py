"""A power cut: an answer leaves the real server only after the disk has what it tells of."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

N_POSTS = 5
CALLS = "trace=openat,pwrite64,fdatasync,fsync,sendto,write,writev,sendmsg,close"

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(shutil.which("strace") is None, reason="strace is not installed"),
]


class Watch:
    """What the calls say: written to the log of the database and not yet synchronised."""

    def __init__(self, logs: set[str]) -> None:
        self.logs = logs
        self.unsynced = 0
        self.synced = 0
        self.answers: list[tuple[int, int]] = []

    def call(self, line: str) -> None:
        if opened := re.search(r'openat\(.*sqlite3-wal".* = (\d+)', line):
            self.logs.add(opened[1])
        elif written := re.search(r"pwrite64\((\d+),.* = \d+", line):
            self.unsynced += written[1] in self.logs
        elif synced := re.search(r"f(?:data)?sync\((\d+)\) += 0", line):
            if synced[1] in self.logs:
                self.unsynced, self.synced = 0, self.synced + 1
        elif "HTTP/1.1 200" in line and '"' in line:
            self.answers.append((self.unsynced, self.synced))


def opened_logs(pid: int) -> set[str]:
    """Numbers of the files that are the log of the database."""
    files = Path(f"/proc/{pid}/fd").iterdir()
    return {f.name for f in files if str(f.readlink()).endswith("sqlite3-wal")}


def whole_calls(text: str) -> list[str]:
    """Lines of the trace, each where the call ended; an answer where it began."""
    begun: dict[str, str] = {}
    calls = []
    for line in text.splitlines():
        pid, _, call = line.partition(" ")
        if "<unfinished" in call:
            begun[pid] = call
            if "HTTP/1.1 200" in call:
                calls.append(call)
        elif resumed := re.search(r"resumed>(.*)", call):
            start = begun.pop(pid, "")
            if "HTTP/1.1 200" not in start:
                calls.append(start.split("<unfinished")[0] + resumed[1])
        else:
            calls.append(call.strip())
    return calls


def test_the_answer_leaves_after_the_sync_of_what_it_tells_of(site_kill, site, tmp_path):
    trace = tmp_path / "trace"
    (pid,) = site.answering()
    tracer = subprocess.Popen(
        ["strace", "-f", "-s", "64", "-e", CALLS, "-o", str(trace), "-p", str(pid)],
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        assert tracer.stderr is not None
        if "attached" not in tracer.stderr.readline():
            pytest.skip("this process may not be traced")
        told, stop = site_kill.Told(), site_kill.threading.Event()
        watch = Watch(opened_logs(pid))
        site_kill.post_all(site.port, site.readers[1], site.cells[:N_POSTS], told, stop)
    finally:
        # First: a signal may go to another thread than usual while the process is traced.
        tracer.terminate()
        tracer.communicate(timeout=30)

    for call in whole_calls(trace.read_text(errors="replace")):
        watch.call(call)
    assert len(told.acknowledged) == N_POSTS
    assert len(watch.answers) == N_POSTS
    assert [unsynced for unsynced, _ in watch.answers] == [0] * N_POSTS
    # Each entry is synchronised by itself: a sync more before each answer.
    counts = [synced for _, synced in watch.answers]
    assert all(later > earlier for earlier, later in zip([0, *counts], counts, strict=False))
