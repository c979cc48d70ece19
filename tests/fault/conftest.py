"""The real server as ``benchmarks/site_kill.py`` starts it, for the tests that hurt it."""

import importlib.util
import shutil
import sys
from pathlib import Path

import pytest

BENCHMARK = Path(__file__).parents[2] / "benchmarks" / "site_kill.py"


@pytest.fixture(scope="session")
def site_kill():
    spec = importlib.util.spec_from_file_location("site_kill", BENCHMARK)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["site_kill"] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def fill(site_kill, tmp_path_factory):
    """Fill a folder with the event, made once, and give its sessions and cells.

    To make it is to run every migration, which is most of the first start of a server.
    """
    made = tmp_path_factory.mktemp("filled") / "data"
    sessions, cells = site_kill.fill_anew(made)

    def copy(data: Path):
        shutil.copytree(made, data)
        return sessions, cells

    return copy


@pytest.fixture(scope="session")
def site(site_kill, fill, tmp_path_factory):
    """A server that runs on from test to test, as it has to; each posts as another reader."""
    running = site_kill.Site(tmp_path_factory.mktemp("site") / "data", site_kill.free_port())
    running.readers, running.cells = fill(running.data)
    running.start()
    yield running
    running.stop()
