"""Progress for anything over a second, on a terminal only."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Timer

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

from nearmark.contest import RankConfidence, Results, rank_confidence


def progress_bar(*, quiet: bool = False) -> Progress:
    """A progress bar on standard error that leaves no trace; silent when nobody watches.

    ``quiet``: show nothing at all.
    """
    return Progress(
        TextColumn("{task.description}"),
        BarColumn(),
        TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
        disable=quiet or not sys.stderr.isatty(),
    )


COMPILING = "Compiling the packing code, once on this computer: about half a minute."
FIRST_WAIT_S = 3.0
"""Compiled code begins sooner."""


@contextmanager
def compiling_said(bar: Progress) -> Iterator[Callable[[], None]]:
    """Say on standard error that code is compiled, if the work does not begin at once.

    Call what it gives when the work has begun.
    """
    timer = Timer(FIRST_WAIT_S, lambda: bar.console.print(COMPILING))
    timer.daemon = True
    timer.start()
    try:
        yield timer.cancel
    finally:
        timer.cancel()


def draws_with_progress(outcome: Results, n_draws: int, *, quiet: bool = False) -> RankConfidence:
    """Rank confidence of an event, seeded by the event itself."""
    with progress_bar(quiet=quiet) as bar:
        task = bar.add_task("Drawing the keys", total=n_draws)
        return rank_confidence(
            outcome,
            n_draws=n_draws,
            seed=outcome.event.seed,
            progress=lambda done: bar.update(task, completed=done),
        )
