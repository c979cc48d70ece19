"""What is installed holds the documentation, for the site shows it as its help."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.slow
def test_a_build_holds_every_file_of_the_docs(tmp_path):
    subprocess.run(
        [sys.executable, "setup.py", "-q", "build_py", "--build-lib", tmp_path],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    docs = ROOT / "docs"
    built = tmp_path / "nearmark" / "docs"

    wanted = {file.relative_to(docs) for file in docs.rglob("*") if file.is_file()}
    assert wanted
    assert {file.relative_to(built) for file in built.rglob("*") if file.is_file()} == wanted
