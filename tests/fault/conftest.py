"""The real server as ``benchmarks/site_kill.py`` starts it, for the tests that hurt it."""

import importlib.util
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
