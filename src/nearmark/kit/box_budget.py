"""The uncertainty budget of a box, row by row."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.errors import InputError
from nearmark.kit.assigned_value import DEFAULT_U_LIMIT
from nearmark.kit.box_faces import NOT_STATED, BoxFaces
from nearmark.kit.drawn_check import BEYOND_FIRST_ORDER
from nearmark.kit.reading_rows import Scatter, gain_act, pooled_scatter, reading_rows, zero_act
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.measurement.row_notes import CornerFactor, Reason
from nearmark.measurement.type_b import rectangular

MAX_CM = 150.0


@dataclass(frozen=True, slots=True)
class BoxOptions:
    """What is known or wanted beside the readings."""

    measurand: str = "volume of box"
    # Largest relative U at which the volume is fit to be a key (relative, in (0, 1)).
    u_limit: float = DEFAULT_U_LIMIT
    box: BoxFaces = NOT_STATED
    wall_u_cm: float = 0.0  # standard uncertainty of the thickness of the wall
    # How far the corner of the base is off a right angle (degrees, in [0, 30]).
    corner_deg: float = 0.0

    def __post_init__(self) -> None:
        wall_cm, bulge_cm = float(self.box.wall_cm or 0), float(self.box.bulge_cm or 0)
        checks = (
            (0 < self.u_limit < 1, "u_limit", self.u_limit, "between 0 and 1; 1 % is 0.01"),
            (0 <= wall_cm < MAX_CM, "wall_cm", wall_cm, "the thickness in cm"),
            (0 <= self.wall_u_cm < MAX_CM, "wall_u_cm", self.wall_u_cm, "0 or more, in cm"),
            (0 <= bulge_cm < MAX_CM, "bulge_cm", bulge_cm, "0 or more, in cm"),
            (0 <= self.corner_deg <= 30, "corner_deg", self.corner_deg, "0 to 30 degrees"),
        )
        for ok, name, value, allowed in checks:
            if not ok:  # also refuses NaN, which compares false
                raise InputError(
                    "not a possible value",
                    where=f"box options, {name}",
                    value=value,
                    mend=f"Give {allowed}",
                )


@dataclass(frozen=True, slots=True)
class Side:
    """One side as the budget needs it."""

    name: str
    read_cm: float
    inner_cm: float
    n: int
    ruler: Instrument
    scatter: Scatter


def exact_product_variance(values: Sequence[float], us: Sequence[float]) -> float:
    """Variance of a product of independent quantities, all orders, in its squared unit.

    >>> exact_product_variance([10, 5], [1, 2])
    429.0

    Parameters
    ----------
    values : any units, shape (n,)
    us : same units, shape (n,); standard uncertainties

    References
    ----------
    L. A. Goodman, *On the exact variance of products*, J. Amer. Statist. Assoc. 55 (1960) 708
    (abstract opened); for independent factors ``prod(x^2 + u^2) - prod(x^2)``.
    """
    with_u = math.prod(x * x + u * u for x, u in zip(values, us, strict=True))
    return float(with_u - math.prod(x * x for x in values))


def box_sides(named: Sequence[tuple[str, Reading]], options: BoxOptions) -> tuple[Side, ...]:
    """The sides with their walls taken off and their scatter pooled by ruler.

    >>> from decimal import Decimal
    >>> from nearmark.kit.box_faces import Faces
    >>> ruler = Instrument("ruler", "cm", 0.1)
    >>> named = [(name, Reading((10.0,), ruler)) for name in ("length", "width", "height")]
    >>> box = BoxFaces(Faces.OUTSIDE, wall_cm=Decimal("0.5"))
    >>> box_sides(named, BoxOptions(box=box))[0].inner_cm
    9.0

    Parameters
    ----------
    named : pairs (name, Reading in cm), shape (3,)

    Raises
    ------
    InputError : if two walls are thicker than a whole side
    """
    pooled = {
        ruler: pooled_scatter(
            [reading for _, reading in named if reading.instrument == ruler],
            f"scatter with {ruler.name}",
        )
        for ruler in {reading.instrument for _, reading in named}
    }
    sides = []
    for name, reading in named:
        inner = reading.mean - options.box.walls_cm
        if inner <= 0:
            raise InputError(
                "two walls are thicker than the whole side",
                where=name,
                value=f"{reading.mean:g} cm, walls {options.box.walls_cm / 2:g} cm",
                mend="Give the thickness of one wall in cm",
            )
        ruler = reading.instrument
        sides.append(Side(name, reading.mean, inner, reading.n, ruler, pooled[ruler]))
    return tuple(sides)


def box_budget(sides: Sequence[Side], options: BoxOptions) -> Budget:
    """The budget of ``V = L W H cos(corner)`` in cm3; all rows are always shown.

    >>> ruler = Instrument("ruler", "cm", 0.1, gain_u=0.001)
    >>> named = [(name, Reading((10.0,), ruler)) for name in ("length", "width", "height")]
    >>> budget = box_budget(box_sides(named, BoxOptions()), BoxOptions())
    >>> [round(row.contribution, 9) for row in budget.components if "gain" in row.name]
    [3.0]

    References
    ----------
    JCGM 100:2008, clauses 5.1.2 with its NOTE (second-order term) and 5.2.2 (common gain).
    """
    square = math.cos(math.radians(options.corner_deg))
    volume = math.prod(side.inner_cm for side in sides) * square
    slopes = [volume / side.inner_cm for side in sides]
    own = [
        reading_rows(
            side.name, side.read_cm, side.n, side.ruler, scatter=side.scatter, sensitivity=slope
        )
        for side, slope in zip(sides, slopes, strict=True)
    ]
    rows = (
        *(row for pair in own for row in pair),
        *_common_rows(sides, slopes, options),
        # A correction is trusted to half of itself (common practice, no source).
        Component(
            "corner off a right angle",
            options.corner_deg,
            "degrees",
            rectangular(0.5 * (1 / square - 1)),
            volume,
            "rectangular",
            notes=(CornerFactor(square),) if options.corner_deg else (),
            cause=f"corner, {options.measurand}",
        ),
        _second_order_row(sides, own, volume, square),
    )
    return Budget(options.measurand, volume, "cm3", rows)


def _common_rows(
    sides: Sequence[Side], slopes: Sequence[float], options: BoxOptions
) -> list[Component]:
    linearity = math.hypot(
        *(slope * side.ruler.linearity_u for side, slope in zip(sides, slopes, strict=True))
    )
    gain: dict[Instrument, float] = {}
    zero: dict[Instrument, float] = {}
    for side, slope in zip(sides, slopes, strict=True):
        gain[side.ruler] = gain.get(side.ruler, 0.0) + slope * side.read_cm
        zero[side.ruler] = zero.get(side.ruler, 0.0) + slope
    return [
        *(
            Component(
                f"zero of {ruler.name}",
                0.0,
                "cm",
                ruler.zero_u,
                slope,
                notes=(Reason.SAME_RULER if ruler.zero_u else Reason.ZERO_NOT_STATED,),
                cause=ruler.zero_cause,
                act=zero_act(ruler),
            )
            for ruler, slope in zero.items()
        ),
        *(
            Component(
                f"calibration (gain) of {ruler.name}",
                1.0,
                "relative",
                ruler.gain_u,
                slope,
                notes=(Reason.SAME_RULER,),
                cause=ruler.gain_cause,
                act=gain_act(ruler),
            )
            for ruler, slope in gain.items()
        ),
        Component("linearity of the readings", 0.0, "cm3", linearity),
        Component(
            "wall thickness",
            options.box.walls_cm / 2,
            "cm",
            options.wall_u_cm,
            -2 * math.fsum(slopes),
            notes=(Reason.SAME_WALLS,),
        ),
        Component(
            "bulge of the faces",
            0.0,
            "cm",
            rectangular(float(options.box.bulge_cm or 0)),
            math.hypot(*slopes),
            "rectangular",
            # No reading of the edges changes it, so it is no part of what measuring again can do.
            cause=f"bulge, {options.measurand}",
        ),
    ]


def _second_order_row(
    sides: Sequence[Side],
    own: Sequence[tuple[Component, Component]],
    volume: float,
    square: float,
) -> Component:
    """What the exact variance of the product has beyond the first order."""
    values = [side.inner_cm for side in sides]
    us = [math.hypot(repeatability.u, resolution.u) for repeatability, resolution in own]
    first = math.fsum((volume * u / x) ** 2 for x, u in zip(values, us, strict=True))
    exact = exact_product_variance(values, us) * square**2
    return Component(
        BEYOND_FIRST_ORDER,
        0.0,
        "cm3",
        math.sqrt(max(exact - first, 0.0)),
        notes=(Reason.EXACT_PRODUCT,),
    )
