"""The figures of one simulated day: waiting, work left undone, helpers, cups and kilograms."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

import numpy as np

from nearmark.contest.day_flow.day import RoomDay
from nearmark.contest.day_flow.draws import Draws, Floats
from nearmark.contest.day_flow.walk import PLACE, SCALE, Walk

Figure = TypeVar("Figure")


@dataclass(frozen=True, slots=True)
class DayFigures(Generic[Figure]):
    """Figures of a day in all its rooms: numbers of one simulated day, or bands over many."""

    # Min, mean of the pairs.
    scoop_wait_min: Figure
    scale_wait_min: Figure
    stop_wait_min: Figure
    wait_min: Figure  # of all three together
    worst_wait_min: Figure  # of the pair that is worse off than 95 of 100 (min)
    # How much longer those wait who hand in their cup in the last third of their heat than those of
    # the first third (min).
    unfair_min: Figure
    unfinished: Figure  # share of all free items that pairs did not come to, 0 to 1
    late_pairs: Figure  # share of the pairs that did not finish everything, 0 to 1
    late_start_min: Figure  # by which the heat that starts latest starts after its plan (min)
    scale_queue: Figure  # pairs, the longest queue of a room
    scale_busy: Figure  # share of the time from the first start to the last pair, 0 to 1
    helper_busy: Figure  # the same of the helpers at the scales, weighing or putting away
    cups: Figure  # that are needed: out at one time where they are used again, else one a pair
    scooped_kg: Figure  # all scoops together (kg)
    out_kg: Figure  # most that is out of the buckets at one time (kg)
    place_kg: Figure  # most that is out of the bucket of one place at one time (kg)
    end_min: Figure  # min after the first start, when the last pair leaves


@dataclass(frozen=True, slots=True)
class Played:
    """One room of one simulated day: the plan, what was drawn, what came of it."""

    plan: RoomDay
    draws: Draws
    walk: Walk


def figures_of(rooms: Sequence[Played]) -> DayFigures[float]:
    """Figures of one simulated day.

    >>> from nearmark.contest.day_flow.day import Day, equal_heats
    >>> from nearmark.contest.day_flow.room import RoomPlan
    >>> from nearmark.contest.day_flow.summary import days_played
    >>> plan = RoomDay(RoomPlan(()), Day(equal_heats(24), 30))
    >>> round(figures_of(days_played([plan], n_days=1)[0]).end_min)
    49
    """
    walks = [each.walk for each in rooms]
    wait = np.concatenate([walk.wait_min for walk in walks])
    done = np.concatenate([walk.is_done.ravel() for walk in walks])
    ready = np.concatenate([walk.is_done.all(axis=1) for walk in walks])
    masses = [_masses_kg(each) for each in rooms]
    return DayFigures(
        scoop_wait_min=_mean([walk.scoop_wait_min for walk in walks]),
        scale_wait_min=_mean([walk.scale_wait_min for walk in walks]),
        stop_wait_min=_mean([walk.stop_wait_min for walk in walks]),
        wait_min=float(wait.mean()),
        worst_wait_min=float(np.quantile(wait, 0.95)),
        unfair_min=_mean([_unfair_min(each) for each in rooms]),
        unfinished=float(1 - done.mean()) if done.size else 0.0,
        late_pairs=float(1 - ready.mean()),
        late_start_min=max(_late_start_min(each) for each in rooms),
        scale_queue=max(most_at_once(w.asked_min[:, SCALE], w.began_min[:, SCALE]) for w in walks),
        scale_busy=_busy(
            [w.ended_min[:, SCALE] - w.began_min[:, SCALE] for w in walks],
            [each.plan.room.scales for each in rooms],
            walks,
        ),
        helper_busy=_busy(
            [w.put_back_min - w.began_min[:, SCALE] for w in walks],
            [each.plan.room.helpers for each in rooms],
            walks,
        ),
        cups=sum(_cups(each) for each in rooms),
        scooped_kg=sum(float(each.draws.scoop_g.sum()) for each in rooms) / 1000,
        out_kg=sum(out for out, _ in masses),
        place_kg=max(place for _, place in masses),
        end_min=max(float(walk.left_min.max()) for walk in walks),
    )


def most_at_once(begin: Floats, end: Floats, weights: Floats | float = 1.0) -> float:
    """The most there is at one time of things that are there from ``begin`` to ``end``.

    >>> most_at_once(np.array([0.0, 1.0, 2.0]), np.array([2.0, 3.0, 4.0]))
    2.0

    Parameters
    ----------
    begin, end : shape (n,), in one unit; what ends when another begins is gone before
    weights : shape (n,), or one for all
    """
    added = np.broadcast_to(weights, begin.shape)
    times, changes = np.concatenate([begin, end]), np.concatenate([added, -added])
    return float(max(np.cumsum(changes[np.lexsort((changes, times))]).max(), 0.0))


def wait_by_order(each: Played) -> Floats:
    """Minutes lost by who hands in the cup first, second ... of a heat: mean over the heats.

    In min, shape (pairs of the largest heat,).

    >>> from nearmark.contest.day_flow.day import Day
    >>> from nearmark.contest.day_flow.room import RoomPlan
    >>> from nearmark.contest.day_flow.summary import days_played
    >>> (day,) = days_played([RoomDay(RoomPlan(()), Day((3, 2)))], n_days=1)
    >>> wait_by_order(day[0]).shape
    (3,)
    """
    rows = [wait[order] for wait, order in _heats_in_order(each)]
    padded = np.full((len(rows), max(each.plan.day.heats)), np.nan)
    for row, found in zip(padded, rows, strict=True):
        row[: len(found)] = found
    return np.asarray(np.nanmean(padded, axis=0))


def _heats_in_order(each: Played) -> list[tuple[Floats, list[int]]]:
    """Waits of each heat, and its pairs in the order in which they hand in their cups."""
    wait, handed_in = each.walk.wait_min, each.walk.asked_min[:, SCALE]
    found, first = [], 0
    for n in each.plan.day.heats:
        own = slice(first, first + n)
        found.append((wait[own], np.argsort(handed_in[own], kind="stable").tolist()))
        first += n
    return found


def _unfair_min(each: Played) -> Floats:
    """Of each heat of more than two pairs; one zero without any."""
    found = []
    for wait, order in _heats_in_order(each):
        third = len(order) // 3
        if third:
            found.append(wait[order[-third:]].mean() - wait[order[:third]].mean())
    return np.array(found or [0.0])


def _late_start_min(each: Played) -> float:
    return float((each.walk.started_min - np.array(each.plan.day.starts_min())).max())


def _busy(times: list[Floats], servers: list[int], walks: list[Walk]) -> float:
    hours = [n * max(float(w.left_min.max()), 1e-9) for n, w in zip(servers, walks, strict=True)]
    return min(sum(float(each.sum()) for each in times) / sum(hours), 1.0)


def _cups(each: Played) -> float:
    if not each.plan.room.is_returned:
        return float(each.plan.day.n_pairs)
    return most_at_once(each.walk.began_min[:, PLACE], each.walk.put_back_min)


def _masses_kg(each: Played) -> tuple[float, float]:
    """Most that is out of all buckets of a room, and of one bucket.

    Pairs of a heat are dealt to the places in turn.
    """
    room, walk, scoops = each.plan.room, each.walk, each.draws.scoop_g / 1000
    gone = walk.put_back_min if room.is_returned else np.full(len(scoops), np.inf)
    places = np.concatenate([np.arange(n) % room.places for n in each.plan.day.heats])
    begin = walk.began_min[:, PLACE]
    by_place = [places == p for p in range(min(room.places, max(each.plan.day.heats)))]
    return (
        most_at_once(begin, gone, scoops),
        max(most_at_once(begin[own], gone[own], scoops[own]) for own in by_place),
    )


def _mean(values: list[Floats]) -> float:
    return float(np.concatenate(values).mean())
