"""What ``./dev quick`` chooses to run."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.slow
def test_the_quick_tests_drive_no_browser_and_inject_no_failure():
    """The marks of those folders are set before ``-m`` chooses."""
    choice = re.findall(r'exec pytest .* -m "([^"]+)"', (ROOT / "dev").read_text("utf-8"))
    assert len(choice) == 1
    words = ["--collect-only", "-q", "-m", choice[0], "tests/browser", "tests/fault"]
    ended = subprocess.run(
        [sys.executable, "-m", "pytest", *words],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert ended.returncode == pytest.ExitCode.NO_TESTS_COLLECTED, ended.stdout + ended.stderr
    left_out = re.search(r"no tests collected \((\d+) deselected\)", ended.stdout)
    assert left_out
    assert int(left_out[1]) > 100
