"""What would make a box surer: each act worked out as if it were done, and what a ruler can reach.

Only acts that help are named, the best first: reading a box again on the same ruler does not touch
the ruler's gain, a finer ruler does not either.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from nearmark.kit.box_budget import BoxOptions, Side, box_budget
from nearmark.kit.key_advice import ActBrings, KeyAdvice, NoActReaches, OnlyTogether, RulerOutlook
from nearmark.kit.reading_rows import gain_act, zero_act
from nearmark.measurement.acts import Act, ActKind
from nearmark.measurement.coverage import LEVEL_95, coverage_factor
from nearmark.measurement.instruments import Instrument

CALIPERS_CM: Final = 0.01
STEPS_CM: Final = (0.05, 0.02, 0.01, 0.005, 0.002, 0.001)
"""What rulers read between their marks, calipers and micrometers show."""

WORTHWHILE: Final = 0.05
"""An act that lowers U by less than this share is not worth a walk (common practice, no source)."""

MORE_READINGS: Final = 2
MAX_EDGE_CM: Final = 50


def box_advice(sides: Sequence[Side], options: BoxOptions) -> tuple[KeyAdvice, ...]:
    """What to do about a box that is not fit; never empty.

    >>> from nearmark.kit.box_budget import box_sides
    >>> from nearmark.measurement.instruments import Reading
    >>> ruler = Instrument("ruler", "cm", 0.1)
    >>> named = [(name, Reading((6.0,) * 3, ruler)) for name in ("length", "width", "height")]
    >>> [one.act.kind.value for one in box_advice(box_sides(named, BoxOptions()), BoxOptions())]
    ['replace the ruler by calipers']
    """
    now, limit = box_budget(sides, options).relative_expanded_uncertainty, options.u_limit
    done = [
        ActBrings(act, now, box_budget(*changed).relative_expanded_uncertainty)
        for act, changed in _changes(sides, options)
    ]
    helpful = [act for act in done if act.then < (1 - WORTHWHILE) * now]
    advice = sorted(helpful, key=lambda act: act.then)
    if advice and advice[0].then <= limit:
        return tuple(advice)
    if len(advice) > 1 and _all_done(sides, options) <= limit:
        return (*advice, OnlyTogether(limit))
    return (*advice, NoActReaches(limit, bool(advice)))


def ruler_outlook(
    read_cm: Sequence[float], ruler: Instrument, u_limit: float
) -> RulerOutlook | None:
    """What a ruler cannot do for a box, from the edges read so far; ``None`` when it can do it.

    Readings that agree hide their rounding, whatever their number: the resolution stays in U.

    >>> ruler = Instrument("steel ruler", "cm", 0.1)
    >>> outlook = ruler_outlook([5.8, 5.8, 6.0], ruler, 0.01)
    >>> outlook.is_likely_only, [act.step_cm for way in outlook.ways for act in way]
    (False, [0.05])
    >>> ruler_outlook([15.8], ruler, 0.01) is None
    True

    Parameters
    ----------
    read_cm : cm, shape (n,), 1 to 3
        The edges read so far; those that are missing are taken as long as these on average.
    u_limit : relative
    """
    mean = math.exp(math.fsum(map(math.log, read_cm)) / len(read_cm))
    likely = [*read_cm, *[mean] * (3 - len(read_cm))]
    least = _least_u(likely, ruler)
    if least <= u_limit:
        return None
    sure = _least_u(read_cm, ruler)
    is_sure = sure > u_limit
    return RulerOutlook(
        ruler=ruler.name,
        limit=u_limit,
        u=sure if is_sure else least,
        is_likely_only=not is_sure,
        is_least=is_sure and len(read_cm) < 3,
        ways=_what_would(likely, ruler, u_limit),
        edge_cm=_least_edge(ruler, u_limit),
    )


def _changes(
    sides: Sequence[Side], options: BoxOptions
) -> list[tuple[Act, tuple[Sequence[Side], BoxOptions]]]:
    """Each act with what the budget is made of when it is done."""
    found: list[tuple[Act, tuple[Sequence[Side], BoxOptions]]] = []
    if any(side.scatter.dof for side in sides):
        found.append((Act(ActKind.READ_MORE, n=MORE_READINGS), (_read_more(sides), options)))
    for ruler in dict.fromkeys(side.ruler for side in sides):
        changes = (
            (
                Act(ActKind.REPLACE_BY_CALIPERS, ruler.name),
                replace(ruler, resolution=min(ruler.resolution, CALIPERS_CM)),
            ),
            (gain_act(ruler), replace(ruler, gain_u=0.0)),
            (zero_act(ruler), replace(ruler, zero_u=0.0)),
        )
        found += [(act, (_with_ruler(sides, ruler, better), options)) for act, better in changes]
    if options.wall_u_cm:
        wall = replace(options, wall_u_cm=min(options.wall_u_cm, CALIPERS_CM / math.sqrt(12)))
        found.append((Act(ActKind.MEASURE_WALL), (sides, wall)))
    return found


def _all_done(sides: Sequence[Side], options: BoxOptions) -> float:
    """Relative U with every act done."""
    done = _read_more(sides) if any(side.scatter.dof for side in sides) else tuple(sides)
    for ruler in dict.fromkeys(side.ruler for side in sides):
        step = min(ruler.resolution, CALIPERS_CM)
        done = _with_ruler(done, ruler, replace(ruler, resolution=step, gain_u=0.0, zero_u=0.0))
    wall = replace(options, wall_u_cm=min(options.wall_u_cm, CALIPERS_CM / math.sqrt(12)))
    return box_budget(done, wall).relative_expanded_uncertainty


def _read_more(sides: Sequence[Side]) -> tuple[Side, ...]:
    """The same scatter, seen in more readings."""
    more = MORE_READINGS
    return tuple(
        replace(
            side,
            n=side.n + more,
            scatter=replace(side.scatter, dof=side.scatter.dof + len(sides) * more),
        )
        for side in sides
    )


def _with_ruler(sides: Sequence[Side], ruler: Instrument, better: Instrument) -> tuple[Side, ...]:
    return tuple(replace(side, ruler=better) if side.ruler == ruler else side for side in sides)


def _least_u(edges_cm: Sequence[float], ruler: Instrument) -> float:
    """Relative U of readings that agree; of missing edges only the gain is counted."""
    zero = math.fsum(ruler.zero_u / edge for edge in edges_cm)
    rounding = math.hypot(*(ruler.resolution_u / edge for edge in edges_cm))
    return coverage_factor(math.inf, LEVEL_95) * math.hypot(rounding, zero, 3 * ruler.gain_u)


def _what_would(
    edges_cm: Sequence[float], ruler: Instrument, u_limit: float
) -> tuple[tuple[Act, ...], ...]:
    """The single changes that reach the limit; where none does, all of them together."""

    def fits(better: Instrument) -> bool:
        return _least_u(edges_cm, better) <= u_limit

    def step_that_fits(better: Instrument) -> list[Act]:
        finer = (step for step in STEPS_CM if step < ruler.resolution)
        found = (step for step in finer if fits(replace(better, resolution=step)))
        return [_read_to(step, ruler) for step in found][:1]

    acts = [
        (act, better)
        for act, better in (
            (gain_act(ruler), replace(ruler, gain_u=0.0)),
            (zero_act(ruler), replace(ruler, zero_u=0.0)),
        )
        if better != ruler
    ]
    alone = step_that_fits(ruler) + [act for act, better in acts if fits(better)]
    if alone:
        return tuple((act,) for act in alone)
    together = step_that_fits(replace(ruler, gain_u=0.0, zero_u=0.0))
    return ((*(act for act, _ in acts), *together),) if together else ()


def _read_to(step: float, ruler: Instrument) -> Act:
    if step * 2 == ruler.resolution:
        return Act(ActKind.READ_TO_HALF_MARKS, step_cm=step)
    kind = ActKind.READ_WITH_CALIPERS if step <= CALIPERS_CM else ActKind.READ_TO
    return Act(kind, step_cm=step)


def _least_edge(ruler: Instrument, u_limit: float) -> int | None:
    """Edge of the smallest cube the ruler can bring under the limit, in whole cm."""
    edges = range(1, MAX_EDGE_CM + 1)
    return next((edge for edge in edges if _least_u([edge] * 3, ruler) <= u_limit), None)
