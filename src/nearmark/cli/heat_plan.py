"""The plan of ``nearmark heats``: what is asked for, the program, and why nothing fits."""

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from nearmark.cli.progress import progress_bar
from nearmark.contest import Event, Heat, scheduled
from nearmark.contest.event import Room
from nearmark.contest.heat_program import (
    HeatFrame,
    HeatPlan,
    Level,
    NoFit,
    NotKept,
    Place,
    make_field,
    not_kept,
    plan_heats,
    preview_heats,
)
from nearmark.errors import RuleError
from nearmark.words.heat_plans import no_fit_words


@dataclass(frozen=True, slots=True)
class Planned:
    """The heats, and what is known of them."""

    heats: tuple[Heat, ...]
    levels: tuple[Level, ...] = ()  # empty: made at once
    breaks: tuple[NotKept, ...] = ()  # what a plan made at once does not keep


def rooms_of(event: Event, places: int) -> tuple[Room, ...]:
    """The rooms of an event; one without a name where it has none."""
    return event.rooms or (Room("", places),)


def places_now(event: Event) -> dict[str, Place]:
    """Heat and room of every pair that has a heat."""
    rooms = {pair.code: pair.room for pair in event.pairs}
    return {code: (heat, rooms[code]) for code, heat in scheduled(event.pairs).items()}


def planned_at_once(event: Event, frame: HeatFrame, kept: dict[str, Place]) -> Planned:
    """School by school, without a look at the wishes; those it does not keep are named."""
    heats = preview_heats(event.pairs, frame, kept=kept)
    field = make_field(event.pairs, event.heat_wishes, kept=kept, before={})
    return Planned(heats, breaks=not_kept(heats, field, frame))


def planned_well(
    event: Event,
    frame: HeatFrame,
    *,
    kept: dict[str, Place],
    before: dict[str, Place],
    time_limit_s: float,
    quiet: bool,
) -> Planned:
    """The best plan found in the time; RuleError with the least changes where nothing fits."""
    with progress_bar(quiet=quiet) as bar, _silent_solver():
        task = bar.add_task("Planning the heats", total=None)
        found = plan_heats(
            event.pairs,
            frame,
            wishes=event.heat_wishes,
            kept=kept,
            before=before,
            time_limit_s=time_limit_s,
            now=time.monotonic,
            tell=lambda done, n: bar.update(task, completed=done, total=n),
        )
    if isinstance(found, NoFit):
        raise no_fit_error(found)
    return _as_planned(found)


def _as_planned(found: HeatPlan) -> Planned:
    return Planned(found.heats, found.levels)


def no_fit_error(found: NoFit) -> RuleError:
    """The refusal: who has no place, and each change that alone would fit."""
    what, *changes = no_fit_words(found) or ("no plan keeps every wish",)
    return RuleError(what.rstrip("."), where="heats", mend=" ".join(changes))


@contextmanager
def _silent_solver() -> Iterator[None]:
    """Keep off standard output what the solver's own code prints there now and then."""
    try:
        out = sys.stdout.fileno()
    except (OSError, ValueError):  # no file behind it: the solver cannot reach it
        yield
        return
    sys.stdout.flush()
    kept = os.dup(out)
    with open(os.devnull, "wb") as nowhere:  # noqa: PTH123 - a device, not a path
        os.dup2(nowhere.fileno(), out)
        try:
            yield
        finally:
            os.dup2(kept, out)
            os.close(kept)
