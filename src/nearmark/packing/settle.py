"""Fill a jar: pieces rain in, land, are tapped if asked, and come to rest by a stated criterion."""

from collections.abc import Callable
from threading import Lock
from typing import TYPE_CHECKING, Final

import numpy as np

from nearmark.errors import MeasurementError
from nearmark.packing.jar import Jar, Rest
from nearmark.packing.rain import rain
from nearmark.packing.request import PackingRequest, check_request, overflow
from nearmark.packing.shapes import solid

if TYPE_CHECKING:
    from nearmark.packing.bed import Bed, Method

ENGINE_VERSION: Final = 5
"""Grows whenever the same request gives another jar."""

REST_ENERGY: Final = 1e-6
"""Mean kinetic energy per piece at which the bed is at rest, m g w."""

REST_OVERLAP: Final = 0.015
"""Largest overlap of a bed at rest, widths: 3 % of the radius."""

FALL_DRAG, SETTLE_DRAG, MAX_DRAG = 0.5, 1.0, 6.0
"""Damping while pieces fall, once all have come, and at most, per sqrt(w / g).

More would only slow the last pieces that still slip: one that falls under the highest damping holds
1e-2 m g w, far above rest.
"""

TREMOR_FROM: Final = 10.0
"""How long after the last piece came damping begins to grow, sqrt(w / g).

By then a poured bed has sunk to within a thousandth of where it would come to rest anyway; what is
left is creep of a few pieces.
"""

TAP_SPEED, TAP_TIME, LAND_TIME = 1.0, 6.0, 3.0
"""Of a tap: the speed given and the time left to it; time to land after the pour or a tap."""

PATIENCE: Final = 150.0
"""How long after the last piece landed the bed may take to come to rest, sqrt(w / g)."""

LOOK_EVERY: Final = 10
"""Steps between two looks at the energy."""


_ONE_AT_A_TIME: Final = Lock()
"""The work queue of the compiled kernels serves one caller; a bed uses all cores anyway."""


class Cancelled(Exception):  # noqa: N818 - reads as the fact it states
    """The person asked to stop; there is no jar."""


def settle(
    request: PackingRequest,
    *,
    method: "Method | None" = None,
    progress: Callable[[float], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Jar:
    """Pour the pieces of a request into its vessel and let them come to rest.

    >>> from nearmark.packing import cylinder, grain_shape
    >>> jar = settle(PackingRequest(grain_shape("sphere"), 20, 10.0, cylinder(5.0, 8.0)))
    >>> jar.centres_cm.shape
    (20, 3)

    Parameters
    ----------
    method : step and tolerances; the kept ones by default
    progress : called now and then with the share done, 0 to 1
    cancelled : asked now and then; true stops the work

    Raises
    ------
    InputError : if the request is impossible or beyond the limits, or the vessel overflows
    MeasurementError : if the bed does not come to rest
    Cancelled : if ``cancelled`` said so
    """
    from nearmark.packing.bed import Bed, Method  # noqa: PLC0415 - the compiler loads on first use

    check_request(request)
    body = solid(request.shape)
    bed = Bed(request, body, rain(request, body), method or Method())
    with _ONE_AT_A_TIME:
        rise = _run(bed, progress or (lambda _: None), cancelled or (lambda: False))
    return _jar(bed, rise)


def _run(bed: "Bed", progress: Callable[[float], None], cancelled: Callable[[], bool]) -> float:
    """Step until rest; the largest rise of energy after the pour and before any tap."""
    poured = float(bed.drops.times[-1]) + 4.0
    calm_from, taps_left = poured, bed.request.taps
    end = poured + PATIENCE + taps_left * TAP_TIME
    usual = poured + 20.0 + taps_left * TAP_TIME
    before, rise = np.inf, 0.0
    while bed.time < end:
        calm = bed.time - calm_from
        bed.advance(_drag(calm), 1 + int(calm > 25.0) + 2 * int(calm > 50.0))
        if bed.steps % LOOK_EVERY:
            continue
        if cancelled():
            raise Cancelled
        progress(min(0.99, bed.time / usual))
        if bed.time < calm_from + LAND_TIME:
            continue
        kinetic, potential = bed.energy()
        if taps_left == bed.request.taps:
            rise = max(rise, kinetic + potential - before)
        before = kinetic + potential
        if taps_left and bed.time >= calm_from + TAP_TIME:
            bed.tap(TAP_SPEED)
            taps_left, calm_from, before = taps_left - 1, bed.time, np.inf
        elif (
            taps_left == 0
            and kinetic < REST_ENERGY
            and bed.overlaps().max(initial=0) < REST_OVERLAP
        ):
            progress(1.0)
            return rise
    raise MeasurementError(
        "the pieces did not come to rest",
        where="settle",
        value=f"kinetic energy {bed.energy()[0]:.1e} m g w per piece after {bed.steps} steps",
        mend="Try another seed or a rougher material",
    )


def _drag(calm: float) -> float:
    """Damping a time after the last piece came: more and more, so that the last tremor ends."""
    if calm < 0:
        return FALL_DRAG
    return min(MAX_DRAG, SETTLE_DRAG + 0.2 * max(0.0, calm - TREMOR_FROM))


def _jar(bed: "Bed", rise: float) -> Jar:
    request = bed.request
    overlaps = bed.overlaps()
    rest = Rest(
        kinetic=bed.energy()[0],
        overlap_max=float(overlaps.max(initial=0)),
        overlap_median=float(np.median(overlaps)) if len(overlaps) else 0.0,
        contacts=bed.contacts_per_piece(),
        rise=rise,
        steps=bed.steps,
        time=bed.time,
    )
    centres_cm = bed.x * (request.width_mm / 10)
    highest = float(np.quantile(centres_cm[:, 2], 0.99))
    if highest > request.vessel.height_cm:
        raise overflow(
            request,
            f"the bed is {highest:.1f} cm high, the rim {request.vessel.height_cm:g} cm",
        )
    return Jar(request, ENGINE_VERSION, centres_cm, bed.q, bed.size, rest)
