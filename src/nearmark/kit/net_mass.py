"""The net mass of a filled cup, with its own tare or with the tare of its batch."""

import math
from collections.abc import Sequence
from decimal import Decimal

from nearmark.errors import InputError, ReadingsDisagree, UnitError
from nearmark.kit.assigned_value import DEFAULT_U_LIMIT, AssignedValue
from nearmark.kit.batch_tare import batch_tare
from nearmark.kit.key_advice import KeyAdvice, NetMassUnsure
from nearmark.kit.reading_checks import checked_in, off_grid_warnings, slip_warnings
from nearmark.kit.reading_rows import gain_act, own_scatter, reading_rows
from nearmark.measurement.acts import Act, ActKind
from nearmark.measurement.budget import Budget, Component
from nearmark.measurement.instruments import Reading
from nearmark.measurement.row_notes import Reason

MAX_NET_G = 100_000.0
CUPS = "spread of the cups"


def net_mass(
    gross: Reading,
    tare: Reading,
    *,
    measurand: str = "net mass",
    u_limit: float = DEFAULT_U_LIMIT,
    batch_tares_g: Sequence[float] = (),
    batch: str = "",
) -> AssignedValue:
    """Net mass: gross minus tare, in g; the key is the decimal difference, not rounded.

    >>> from nearmark.measurement.instruments import Instrument
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> result = net_mass(Reading((131.2,), scale), Reading((24.1,), scale))
    >>> result.key, round(result.u, 4)
    (Decimal('107.1'), 0.0408)

    Parameters
    ----------
    gross, tare : Reading, in g
        The tare is the cup's own; with ``batch_tares_g`` it is the value used for the whole batch.
    u_limit : relative, in (0, 1)
    batch_tares_g : g, shape (n,), empty or n >= 3
        Tares of single cups of the batch, weighed on the scale of the tare.
    batch : name of the batch: an error of its mean tare is then one and the same in all its cups

    Raises
    ------
    InputError, UnitError : if a reading cannot be, or gross is not above tare
    TooFewReadings : if a batch has fewer than three cups
    ReadingsDisagree : if repeats contradict each other, or the tare is not that of the batch

    References
    ----------
    JCGM 100:2008, clauses 4.2, 4.3.7, 5.1.2 and 5.2.2.
    """
    if not 0 < u_limit < 1:
        raise InputError(
            "not a possible value",
            where="u_limit",
            value=u_limit,
            mend="Give a number between 0 and 1; 1 % is 0.01",
        )
    gross = checked_in("g", gross, "gross")
    tare = checked_in("g", tare, "tare", zero_allowed=True)
    net = gross.mean - tare.mean
    if net <= 0:
        raise InputError(
            f"gross is not above tare ({tare.mean:g} g)",
            where="gross",
            value=f"{gross.mean:g} g",
            mend="Check the cup's number, and whether gross and tare were swapped",
        )
    if net > MAX_NET_G:
        raise UnitError(
            f"more than {MAX_NET_G:g} g",
            where="gross minus tare",
            value=f"{net:g} g",
            mend="Check the decimal point, and that both are in g",
        )
    if batch_tares_g:
        tare_rows = _batch_rows(tare, batch_tares_g, batch)
    else:
        tare_rows = _weighing_rows(tare, "tare")
    rows = (*_weighing_rows(gross, "gross"), *tare_rows, *_scale_rows(gross, tare))
    budget = Budget(measurand, net, "g", rows)
    half = budget.expanded_uncertainty
    return AssignedValue(
        method="net mass",
        budget=budget,
        interval=(max(net - half, 0.0), net + half),
        key=_decimal_mean(gross) - _decimal_mean(tare),
        u_limit=u_limit,
        warnings=(
            *off_grid_warnings(gross, "gross"),
            *([] if batch_tares_g else off_grid_warnings(tare, "tare")),
            *slip_warnings(gross, "gross"),
            *slip_warnings(tare, "tare"),
        ),
        advice=_advice(budget, u_limit),
    )


def _weighing_rows(reading: Reading, what: str) -> tuple[Component, Component]:
    return reading_rows(
        what,
        reading.mean,
        reading.n,
        reading.instrument,
        scatter=own_scatter(reading),
        sensitivity=1.0 if what == "gross" else -1.0,
    )


def _batch_rows(tare: Reading, tares_g: Sequence[float], name: str) -> tuple[Component, ...]:
    """One cup of the batch is used, so the scatter of single cups counts, not that of the mean."""
    scale = tare.instrument
    batch = batch_tare(tares_g, scale)
    if abs(batch.mean_g - tare.mean) > scale.resolution:
        raise ReadingsDisagree(
            f"the mean of the batch is {batch.mean_g:.4g} g",
            where="tare",
            value=f"{tare.mean:g} g",
            mend="Give the mean of the batch as its tare, or weigh this cup",
        )
    dof = batch.n_cups - 1
    hidden = math.sqrt(max(scale.resolution_u**2 - batch.sd_g**2, 0.0))
    return (
        Component(
            CUPS, tare.mean, "g", batch.sd_g, -1.0, "t", dof, CUPS, act=Act(ActKind.WEIGH_EACH_CUP)
        ),
        Component(
            "mean of the cups weighed",
            tare.mean,
            "g",
            batch.sd_g / math.sqrt(batch.n_cups),
            -1.0,
            "t",
            dof,
            CUPS,
            cause=f"mean tare of batch {name}" if name else "",
            act=Act(ActKind.WEIGH_MORE_CUPS, name),
        ),
        Component(
            "resolution of tare",
            tare.mean,
            "g",
            hidden,
            -1.0,
            "rectangular",
            notes=() if hidden else (Reason.CONTAINED,),
            cause=f"rounding of the tare of batch {name}" if name else "",
            act=Act(ActKind.WEIGH_CUPS_FINER, name),
        ),
    )


def _scale_rows(gross: Reading, tare: Reading) -> tuple[Component, ...]:
    """Gain acts on both weighings of one scale together: only the net is scaled."""
    slopes = {gross.instrument: gross.mean}
    slopes[tare.instrument] = slopes.get(tare.instrument, 0.0) - tare.mean
    gains = (
        Component(
            f"calibration (gain) of {scale.name}",
            1.0,
            "relative",
            scale.gain_u,
            slope,
            cause=scale.gain_cause,
            act=gain_act(scale),
        )
        for scale, slope in slopes.items()
    )
    net = gross.mean - tare.mean
    linearity = Component("linearity of the net reading", net, "g", gross.instrument.linearity_u)
    return (*gains, linearity)


def _decimal_mean(reading: Reading) -> Decimal:
    """Mean of the decimals that were written down; exact for a single reading."""
    total = sum((Decimal(repr(float(x))) for x in reading.indications), Decimal(0))
    return total / reading.n


def _advice(budget: Budget, u_limit: float) -> tuple[KeyAdvice, ...]:
    now = budget.relative_expanded_uncertainty
    if now <= u_limit:
        return ()
    worst = max(budget.components, key=lambda row: row.contribution)
    return (NetMassUnsure(now, u_limit, worst.name, worst.name == CUPS),)
