"""What any weighing or length reading refuses, and what it only points at."""

from statistics import median

from nearmark.errors import ReadingsDisagree, UnitError
from nearmark.kit.key_warnings import FarFromOthers, OffGrid
from nearmark.measurement.instruments import Reading, checked_reading

MAX_RATIO = 1.5
"""Readings of one thing further apart than this factor are not scatter: one is a slip."""
MAX_READING = 1e9
"""A thousand tonnes, ten thousand kilometres: far above any reading, far below overflow."""


def checked_in(unit: str, reading: Reading, where: str, *, zero_allowed: bool = False) -> Reading:
    """Refuse what no instrument of the unit can mean, and repeats that cannot be of one thing.

    >>> from nearmark.measurement.instruments import Instrument
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> checked_in("g", Reading((61.2, 61.3), scale), "gross").n
    2

    Parameters
    ----------
    unit : ``g`` or ``cm``

    Raises
    ------
    InputError, UnitError : As ``checked_reading``; or the instrument reads another unit
    ReadingsDisagree : if repeats differ by more than a factor of 1.5
    """
    instrument = reading.instrument
    if instrument.unit != unit:
        raise UnitError(
            f"{instrument.name} reads {instrument.unit}, {unit} is needed here",
            where=where,
            mend=f"Use an instrument that reads {unit}",
        )
    checked = checked_reading(reading.indications, instrument, where, zero_allowed=zero_allowed)
    largest = max(checked.indications)
    if largest > MAX_READING:
        raise UnitError(
            f"no {instrument.name} shows that",
            where=where,
            value=f"{largest:g} {unit}",
            mend=f"Check the decimal point, and that it is in {unit}",
        )
    middle = median(checked.indications)
    # Near zero a ratio means nothing: repeats within ten steps are left alone.
    close = 10 * instrument.resolution
    if largest > MAX_RATIO * min(checked.indications) + close:
        worst = max(checked.indications, key=lambda x: abs(x - middle))
        raise ReadingsDisagree(
            f"repeated readings run from {min(checked.indications):g} to {largest:g} {unit}: "
            "one is a slip",
            where=where,
            value=f"{worst:g} {unit}",
            mend="Check the decimal point and read it again",
        )
    return checked


def off_grid_warnings(
    reading: Reading, where: str, *, may_be_inches: bool = False
) -> list[OffGrid]:
    """Each indication its instrument cannot show.

    >>> from nearmark.measurement.instruments import Instrument
    >>> off_grid_warnings(Reading((61.23,), Instrument("bench scale", "g", 0.1)), "gross")[0].value
    61.23
    """
    instrument = reading.instrument
    return [
        OffGrid(
            where, value, instrument.unit, instrument.resolution, instrument.name, may_be_inches
        )
        for value in reading.indications
        if not instrument.can_show(value)
    ]


def slip_warnings(reading: Reading, where: str) -> list[FarFromOthers]:
    """Each repeat so far off that two digits may have changed places.

    >>> from nearmark.measurement.instruments import Instrument
    >>> ruler = Instrument("ruler", "cm", 0.1)
    >>> slip_warnings(Reading((12.4, 14.2, 12.5), ruler), "length")
    [FarFromOthers(where='length', value=14.2, unit='cm', median=12.5)]
    """
    unit, step = reading.instrument.unit, reading.instrument.resolution
    middle = median(reading.indications)
    return [
        FarFromOthers(where, value, unit, middle)
        for value in reading.indications
        if abs(value - middle) > max(10 * step, 0.05 * middle)
    ]
