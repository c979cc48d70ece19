"""Which files are looked through for examples."""

from collections.abc import Generator
from pathlib import Path

import pytest

Collected = list[pytest.Collector]


@pytest.hookimpl(wrapper=True)
def pytest_collect_file(file_path: Path) -> Generator[None, Collected, Collected]:
    """Only those that have one: to import and search all the others is a third of collecting."""
    found = yield
    if file_path.suffix != ".py" or ">>>" in file_path.read_text(encoding="utf-8"):
        return found
    return [each for each in found if type(each) is pytest.Module]
