"""The uncertainty budget of a count by weighing, row by row.

It depends on the samples only through ``UnitMass``, so one function serves the count itself, the
next sample (the same scatter, one more sample) and the plan made beforehand.
"""

import math
from dataclasses import dataclass, replace

from nearmark.kit.count_options import Container, CountOptions
from nearmark.kit.reading_rows import gain_act, own_scatter, reading_rows
from nearmark.kit.sample_scatter import (
    BOUND_LEVEL,
    CONTAINER_LEVEL,
    MAX_PIECE_CV,
    USUAL_PIECE_CV,
    believed_piece_sd_g,
    container_piece_sd_g,
    shows_rounding,
)
from nearmark.kit.unit_mass import UnitMass
from nearmark.measurement.acts import Act, ActKind
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.coverage import coverage_factor
from nearmark.measurement.instruments import Instrument
from nearmark.measurement.row_notes import (
    FewSamples,
    FromSamples,
    Reason,
    RowNote,
    UpperBound,
    WidenedByStudent,
)


@dataclass(frozen=True, slots=True)
class CountRows:
    """The rows of the budget, sorted by how their influence grows with the count N."""

    unit: UnitMass
    net_g: float
    samples: tuple[Component, ...]  # uncertainty of the mass of a piece: in N in proportion
    net: tuple[Component, ...]  # uncertainty of the net mass: the same for every N
    spread: Component  # piece spread of the container itself: with the square root of N
    common: tuple[Component, ...]  # relative influences: in N in proportion

    @property
    def value(self) -> float:
        """The count, not rounded, in pieces."""
        return self.net_g / self.unit.mass_g

    def budget(self, measurand: str) -> Budget:
        """The whole budget."""
        rows = (*self.samples, *self.net, self.spread, *self.common)
        return Budget(measurand, self.value, "pieces", rows)


def count_rows(unit: UnitMass, container: Container, options: CountOptions) -> CountRows:
    """Evaluate every influence on ``N = (gross - tare) / m``; all rows are always shown.

    >>> from nearmark.measurement.instruments import Reading
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = Container(Reading((712.4,), scale), Reading((102.4,), scale), scale)
    >>> count_rows(UnitMass(0.61, 0.05, 3, 300), container, CountOptions()).value
    1000.0

    References
    ----------
    JCGM 100:2008, clauses 4.2, 4.3 and 5.1 (each row), 5.2.2 (the gain of one scale is common to
    numerator and denominator).
    """
    return CountRows(
        unit,
        container.net_g,
        _sample_rows(unit, container, options),
        _net_rows(unit, container),
        _spread_row(unit, container, options),
        (
            *_gain_rows(unit, container),
            _moisture_row(unit, container, options),
            _mixing_row(unit, container, options),
        ),
    )


def _sample_rows(
    unit: UnitMass, container: Container, options: CountOptions
) -> tuple[Component, ...]:
    """Scatter of the samples, what it may be taken for too small by, and what it cannot show."""
    scale, n_each = container.sample_scale, unit.n_pieces / unit.n_samples
    believed = believed_piece_sd_g(unit, scale, options.miscount_probability)
    floor = _floor_parts(unit, options)
    total = math.fsum(floor.values())
    missing = max(total - believed**2 / unit.n_pieces, 0.0)
    hidden = 0.0 if shows_rounding(unit, scale) else scale.resolution_u
    root = math.sqrt(unit.n_pieces)

    def row(name: str, u_g: float, *notes: RowNote, distribution: str = "normal") -> Component:
        slope = -container.net_g / unit.mass_g**2
        return Component(name, unit.mass_g, "g/piece", u_g, slope, distribution, notes=notes)

    return (
        row("repeatability of the samples", unit.u_g, FromSamples(unit.dof)),
        row(
            "few samples, and stopping when fit",
            math.sqrt(believed**2 - unit.piece_sd_g**2) / root,
            FewSamples(BOUND_LEVEL, USUAL_PIECE_CV, MAX_PIECE_CV),
        ),
        *(
            row(
                name,
                math.sqrt(missing * part / total) if total else 0.0,
                Reason.TOO_LITTLE_SCATTER if missing else Reason.CONTAINED,
            )
            for name, part in floor.items()
        ),
        row(
            "resolution of the samples' tare",
            scale.resolution_u / n_each,
            Reason.SHARED_BY_SAMPLES,
            distribution="rectangular",
        ),
        row(
            "resolution of the sample weighings",
            hidden / n_each,
            *(
                (Reason.ROUNDING_HIDDEN, Reason.SHARED_BY_SAMPLES)
                if hidden
                else (Reason.CONTAINED,)
            ),
            distribution="rectangular",
        ),
        row(
            "linearity of the sample weighings",
            scale.linearity_u / n_each,
            Reason.SHARED_BY_SAMPLES,
        ),
    )


