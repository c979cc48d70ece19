"""The real server, killed while 40 clients post; ``benchmarks/site_kill.py`` does it more often."""

import os
import signal
import sys
import time
from pathlib import Path

import pytest

N_KILLS = 3
"""Of what answers, of what started it, of both."""

SEED = 20270508

NEVER_READY = """
import signal
import sys

class Never:
    def find_spec(self, name, path=None, target=None):
        if name == "nearmark.site.server.front":
            signal.pause()

sys.meta_path.insert(0, Never())
"""
"""What the answering process imports last of all does not come."""

pytestmark = pytest.mark.slow


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="finds processes by /proc")
def test_what_was_acknowledged_is_there_once_after_every_kill(site_kill, fill, tmp_path):
    outcome = site_kill.killed(tmp_path, N_KILLS, SEED, fill)

    print(outcome)
    assert outcome.lost == set()
    assert outcome.doubled == 0
    assert outcome.unknown == set()
    assert outcome.refused == []
    assert outcome.integrity == "ok"
    # It would pass if nothing had happened, too.
    assert outcome.acknowledged > site_kill.N_CLIENTS
    assert outcome.replayed > 0


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="finds processes by /proc")
def test_no_process_is_left_when_the_first_one_is_killed(site_kill, fill, tmp_path):
    site = site_kill.Site(tmp_path / "data", site_kill.free_port())
    fill(site.data)
    site.start()
    (answering,) = site.answering()

    site.process.kill()
    site.process.wait()

    assert ends(answering)


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="finds processes by /proc")
def test_a_process_that_is_still_starting_ends_too(site_kill, fill, tmp_path, monkeypatch):
    """It would hold the folder for as long as it starts, and the next start would give up."""
    (tmp_path / "sitecustomize.py").write_text(NEVER_READY)
    path = f"{tmp_path}{os.pathsep}{os.environ.get('PYTHONPATH', '')}"
    monkeypatch.setitem(site_kill.MORE, "PYTHONPATH", path)
    site = site_kill.Site(tmp_path / "data", site_kill.free_port())
    fill(site.data)
    site.begin()
    while not site.answering():
        time.sleep(0.05)
    (starting,) = site.answering()

    site.process.kill()
    site.process.wait()

    assert ends(starting)


def ends(pid: int) -> bool:
    """Whether a process ends within a time that is long for any machine."""
    until = time.monotonic() + 20
    while is_running(pid) and time.monotonic() < until:
        time.sleep(0.05)
    return not is_running(pid)


def is_running(pid: int) -> bool:
    try:
        os.kill(pid, signal.SIG_DFL)
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except (ProcessLookupError, FileNotFoundError):
        return False
    return state != "Z"


def test_a_second_server_on_the_folder_is_refused_in_words(site_kill, site):
    command = [sys.executable, "-m", "nearmark.cli", "serve", "--local"]
    command += ["--data", str(site.data), "--port", str(site_kill.free_port())]
    said = site_kill.subprocess.run(
        command,
        env=site_kill.environment(),
        capture_output=True,
        text=True,
        timeout=100,
    )

    assert said.returncode == 2
    assert "in use by a running Nearmark" in said.stderr
    assert "Traceback" not in said.stderr
    assert site.answers()
