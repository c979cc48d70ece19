"""Many simulated days beside the page: one plan after the other, in a thread of its own.

A page shows a first answer from few days at once.  The rest takes seconds: the page asks again
until it is there.  A plan that nobody asks for any more is given up when another one waits.
"""

import logging
import threading
import time
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from nearmark.contest.day_flow.changes import Change, worth_of_changes
from nearmark.contest.day_flow.options import DayOptions
from nearmark.contest.day_flow.summary import DayBands, day_bands

N_FIRST: Final = 40
"""Days of the first answer, of 80 pairs; fewer of more pairs, so that it is there in a second."""

_MIN_FIRST: Final = 10

N_ALL: Final = 400

MAX_KEPT: Final = 8

STALE_S: Final = 4.0
"""A page asks every second; a plan not asked for that long is no longer wanted."""

DAYS_SHARE: Final = 0.5
"""Part of the progress that the days take; the rest is the search over changes."""


@dataclass(frozen=True, slots=True)
class RunStatus:
    """What is known of a plan now."""

    bands: DayBands
    changes: tuple[Change, ...] | None  # ``None`` while they are tried
    share_done: float  # of all the work, 0 to 1
    is_pending: bool


class _GivenUpError(Exception):
    """Nobody asks for this plan any more."""


class _Run:
    """One plan, and what came of it so far."""

    def __init__(self, options: DayOptions) -> None:
        self.options = options
        self.asked_at = time.monotonic()
        self.bands: DayBands | None = None
        self.changes: tuple[Change, ...] | None = None
        self.share_done = 0.0
        self.is_over = False


@lru_cache(maxsize=32)
def first_answer(options: DayOptions) -> DayBands:
    """Bands over few days."""
    n_days = max(_MIN_FIRST, min(N_FIRST, N_FIRST * 80 // options.pairs))
    return day_bands(options.planned(), n_days=n_days)


class DayRuns:
    """Plays one plan after the other; keeps the last ones."""

    def __init__(self, n_days: int = N_ALL) -> None:
        self.n_days = n_days
        self._lock = threading.Lock()
        self._kept: dict[DayOptions, _Run] = {}
        self._now: _Run | None = None
        self._next: _Run | None = None

    def ask(self, options: DayOptions) -> RunStatus:
        """What is known of a plan; what is not known yet is begun."""
        first = first_answer(options)
        run = self._run_of(options)
        return RunStatus(run.bands or first, run.changes, run.share_done, not run.is_over)

    def _run_of(self, options: DayOptions) -> _Run:
        with self._lock:
            waiting = (each for each in (self._now, self._next) if each is not None)
            run = self._kept.get(options) or next(
                (each for each in waiting if each.options == options), None
            )
            if run is None:
                run = _Run(options)
                if self._now is None:
                    self._begin(run)
                else:
                    self._next = run
            run.asked_at = time.monotonic()
            return run

    def _begin(self, run: _Run) -> None:
        self._now, self._next = run, None
        threading.Thread(target=self._work, args=(run,), name="day plan", daemon=True).start()

    def _work(self, run: _Run) -> None:
        try:
            self._play(run)
        except _GivenUpError:
            pass  # it begins again when somebody asks again
        except Exception:
            logging.getLogger(__name__).exception("day plan")
            run.is_over = True  # the first answer stays; asked again, it would break again
        with self._lock:
            if run.is_over:
                self._kept[run.options] = run
                while len(self._kept) > MAX_KEPT:
                    del self._kept[next(iter(self._kept))]
            self._now = None
            if self._next is not None:
                self._begin(self._next)

    def _play(self, run: _Run) -> None:
        rooms = run.options.planned()

        def days_done(share: float) -> None:
            self._step(run, DAYS_SHARE * share)

        def changes_done(share: float) -> None:
            self._step(run, DAYS_SHARE + (1 - DAYS_SHARE) * share)

        run.bands = day_bands(rooms, n_days=self.n_days, progress=days_done)
        run.changes = worth_of_changes(rooms, progress=changes_done)
        run.is_over = True

    def _step(self, run: _Run, share: float) -> None:
        run.share_done = share
        if self._next is not None and time.monotonic() - run.asked_at > STALE_S:
            raise _GivenUpError


RUNS: Final = DayRuns()
