"""How sure the places are: drawn once for each state of the results, beside the pages that show it.

Drawing takes seconds for a big field.  A page asks, shows what there is, and asks again; only one
state is drawn at a time, and the newest that was asked for comes next, so that many views of a
changing event cost no more than one.
"""

import logging
import threading
from dataclasses import dataclass
from typing import Final

from nearmark.contest.rank_confidence import RankConfidence, rank_confidence
from nearmark.contest.results import Results
from nearmark.errors import NearmarkError

N_DRAWS: Final = 10_000
SHORT_WAIT_S: Final = 0.15
"""A small field is done by then, and its page need not ask twice."""


@dataclass(frozen=True, slots=True)
class ConfidenceStatus:
    """What can be said now."""

    confidence: RankConfidence | None  # ``None`` while it is worked out, and where nobody is placed
    is_pending: bool  # whether it is being worked out


class _Drawing:
    """One state of the results, and what came of it."""

    def __init__(self, outcome: Results) -> None:
        self.outcome = outcome
        self.is_done = threading.Event()
        self.confidence: RankConfidence | None = None

    def work(self) -> None:
        try:
            self.confidence = drawn(self.outcome)
        except NearmarkError:
            pass  # nobody is placed yet
        except Exception:
            logging.getLogger(__name__).exception("rank confidence")
        finally:
            self.is_done.set()


class ConfidenceCache:
    """Draws one state after the other, the newest wish first; keeps the last that was drawn."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._now: _Drawing | None = None
        self._next: _Drawing | None = None

    def ask(self, outcome: Results, *, wait_s: float = SHORT_WAIT_S) -> ConfidenceStatus:
        """What is known of the places of just these results, after waiting so long for it (s)."""
        drawing = self._drawing_of(outcome)
        if drawing.is_done.wait(wait_s):
            return ConfidenceStatus(drawing.confidence, is_pending=False)
        return ConfidenceStatus(None, is_pending=True)

    def _drawing_of(self, outcome: Results) -> _Drawing:
        with self._lock:
            for drawing in (self._now, self._next):
                if drawing is not None and _is_same(drawing.outcome, outcome):
                    return drawing
            drawing = _Drawing(outcome)
            if self._now is None or self._now.is_done.is_set():
                self._begin(drawing)
            else:
                self._next = drawing
            return drawing

    def _begin(self, drawing: _Drawing) -> None:
        self._now, self._next = drawing, None
        threading.Thread(
            target=self._work, args=(drawing,), name="rank confidence", daemon=True
        ).start()

    def _work(self, drawing: _Drawing) -> None:
        drawing.work()
        with self._lock:
            if self._next is not None:
                self._begin(self._next)


def _is_same(one: Results, other: Results) -> bool:
    # A pair checked in makes a new revision and the same results.
    return one is other or one == other


def drawn(outcome: Results) -> RankConfidence:
    """The confidence that the site shows and prints, drawn now; InputError if nobody is placed."""
    return rank_confidence(outcome, n_draws=N_DRAWS, seed=outcome.event.seed)


CONFIDENCE: Final = ConfidenceCache()
