"""What the log of a club says, worked out once for each state of it.

A club's belief is learnt from all of its pupils at once, station by station; after a round only
the stratum practised has to be read again.
"""

import threading
from collections import Counter, OrderedDict, defaultdict
from collections.abc import Callable, Hashable, Iterable, Mapping
from functools import partial
from typing import Any, Final, TypeVar

from django.db.models import Count, Max

from nearmark.coaching import Attempt, Progress, PupilHabit, attempts_in, progress_of, read_club
from nearmark.site.event.load import current_event
from nearmark.site.season.attempt_columns import attempts_of
from nearmark.site.season.models import Club
from nearmark.station import Station

MAX_KEPT: Final = 60
"""Readings that stay in memory."""

Stratum = tuple[Station, str]
Habits = Mapping[str, tuple[PupilHabit, ...]]

Reading = TypeVar("Reading")

_KEPT: OrderedDict[Hashable, Any] = OrderedDict()
"""Readings by what they were read from: a whole log's state, or the attempts of one stratum."""

_LOCK = threading.Lock()


def habits_of(club: Club) -> Habits:
    """How every pupil of a club reads, by name; without pupils who have no attempt."""
    return _kept(_state(club), lambda: _read(attempts_of(club)))


def progress_of_club(club: Club) -> tuple[Progress, ...]:
    """First month against last, all pupils of a club together."""

    def make() -> tuple[Progress, ...]:
        return progress_of({name: attempts_in(own) for name, own in habits_of(club).items()})

    return _kept(("progress", _state(club)), make)


def _state(club: Club) -> Hashable:
    """What changes whenever the log does: attempts are added and struck out, pupils renamed."""
    return (
        club.pk,
        club.made_at,
        *club.pupils.order_by("pk").values_list("pk", "name"),
        *club.attempts.aggregate(
            Count("pk"), Max("pk"), Max("at"), Count("struck_at"), Max("struck_at")
        ).values(),
    )


def _read(log: Iterable[Attempt]) -> Habits:
    strata: dict[Stratum, list[Attempt]] = defaultdict(list)
    for attempt in log:
        strata[attempt.stratum].append(attempt)
    found: dict[str, tuple[PupilHabit, ...]] = {}
    for stratum in sorted(strata):
        own = tuple(strata[stratum])
        for pupil, habits in _kept(own, partial(read_club, own)).items():
            found[pupil] = (*found.get(pupil, ()), *habits)
    return found


def _kept(key: Hashable, make: Callable[[], Reading]) -> Reading:
    with _LOCK:
        if key in _KEPT:
            _KEPT.move_to_end(key)
            kept: Reading = _KEPT[key]
            return kept
    found = make()
    with _LOCK:
        _KEPT[key] = found
        while len(_KEPT) > MAX_KEPT:
            _KEPT.popitem(last=False)
    return found


def forget_readings() -> None:
    """Forget all that was worked out: a pupil's name must not stay in memory."""
    with _LOCK:
        _KEPT.clear()


def contest_items() -> dict[Station, float]:
    """Items of the contest at each station; empty while there is no event."""
    event = current_event()
    if event is None:
        return {}
    return {
        Station(station): float(n)
        for station, n in Counter(event.items.values_list("station", flat=True)).items()
    }
