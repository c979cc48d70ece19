"""The uncertainty budget of a count by weighing, row by row.

It depends on the samples only through ``UnitMass``, so one function serves the count itself, the
next sample (the same scatter, one more sample) and the plan made beforehand.
"""

import math
from dataclasses import dataclass

from scipy.special import stdtridf

from nearmark.kit.count_options import Container, CountOptions
from nearmark.kit.reading_rows import CONTAINED, gain_mend, own_scatter, reading_rows
from nearmark.kit.unit_mass import UnitMass
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.coverage import LEVEL_95, coverage_factor
from nearmark.measurement.instruments import Instrument

SAMPLES = "samples"
FLOOR = "floor of the samples"
MIXING_ASKED = "not stated: were the samples taken from the top only?"


@dataclass(frozen=True, slots=True)
class CountRows:
    """The rows of the budget, sorted by how their influence grows with the count N.

    Attributes
    ----------
    unit : UnitMass
    net_g : g
    samples : tuple of Component
        Uncertainty of the mass of a piece: in N in proportion.
    net : tuple of Component
        Uncertainty of the net mass: the same for every N.
    spread : Component
        Piece spread of the container itself: with the square root of N.
    common : tuple of Component
        Relative influences: in N in proportion.
    """

    unit: UnitMass
    net_g: float
    samples: tuple[Component, ...]
    net: tuple[Component, ...]
    spread: Component
    common: tuple[Component, ...]

    @property
    def value(self) -> float:
        """The count, not rounded, in pieces."""
        return self.net_g / self.unit.mass_g

    def budget(self, measurand: str) -> Budget:
        """The whole budget.

        Parameters
        ----------
        measurand : str
        """
        rows = (*self.samples, *self.net, self.spread, *self.common)
        return Budget(measurand, self.value, "pieces", rows)


def count_rows(unit: UnitMass, container: Container, options: CountOptions) -> CountRows:
    """Evaluate every influence on ``N = (gross - tare) / m``; all rows are always shown.

    Parameters
    ----------
    unit : UnitMass
    container : Container
    options : CountOptions

    Returns
    -------
    CountRows

    References
    ----------
    JCGM 100:2008, clauses 4.2, 4.3 and 5.1 (each row), 5.2.2 (the gain of one scale is common to
    numerator and denominator).

    Examples
    --------
    >>> from nearmark.measurement.instruments import Reading
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = Container(Reading((712.4,), scale), Reading((102.4,), scale), scale)
    >>> count_rows(UnitMass(0.61, 0.05, 3, 300), container, CountOptions()).value
    1000.0
    """
    spread = _spread_row(unit, container, options)
    return CountRows(
        unit,
        container.net_g,
        (*_sample_rows(unit, container, options, spread), _sample_linearity(unit, container)),
        _net_rows(unit, container),
        spread,
        (
            *_gain_rows(unit, container),
            _moisture_row(unit, container, options),
            _mixing_row(unit, container, options),
        ),
    )


def floor_dof(seen: float, excess: float, dof: float) -> float:
    """Degrees of freedom of the part by which a Type B floor exceeds the scatter seen.

    A floor may raise U; it must not lend the few samples certainty they have not got.  With
    infinite degrees of freedom the excess could make ``k`` so much smaller that U falls below what
    the same scatter gives without a floor.  So ``k u`` is held at least there.

    Parameters
    ----------
    seen, excess : same unit
        Contribution of the scatter, and of the excess of the floor over it.
    dof : dimensionless, > 0
        Degrees of freedom of the scatter.

    Returns
    -------
    float
        ``math.inf`` while the floor governs U by itself.

    Examples
    --------
    >>> floor_dof(0.1, 1.0, 2)
    inf
    >>> nu = floor_dof(0.8, 0.6, 2)  # U stays at t(2) * 0.8, and u is 1
    >>> from nearmark.measurement.coverage import welch_satterthwaite
    >>> round(coverage_factor(welch_satterthwaite([(0.8, 2), (0.6, nu)])) / coverage_factor(2), 6)
    0.8
    """
    total = math.hypot(seen, excess)
    if not excess or not seen:
        return math.inf
    needed = coverage_factor(dof) * seen / total
    if needed <= coverage_factor(math.inf) * (1 + 1e-9):
        return math.inf
    keeping = float(stdtridf(0.5 + LEVEL_95 / 2, needed))
    left = 1 / keeping - (seen / total) ** 4 / dof
    return (excess / total) ** 4 / left if left > 0 else math.inf


