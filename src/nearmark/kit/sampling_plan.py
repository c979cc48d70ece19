"""How many pieces to count in how many samples: a plan made beforehand."""

import math
from dataclasses import dataclass, replace

from nearmark.errors import InputError, MeasurementError
from nearmark.kit.assigned_value import percent_text
from nearmark.kit.count_budget import count_rows
from nearmark.kit.count_options import Container, CountOptions
from nearmark.kit.unit_mass import UnitMass
from nearmark.measurement.budget import Budget
from nearmark.measurement.instruments import Instrument, Reading

SAMPLE_SIZES = (20, 25, 30, 40, 50, 75, 100, 150, 200, 250, 300, 400, 500)
MAX_PLANNED = 50
"""Samples beyond which a plan is no plan."""

MIN_PLANNED = 3
PIECES_A_MINUTE = 60
WEIGHING_IN_PIECES = 30
"""Counting sixty pieces takes a minute, one weighing half of it (common practice, no source)."""


def minutes_to_count(pieces: int, n_samples: int) -> int:
    """Time it takes to count pieces and weigh them as samples, in minutes, rounded up.

    >>> minutes_to_count(300, 2)
    6

    Parameters
    ----------
    pieces, n_samples : pieces, samples; in all
    """
    return math.ceil((pieces + n_samples * WEIGHING_IN_PIECES) / PIECES_A_MINUTE)


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One way to reach the wanted uncertainty."""

    # Pieces, samples, pieces.
    pieces_per_sample: int
    n_samples: int
    total_pieces: int
    relative_u: float  # expanded uncertainty to be expected, divided by the count (relative)

    @property
    def effort(self) -> int:
        """Counting and weighing together, in counted pieces."""
        return self.total_pieces + self.n_samples * WEIGHING_IN_PIECES

    @property
    def minutes(self) -> int:
        """Time it takes, rounded up."""
        return minutes_to_count(self.total_pieces, self.n_samples)


def predicted_relative_u(
    pieces_per_sample: int,
    n_samples: int,
    *,
    piece_mass_g: float,
    container: Container,
    options: CountOptions,
) -> float:
    """Relative expanded uncertainty to be expected of a plan.

    ``piece_cv`` says how the samples will scatter; the count itself will have to show it, so it
    lends the prediction no degrees of freedom.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = Container(Reading((712.4,), scale), Reading((102.4,), scale), scale)
    >>> options = CountOptions(piece_cv=0.10)
    >>> round(predicted_relative_u(
    ...     100, 3, piece_mass_g=0.61, container=container, options=options), 4)
    0.0333

    Parameters
    ----------
    pieces_per_sample : pieces, >= 1
    n_samples : samples, >= 2
    piece_mass_g : g
    container : as it is expected to weigh
    options : with ``piece_cv``
    """
    k, n = n_samples, pieces_per_sample
    # What a sample will scatter by: its pieces, two indications, and a miscount now and then.
    square = (
        n * ((options.piece_cv or 0.0) * piece_mass_g) ** 2
        + 2 * container.sample_scale.resolution_u**2
        + options.miscount_probability * piece_mass_g**2
    )
    unit = UnitMass(piece_mass_g, math.sqrt(square / n), k, k * n)
    return _budget(unit, container, options).relative_expanded_uncertainty


def plan_samples(
    expected_pieces: int, piece_mass_g: float, scale: Instrument, *, options: CountOptions
) -> tuple[PlanRow, ...]:
    """Ways to count and weigh samples so that U stays within the limit, least effort first.

    For each handy sample size the fewest samples, three at least, that reach the limit.  Few
    samples cost more than their scatter: it is bounded, ``sample_scatter`` says how.  U is what to
    expect: with luck in the scatter it comes out smaller, without it larger, and ``next_sample``
    then says what is still wanting.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> options = CountOptions(piece_cv=0.10, u_limit=0.015)
    >>> best = plan_samples(4000, 0.61, scale, options=options)[0]
    >>> best.pieces_per_sample, best.n_samples, f"{100 * best.relative_u:.2f} %"
    (50, 10, '1.44 %')

    Parameters
    ----------
    expected_pieces : pieces, >= 2
    piece_mass_g : g, > 0; roughly; a pinch of counted pieces will do
    scale : Instrument, in g; for the container and the samples
    options : CountOptions
        ``u_limit`` is the wanted relative U, ``piece_cv`` the scatter of single pieces (needed).

    Raises
    ------
    InputError : if ``piece_cv`` is missing or a number is impossible
    MeasurementError : if no sampling can reach the limit; the message says what is in the way
    """
    container = _expected_container(expected_pieces, piece_mass_g, scale, options)
    rows = []
    for size in SAMPLE_SIZES:
        for k in range(MIN_PLANNED, MAX_PLANNED + 1):
            if k * size >= expected_pieces:
                break
            u = predicted_relative_u(
                size, k, piece_mass_g=piece_mass_g, container=container, options=options
            )
            if u <= options.u_limit:
                rows.append(PlanRow(size, k, k * size, u))
                break
    if not rows:
        raise _impossible(expected_pieces, piece_mass_g, container, options)
    return tuple(sorted(rows, key=lambda row: (row.effort, row.n_samples)))


def _budget(unit: UnitMass, container: Container, options: CountOptions) -> Budget:
    return count_rows(unit, container, replace(options, piece_cv=None)).budget("plan")


def _expected_container(
    expected_pieces: int, piece_mass_g: float, scale: Instrument, options: CountOptions
) -> Container:
    checks = (
        (expected_pieces >= 2, "expected pieces", expected_pieces, "Give 2 or more"),
        (
            math.isfinite(piece_mass_g) and piece_mass_g > 0,
            "piece mass",
            piece_mass_g,
            "Give the mass of one piece in g",
        ),
        (
            options.piece_cv is not None,
            "piece_cv",
            None,
            "Weigh twenty pieces one by one and give their coefficient of variation",
        ),
    )
    for ok, where, value, mend in checks:
        if not ok:
            raise InputError("the plan needs it", where=where, value=value, mend=mend)
    return Container(
        Reading((expected_pieces * piece_mass_g,), scale), Reading((0.0,), scale), scale
    )


def _impossible(
    expected_pieces: int, piece_mass_g: float, container: Container, options: CountOptions
) -> MeasurementError:
    """Why no plan reaches the limit: the largest influence that more counting does not touch."""
    sd = (options.piece_cv or 0.0) * piece_mass_g
    endless = UnitMass(piece_mass_g, sd, 1_000_000, 1_000_000_000)
    budget = _budget(endless, container, options)
    least = budget.relative_expanded_uncertainty
    where = f"plan for {expected_pieces} pieces, U {percent_text(options.u_limit)}"
    if least > options.u_limit:
        worst = max(budget.components, key=lambda row: row.contribution)
        mend = "Count all pieces by hand"
        if worst.name.startswith("resolution"):
            mend += f", or use a scale finer than {container.gross.instrument.resolution:g} g"
        return MeasurementError(
            f"no number of samples brings U below {percent_text(least)}: {worst.name} is in "
            "the way",
            where=where,
            mend=mend,
        )
    return MeasurementError(
        f"it would take as many pieces as the container holds, or more than {MAX_PLANNED} samples",
        where=where,
        mend="Count all pieces by hand, or accept a wider limit",
    )
