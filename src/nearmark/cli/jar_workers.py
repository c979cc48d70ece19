"""Who settles the jars of a library: processes on this machine, or a scheduler for many."""

import os
import time
from collections.abc import Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import get_context
from threading import Thread

from nearmark.errors import InputError
from nearmark.packing import Census, PackingRequest, made

Made = tuple[str, bytes, Census]


def in_processes(asked: Mapping[str, PackingRequest], n_workers: int) -> Iterator[Made]:
    """Settle jars in processes of their own, one thread each; the jars do not depend on that.

    ``asked``: PackingRequest by file name. Yields: as each is done.
    """
    pool = ProcessPoolExecutor(n_workers, mp_context=get_context("spawn"), initializer=_begin)
    try:
        jobs = {pool.submit(made, request): name for name, request in asked.items()}
        for job in as_completed(jobs):
            yield jobs[job], *job.result()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _begin() -> None:
    # Before the compiler is loaded, which happens with the first jar.
    os.environ["NUMBA_NUM_THREADS"] = "1"
    Thread(target=_end_with, args=(os.getppid(),), daemon=True).start()


def _end_with(parent: int) -> None:
    """End this process once the one that started it is gone: killed, it can tell nobody."""
    while os.getppid() == parent:
        time.sleep(1.0)
    os._exit(1)


def on_scheduler(asked: Mapping[str, PackingRequest], address: str) -> Iterator[Made]:
    """Settle jars on the workers of a running Dask scheduler, on which nearmark is installed.

    ``asked``: PackingRequest by file name. ``address``: such as ``tcp://10.0.0.5:8786``. Yields: as
    each is done. Raises InputError if the client library is not installed or no scheduler answers.
    """
    try:
        from distributed import Client  # noqa: PLC0415 - optional: only a league needs it
        from distributed import as_completed as done_there  # noqa: PLC0415
    except ImportError as missing:
        raise InputError(
            "needs the optional package distributed",
            where="--scheduler",
            value=address,
            mend="Install nearmark[league], or leave the option out to work on this machine",
        ) from missing
    try:
        client = Client(address, timeout=10)
    except (OSError, ValueError) as problem:
        raise InputError(
            "no scheduler answers there",
            where="--scheduler",
            value=address,
            mend="Give its address like tcp://10.0.0.5:8786 and see that it runs",
        ) from problem
    with client:
        jobs = {client.submit(made, request, pure=False): name for name, request in asked.items()}
        try:
            for job in done_there(jobs):
                yield jobs[job], *job.result()
        finally:
            client.cancel(list(jobs))
