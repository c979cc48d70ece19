"""A disk without room, under the real server: refused in words, nothing lost, on it goes after."""

import http.client
import json
import resource
import sqlite3
import subprocess
import sys
import urllib.parse
import uuid
from contextlib import closing
from pathlib import Path

import pytest

NO_LIMIT = (resource.RLIM_INFINITY, resource.RLIM_INFINITY)
MAX_POSTS = 400

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not hasattr(resource, "prlimit"), reason="needs limits of another process"),
]


class EventSnapshot:
    """One scorer at the running server."""

    def __init__(self, site, who: tuple[str, str], cells: list[str]) -> None:
        self.site, self.who, self.cells = site, who, iter(cells)
        self.before: set[str] = set()
        self.before = self.kept()

    def ask(self, method: str, address: str, body: str = "", accept: str = "application/json"):
        headers = {
            "Cookie": f"sessionid={self.who[0]}; csrftoken={'a' * 32}",
            "Accept": accept,
            "Content-Type": "application/x-www-form-urlencoded",
        }
        with closing(http.client.HTTPConnection("127.0.0.1", self.site.port, timeout=60)) as link:
            link.request(method, address, body or None, headers)
            answer = link.getresponse()
            return answer.status, answer.read().decode()

    def entry(self) -> tuple[str, str, str]:
        cell, key = next(self.cells), uuid.uuid4().hex
        form = {f"v-{cell}": "2870", f"k-{cell}": key, "reader": self.who[1]}
        return cell, key, urllib.parse.urlencode(form | {"csrfmiddlewaretoken": "a" * 32})

    def kept(self) -> set[str]:
        """What was kept since this one sat down."""
        file = self.site.data / "nearmark.sqlite3"
        with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True, timeout=20)) as database:
            rows = database.execute("SELECT key FROM site_answerentry").fetchall()
        return {key for (key,) in rows} - self.before


@pytest.fixture
def desk(site):
    yield EventSnapshot(site, site.readers[2], site.cells)
    for pid in site.answering():
        resource.prlimit(pid, resource.RLIMIT_FSIZE, NO_LIMIT)


def test_a_full_disk_is_said_plainly_and_the_entry_goes_in_when_there_is_room(desk):
    (pid,) = desk.site.answering()
    largest = max(file.stat().st_size for file in desk.site.data.iterdir())
    resource.prlimit(pid, resource.RLIMIT_FSIZE, (largest + 50_000, resource.RLIM_INFINITY))
    saved = set()
    for _ in range(MAX_POSTS):
        cell, key, body = desk.entry()
        status, said = desk.ask("POST", "/entry/save/", body)
        if status != 200:
            break
        saved.add(key)

    assert saved, "there was room for some"
    assert status == 503
    told = json.loads(said)
    assert "othing was saved" in told["what"]
    assert "disk" in told["mend"]
    assert desk.kept() == saved

    # As a form without script, and for everybody who only looks.
    status, page = desk.ask("POST", "/entry/save/", body, accept="text/html")
    assert (status, "othing was saved" in page) == (503, True)
    for address in ("/entry/", "/results/", "/clock/"):
        status, page = desk.ask("GET", address, accept="text/html")
        assert status < 500, address
        assert "Traceback" not in page

    resource.prlimit(pid, resource.RLIMIT_FSIZE, NO_LIMIT)
    status, said = desk.ask("POST", "/entry/save/", body)
    assert (status, json.loads(said)["saved"]) == (200, [cell])
    assert desk.kept() == saved | {key}
    with closing(sqlite3.connect(desk.site.data / "nearmark.sqlite3")) as database:
        assert database.execute("PRAGMA integrity_check").fetchone()[0] == "ok"


def limited() -> None:
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))


def serve(site_kill, data: Path, **more) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "nearmark.cli", "serve", "--local", "--data", str(data)]
    command += ["--port", str(site_kill.free_port())]
    environment = site_kill.environment()
    return subprocess.run(
        command, check=False, env=environment, capture_output=True, text=True, timeout=100, **more
    )


def test_a_start_without_room_is_refused_in_words(site_kill, tmp_path):
    said = serve(site_kill, tmp_path / "data", preexec_fn=limited)

    assert said.returncode == 2, said.stderr
    assert "cannot be" in said.stderr
    assert "Traceback" not in said.stderr


def test_a_database_that_is_none_is_refused_with_the_way_back(site_kill, tmp_path):
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "nearmark.sqlite3").write_bytes(b"SQLite format 3\x00" + b"\xff" * 9000)

    said = serve(site_kill, tmp_path / "data")

    assert said.returncode == 2, said.stderr
    assert "nearmark restore" in said.stderr
    assert "Traceback" not in said.stderr


def test_a_file_in_the_place_of_the_folder_is_refused(site_kill, tmp_path):
    (tmp_path / "data").write_text("a note")

    said = serve(site_kill, tmp_path / "data")

    assert said.returncode == 2, said.stderr
    assert "Traceback" not in said.stderr
    assert (tmp_path / "data").read_text() == "a note"