def _floor_parts(unit: UnitMass, options: CountOptions) -> dict[str, float]:
    """Least variances the mass of a piece must have, in (g/piece)^2."""
    k, n = unit.n_samples, unit.n_pieces
    return {
        "possible miscount of the samples": options.miscount_probability
        * k
        * (unit.mass_g / n) ** 2,
        "piece spread within the samples, if known": ((options.piece_cv or 0.0) * unit.mass_g) ** 2
        / n,
    }


def _net_rows(unit: UnitMass, container: Container) -> tuple[Component, ...]:
    rows = [
        _with_student(row)
        for what, reading, sign in (("gross", container.gross, 1), ("tare", container.tare, -1))
        for row in reading_rows(
            what,
            reading.mean,
            reading.n,
            reading.instrument,
            scatter=own_scatter(reading),
            sensitivity=sign / unit.mass_g,
        )
    ]
    linearity = Component(
        "linearity of the net reading",
        container.net_g,
        "g",
        container.gross.instrument.linearity_u,
        1 / unit.mass_g,
    )
    return (*rows, linearity)


def _with_student(row: Component) -> Component:
    """The row with Student's factor in its u, as the samples have it: see ``sample_scatter``."""
    factor = coverage_factor(row.dof) / coverage_factor(math.inf)
    if factor == 1:
        return row
    notes = (WidenedByStudent(round(row.dof)),)
    return replace(row, u=row.u * factor, distribution="normal", dof=math.inf, notes=notes)


def _spread_row(unit: UnitMass, container: Container, options: CountOptions) -> Component:
    """The container holds N pieces of the lot, not the lot: its mean piece differs a little."""
    count = container.net_g / unit.mass_g
    note: RowNote
    if options.samples_from == "container":
        sd, note = 0.0, Reason.FROM_CONTAINER
    elif options.piece_cv is not None:
        sd, note = options.piece_cv * unit.mass_g, Reason.STATED_SPREAD
    else:
        sd = container_piece_sd_g(unit, container.sample_scale, options.miscount_probability)
        note = UpperBound(CONTAINER_LEVEL)
    return Component(
        "piece spread of the container",
        unit.mass_g,
        "g/piece",
        sd / math.sqrt(count),
        container.net_g / unit.mass_g**2,
        notes=(note,),
    )


def _gain_rows(unit: UnitMass, container: Container) -> tuple[Component, ...]:
    """One row a scale: its gain acts on gross, tare and samples together."""
    net = container.net_g
    slopes: dict[Instrument, float] = {}
    for scale, mass in (
        (container.gross.instrument, container.gross.mean),
        (container.tare.instrument, -container.tare.mean),
        (container.sample_scale, -net),
    ):
        slopes[scale] = slopes.get(scale, 0.0) + mass
    return tuple(
        Component(
            f"calibration (gain) of {scale.name}",
            1.0,
            "relative",
            scale.gain_u,
            mass / unit.mass_g if abs(mass) > 1e-9 * net else 0.0,
            notes=() if abs(mass) > 1e-9 * net else (Reason.SAME_SCALE,),
            cause=scale.gain_cause,
            act=gain_act(scale),
        )
        for scale, mass in slopes.items()
    )


def _moisture_row(unit: UnitMass, container: Container, options: CountOptions) -> Component:
    return Component(
        "moisture and dust",
        1.0,
        "relative",
        options.moisture_u,
        container.net_g / unit.mass_g,
        cause=f"moisture of {options.lot}" if options.lot else "",
    )


def _mixing_row(unit: UnitMass, container: Container, options: CountOptions) -> Component:
    """An error that all samples share: no scatter between them shows it."""
    notes = {None: Reason.MIXING_NOT_STATED, 0.0: Reason.ALL_DEPTHS}
    return Component(
        "mixing of the lot",
        1.0,
        "relative",
        options.mixing_u or 0.0,
        container.net_g / unit.mass_g,
        notes=(notes.get(options.mixing_u, Reason.ONE_PLACE),),
        cause=f"mixing of {options.lot}" if options.lot else "",
        act=Act(ActKind.MIX, options.lot),
    )
