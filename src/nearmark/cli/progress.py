"""Progress for anything over a second, on a terminal only."""

import sys

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
