import subprocess
import sys
import time

import pytest

from nearmark.cli.main import main
from nearmark.kit import BANDS, random_pour
from nearmark.packing import LibraryPlan, library_request, made

COUNT, SEED = 3, 23
WORDS = ["jars", "make", "--count", str(COUNT), "--shape", "sphere", "--seed", str(SEED)]
PATIENCE_S = 120


def test_a_library_killed_in_the_middle_goes_on_and_gives_the_same_files(tmp_path):
    out = tmp_path / "jars"
    command = [sys.executable, "-m", "nearmark.cli", *WORDS, "--workers", "1", "--out", str(out)]
    running = subprocess.Popen(command, stderr=subprocess.DEVNULL)
    try:
        end = time.monotonic() + PATIENCE_S
        while not (out / "jar-001.jar").exists() and time.monotonic() < end:
            time.sleep(0.02)
    finally:
        running.kill()
        running.wait()
    assert not (out / "jar-003.jar").exists()

    main([*WORDS, "--workers", "1", "--out", str(out)])

    plan = LibraryPlan(COUNT, ("sphere",), SEED)
    for k in range(COUNT):
        request = library_request(plan, k, lambda rng: random_pour(BANDS["small"], rng))
        assert (out / f"jar-00{k + 1}.jar").read_bytes() == made(request)[0]


@pytest.mark.filterwarnings("ignore")  # of the scheduler's own libraries
def test_a_real_scheduler_makes_the_same_jars(tmp_path):
    distributed = pytest.importorskip("distributed", reason="distributed is not installed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, host="127.0.0.1"
    ) as cluster:
        main([*WORDS, "--scheduler", cluster.scheduler_address, "--out", str(tmp_path)])

    plan = LibraryPlan(COUNT, ("sphere",), SEED)
    request = library_request(plan, 1, lambda rng: random_pour(BANDS["small"], rng))
    assert (tmp_path / "jar-002.jar").read_bytes() == made(request)[0]
    assert (tmp_path / "jars-key.csv").read_text().count("\n") == COUNT + 1