def _sample_rows(
    unit: UnitMass, container: Container, options: CountOptions, spread: Component
) -> tuple[Component, ...]:
    """Scatter of the samples, and the floor below which it is not believed."""
    slope = -container.net_g / unit.mass_g**2
    floor = _floor_parts(unit, container.sample_scale, options)
    total = math.fsum(floor.values())
    missing = max(total - unit.u_g**2, 0.0)
    shared = spread.contribution if spread.estimate == SAMPLES else 0.0
    seen = math.hypot(slope * unit.u_g, shared)
    dof = floor_dof(seen, abs(slope) * math.sqrt(missing), unit.dof)
    repeatability = Component(
        "repeatability of the samples",
        unit.mass_g,
        "g/piece",
        unit.u_g,
        slope,
        "t",
        unit.dof,
        SAMPLES,
    )
    rest = (
        Component(
            name,
            unit.mass_g,
            "g/piece",
            math.sqrt(missing * part / total) if total else 0.0,
            slope,
            "rectangular" if name.startswith("resolution") else "normal",
            dof,
            FLOOR,
            "the samples scatter less than this allows for" if missing else CONTAINED,
        )
        for name, part in floor.items()
    )
    return (repeatability, *rest)


def _floor_parts(unit: UnitMass, scale: Instrument, options: CountOptions) -> dict[str, float]:
    """Least variances the mass of a piece must have, in (g/piece)^2."""
    k, n = unit.n_samples, unit.n_pieces
    # Net mass of a sample: two indications, with the dish and without.
    weighing = 2 * scale.resolution_u**2 * k / n**2
    miscount = options.miscount_probability * k * (unit.mass_g / n) ** 2
    known = ((options.piece_cv or 0.0) * unit.mass_g) ** 2 / n
    return {
        "resolution of the sample weighings": weighing,
        "possible miscount of the samples": miscount,
        "piece spread within the samples, if known": known,
    }


def _sample_linearity(unit: UnitMass, container: Container) -> Component:
    scale = container.sample_scale
    return Component(
        "linearity of the sample weighings",
        unit.mass_g,
        "g/piece",
        scale.linearity_u * unit.n_samples / unit.n_pieces,
        -container.net_g / unit.mass_g**2,
        note="samples of one size share it: no repeat shows it",
    )


def _net_rows(unit: UnitMass, container: Container) -> tuple[Component, ...]:
    rows = [
        row
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


def _spread_row(unit: UnitMass, container: Container, options: CountOptions) -> Component:
    """The container holds N pieces of the lot, not the lot: its mean piece differs a little."""
    count = container.net_g / unit.mass_g
    known = options.piece_cv is not None
    sd = (options.piece_cv or 0.0) * unit.mass_g if known else unit.piece_sd_g
    if options.samples_from == "container":
        sd = 0.0
    notes = {
        "lot": "from piece_cv" if known else "from the scatter of the samples",
        "container": "zero: the samples came out of the container itself (on the safe side)",
    }
    return Component(
        "piece spread of the container",
        unit.mass_g,
        "g/piece",
        sd / math.sqrt(count),
        container.net_g / unit.mass_g**2,
        "normal" if known else "t",
        math.inf if known else unit.dof,
        "" if known else SAMPLES,
        notes[options.samples_from],
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
            note="" if abs(mass) > 1e-9 * net else "cancels: the same scale weighed the samples",
            cause=scale.gain_cause,
            mend=gain_mend(scale),
        )
        for scale, mass in slopes.items()
    )


def _moisture_row(unit: UnitMass, container: Container, options: CountOptions) -> Component:
    return Component(
        "moisture and dust", 1.0, "relative", options.moisture_u, container.net_g / unit.mass_g
    )


def _mixing_row(unit: UnitMass, container: Container, options: CountOptions) -> Component:
    """An error that all samples share: no scatter between them shows it."""
    notes = {None: MIXING_ASKED, 0.0: "zero: the samples came from all depths of the lot"}
    return Component(
        "mixing of the lot",
        1.0,
        "relative",
        options.mixing_u or 0.0,
        container.net_g / unit.mass_g,
        note=notes.get(options.mixing_u, "the samples came from one place of the lot"),
        cause=f"mixing of {options.lot}" if options.lot else "",
        mend=f"mix {options.lot or 'the lot'}, then take new samples from all depths",
    )
