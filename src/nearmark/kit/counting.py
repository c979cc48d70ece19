"""A count found by weighing.  The model module of Nearmark: read it first.

The model, in seven lines::

    N = G / m                  pieces in the container
    G = gross - tare           net mass, each the mean of its readings
    m = sum(mass_i) / sum(n_i) mass of one piece, from counted samples     unit_mass.py
    the scatter of few samples is taken larger than it looks               sample_scatter.py
    every influence on N is one row of a budget                            count_budget.py
    U = 1.96 u                 Student's factor is in the rows             measurement/
    interval                   Fieller: all N that the readings allow      below

What is refused and what is only pointed at is in ``count_checks.py``; what one more sample
would be worth in ``sampling_plan.py``.
"""

import math
from collections.abc import Sequence

from nearmark.errors import ReadingsDisagree
from nearmark.kit.assigned_value import AssignedValue
from nearmark.kit.count_budget import CountRows, count_rows
from nearmark.kit.count_checks import (
    check_count,
    checked_container,
    checked_samples,
    count_warnings,
)
from nearmark.kit.count_options import Container, CountOptions
from nearmark.kit.key_advice import CountByHand, KeyAdvice, LookElsewhere
from nearmark.kit.next_sample import NextSample, predict_next
from nearmark.kit.sampling_plan import minutes_to_count
from nearmark.kit.unit_mass import Sample, UnitMass, unit_mass
from nearmark.kit.ways_on import MAX_MINUTES, advice
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.measurement.rounding import round_to

BY_HAND = 300
"""Below this a complete count by hand is the better way (common practice, no source)."""


def count_by_weighing(
    samples: Sequence[Sample],
    gross: Reading,
    tare: Reading,
    *,
    sample_scale: Instrument | None = None,
    options: CountOptions | None = None,
) -> AssignedValue:
    """Count the pieces in a container by weighing them; the key is rounded to whole pieces.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> samples = [Sample(100, 61.2), Sample(100, 61.9), Sample(150, 92.0)]
    >>> result = count_by_weighing(
    ...     samples, Reading((3914.2,), scale), Reading((212.4,), scale),
    ...     options=CountOptions("number of pieces in container B2"))
    >>> result.key, f"{100 * result.relative_expanded_u:.2f} %", result.fit
    (Decimal('6023'), '2.39 %', False)

    Parameters
    ----------
    samples : shape (k,), k >= 2; counted pieces with their net masses in g
    gross, tare : Reading, in g; the container with and without the pieces
    sample_scale : Instrument, in g, or None
        Scale of the samples; ``None``: the scale of the gross reading, whose gain then cancels.
    options : ``None``: the defaults

    Raises
    ------
    InputError, UnitError : if a reading or a number of pieces cannot be
    TooFewReadings : if there are fewer than two samples
    ReadingsDisagree
        If the samples contradict each other, or scatter so much that no interval exists.

    Notes
    -----
    The interval is meant for weighing until the count is fit: called after each sample and stopped
    at the first ``fit``, it holds in 95 of 100 keys or more, for piece spreads of 5 to 25 % and
    samples of 100 and 300 (``benchmarks/stopping.py``).  Who gives up before keeps the lucky keys:
    where few come to fit within 30 samples, the interval of those few holds in 83 to 93 of 100.
    ``advice`` therefore never proposes more than 30 samples of one size, but larger ones.  For a
    number of samples fixed beforehand the interval is wider than needed and holds in 98 of 100 or
    more (``benchmarks/covering.py``).

    References
    ----------
    JCGM 100:2008, clause 5.1 (u); E. C. Fieller, *Some problems in interval estimation*,
    J. R. Statist. Soc. B 16 (1954) 175 (interval; from memory).
    """
    options = options or CountOptions()
    container = checked_container(gross, tare, sample_scale)
    checked = checked_samples(samples, container.sample_scale)
    unit = unit_mass(checked)
    check_count(unit, checked, container)

    rows = count_rows(unit, container, options)
    budget = rows.budget(options.measurand)
    coming = predict_next(unit, container, options)
    return AssignedValue(
        method="count by weighing",
        budget=budget,
        interval=fieller_interval(rows, budget.coverage_factor),
        key=round_to(budget.value, 0),
        u_limit=options.u_limit,
        warnings=(*count_warnings(unit, checked, container, options.piece_cv),),
        advice=_advice(unit, container, options, coming),
    )


def fieller_interval(rows: CountRows, k: float) -> tuple[float, float]:
    """All ``N`` (pieces) for which ``G - N m`` is zero within ``k`` standard uncertainties.

    The variance of ``G - N m`` is ``a + b N + c N^2``: net mass, piece spread of the container,
    samples and relative influences.  For small uncertainties the ends tend to ``value -+ k u``; for
    few samples the interval reaches further up than down.

    >>> from nearmark.kit.count_options import Container
    >>> from nearmark.kit.unit_mass import UnitMass
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = Container(Reading((712.4,), scale), Reading((102.4,), scale), scale)
    >>> rows = count_rows(UnitMass(0.61, 0.05, 3, 300), container, CountOptions())
    >>> [round(end) for end in fieller_interval(rows, 4.303)]
    [934, 1075]

    Parameters
    ----------
    k : dimensionless; coverage factor

    Raises
    ------
    ReadingsDisagree
        If the mass of a piece cannot be distinguished from zero, so that the set has no upper end.

    References
    ----------
    E. C. Fieller, *Some problems in interval estimation*, J. R. Statist. Soc. B 16 (1954) 175
    (from memory; checked against the t interval of the mean piece mass in the reference tests).
    """
    count, mass, net = rows.value, rows.unit.mass_g, rows.net_g
    fixed = math.fsum(row.contribution**2 for row in rows.net) * mass**2
    per_piece = rows.spread.contribution**2 * mass**2 / count
    per_square = math.fsum(row.contribution**2 for row in rows.samples + rows.common)
    per_square *= (mass / count) ** 2
    # (G - N m)^2 = k^2 (fixed + per_piece N + per_square N^2), solved for N.
    leading = mass**2 - k**2 * per_square
    if leading <= 0:
        raise ReadingsDisagree(
            f"the samples scatter too much for any interval: the mass of a piece, {mass:.3g} g, "
            "cannot be distinguished from zero",
            where="counted samples",
            mend="Count and weigh more samples, and check each for a miscount",
        )
    half = net * mass + k**2 * per_piece / 2
    root = math.sqrt(half**2 - leading * (net**2 - k**2 * fixed))
    return max((half - root) / leading, 0.0), (half + root) / leading


def _advice(
    unit: UnitMass, container: Container, options: CountOptions, coming: NextSample
) -> tuple[KeyAdvice, ...]:
    """What to do when the count is not fit; nothing when it is."""
    found = advice(unit, container, options, coming)
    if not found:
        return ()
    count = round(container.net_g / unit.mass_g)
    if LookElsewhere() in found and minutes_to_count(2 * count, 0) <= MAX_MINUTES:
        return (CountByHand(count), *(one for one in found if one != LookElsewhere()))
    return (*found, CountByHand(count)) if count < BY_HAND else found
