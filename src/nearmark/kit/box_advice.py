"""What would make a box surer: each act worked out as if it were done, and what a ruler can reach.

Only acts that help are named, the best first: reading a box again on the same ruler does not touch
the ruler's gain, a finer ruler does not either.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from nearmark.kit.assigned_value import percent_text
from nearmark.kit.box_budget import BoxOptions, Side, box_budget
from nearmark.kit.reading_rows import gain_mend, zero_mend
from nearmark.measurement.coverage import LEVEL_95, coverage_factor
from nearmark.measurement.instruments import Instrument

CALIPERS_CM: Final = 0.01
STEPS_CM: Final = (0.05, 0.02, 0.01, 0.005, 0.002, 0.001)
"""What rulers read between their marks, calipers and micrometers show."""

WORTHWHILE: Final = 0.05
"""An act that lowers U by less than this share is not worth a walk (common practice, no source)."""

MORE_READINGS: Final = 2
LARGEST_EDGE_CM: Final = 50


@dataclass(frozen=True, slots=True)
class BoxAct:
    """Something to do about a box.

    Attributes
    ----------
    words : str
        The act, as an order without a full stop.
    relative_u : relative
        U divided by the volume when it is done and finds what was read already.
    """

    words: str
    relative_u: float


def box_acts(sides: Sequence[Side], options: BoxOptions) -> tuple[BoxAct, ...]:
    """The acts that lower U, the best first.

    Parameters
    ----------
    sides : shape (3,)
    options : BoxOptions

    Returns
    -------
    tuple of BoxAct

    Examples
    --------
    >>> from nearmark.kit.box_budget import box_sides
    >>> from nearmark.measurement.instruments import Reading
    >>> ruler = Instrument("ruler", "cm", 0.01, gain_u=0.004)
    >>> named = [(name, Reading((10.0,) * 3, ruler)) for name in ("length", "width", "height")]
    >>> [act.words for act in box_acts(box_sides(named, BoxOptions()), BoxOptions())]
    ['check ruler against a second ruler or a gauge']
    """
    now = box_budget(sides, options).relative_expanded_uncertainty
    done = [
        BoxAct(words, box_budget(*changed).relative_expanded_uncertainty)
        for words, changed in _changes(sides, options)
    ]
    helpful = [act for act in done if act.relative_u < (1 - WORTHWHILE) * now]
    return tuple(sorted(helpful, key=lambda act: act.relative_u))


def box_advice(sides: Sequence[Side], options: BoxOptions) -> tuple[str, ...]:
    """What to do about a box that is not fit, in words.

    Parameters
    ----------
    sides : shape (3,)
    options : BoxOptions

    Returns
    -------
    tuple of str
        Never empty.

    Examples
    --------
    >>> from nearmark.kit.box_budget import box_sides
    >>> from nearmark.measurement.instruments import Reading
    >>> ruler = Instrument("ruler", "cm", 0.1)
    >>> named = [(name, Reading((6.0,) * 3, ruler)) for name in ("length", "width", "height")]
    >>> box_advice(box_sides(named, BoxOptions()), BoxOptions())
    ('Read with calipers instead of ruler: that can bring U from 1.6 % to 0.16 %',)
    """
    now = box_budget(sides, options).relative_expanded_uncertainty
    limit = percent_text(options.u_limit)
    acts = box_acts(sides, options)
    advice = [
        f"{_capital(act.words)}: that can bring U from {percent_text(now)} to "
        f"{percent_text(act.relative_u)}"
        for act in acts
    ]
    if acts and acts[0].relative_u <= options.u_limit:
        return tuple(advice)
    if len(acts) > 1 and _all_done(sides, options) <= options.u_limit:
        return (*advice, f"None of these alone reaches {limit}; all of them together do")
    none = "None of these reaches" if acts else "Nothing that is done with this box reaches"
    return (*advice, f"{none} {limit}: take a larger box, or decide about it with a reason")


def ruler_outlook(read_cm: Sequence[float], ruler: Instrument, u_limit: float) -> str:
    """Whether a ruler can bring a box under the limit, from the edges read so far.

    Readings that agree hide their rounding, whatever their number: the resolution stays in U.

    Parameters
    ----------
    read_cm : cm, shape (n,), 1 to 3
        The edges read so far; those that are missing are taken as long as these on average.
    ruler : Instrument
    u_limit : relative

    Returns
    -------
    str
        What it cannot do, and what would; empty when it can.

    Examples
    --------
    >>> ruler = Instrument("steel ruler", "cm", 0.1)
    >>> ruler_outlook([5.8, 5.8, 6.0], ruler, 0.01)[:72]
    'Steel ruler cannot bring this box under 1.0 %: readings that agree leave'
    >>> ruler_outlook([15.8], ruler, 0.01)
    ''
    """
    mean = math.exp(math.fsum(map(math.log, read_cm)) / len(read_cm))
    likely = [*read_cm, *[mean] * (3 - len(read_cm))]
    least = _least_u(likely, ruler)
    if least <= u_limit:
        return ""
    limit = percent_text(u_limit)
    sure = _least_u(read_cm, ruler)
    if sure > u_limit:
        more = "" if len(read_cm) == 3 else " or more"
        claim = f"{_capital(ruler.name)} cannot bring this box under {limit}: readings that agree "
        claim += f"leave U at {percent_text(sure)}{more}"
    else:
        claim = f"If the other edges are about as long, readings of {ruler.name} that agree leave "
        claim += f"U at {percent_text(least)}; the limit is {limit}"
    return f"{claim}. {_what_would(likely, ruler, u_limit)}"


def _changes(
    sides: Sequence[Side], options: BoxOptions
) -> list[tuple[str, tuple[Sequence[Side], BoxOptions]]]:
    """Each act with what the budget is made of when it is done."""
    found: list[tuple[str, tuple[Sequence[Side], BoxOptions]]] = []
    if any(side.scatter.dof for side in sides):
        found.append((f"read each side {MORE_READINGS} more times", (_read_more(sides), options)))
    for ruler in dict.fromkeys(side.ruler for side in sides):
        changes = (
            (
                f"read with calipers instead of {ruler.name}",
                replace(ruler, resolution=min(ruler.resolution, CALIPERS_CM)),
            ),
            (gain_mend(ruler), replace(ruler, gain_u=0.0)),
            (zero_mend(ruler), replace(ruler, zero_u=0.0)),
        )
        found += [
            (words, (_with_ruler(sides, ruler, better), options)) for words, better in changes
        ]
    if options.wall_u_cm:
        wall = replace(options, wall_u_cm=min(options.wall_u_cm, CALIPERS_CM / math.sqrt(12)))
        found.append(("measure the wall with calipers", (sides, wall)))
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


def _what_would(edges_cm: Sequence[float], ruler: Instrument, u_limit: float) -> str:
    """The single changes that reach the limit; where none does, all of them together."""

    def fits(better: Instrument) -> bool:
        return _least_u(edges_cm, better) <= u_limit

    def step_that_fits(better: Instrument) -> list[str]:
        finer = (step for step in STEPS_CM if step < ruler.resolution)
        found = (step for step in finer if fits(replace(better, resolution=step)))
        return [_read_to(step, ruler) for step in found][:1]

    mends = [
        (mend, better)
        for mend, better in (
            (gain_mend(ruler), replace(ruler, gain_u=0.0)),
            (zero_mend(ruler), replace(ruler, zero_u=0.0)),
        )
        if better != ruler
    ]
    ways = step_that_fits(ruler) + [mend for mend, better in mends if fits(better)]
    if not ways:
        together = step_that_fits(replace(ruler, gain_u=0.0, zero_u=0.0))
        ways = [" and ".join([*(mend for mend, _ in mends), *together])] if together else []
    edge = _least_edge(ruler, u_limit)
    if edge is not None:
        ways.append(f"take a box with edges of {edge} cm or more")
    return f"What would do: {'; or '.join(ways)}." if ways else "Decide about it with a reason."


def _read_to(step: float, ruler: Instrument) -> str:
    if step * 2 == ruler.resolution:
        return f"read to half marks ({step:g} cm)"
    return f"read to {step:g} cm{' with calipers' if step <= CALIPERS_CM else ''}"


def _least_edge(ruler: Instrument, u_limit: float) -> int | None:
    """Edge of the smallest cube the ruler can bring under the limit, in whole cm."""
    edges = range(1, LARGEST_EDGE_CM + 1)
    return next((edge for edge in edges if _least_u([edge] * 3, ruler) <= u_limit), None)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
