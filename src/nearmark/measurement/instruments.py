"""Scales and rulers: what their data sheet says, and readings made with them."""

import math
from dataclasses import dataclass

from nearmark.errors import InputError, TooFewReadings, UnitError
from nearmark.measurement.type_a import TypeA, type_a
from nearmark.measurement.type_b import from_expanded, resolution


@dataclass(frozen=True, slots=True)
class Instrument:
    """A scale or a ruler.

    Raises InputError if a number is out of its range.

    >>> round(Instrument("bench scale", "g", 0.1).resolution_u, 4)
    0.0289
    """

    name: str  # what is written on it, for example ``bench scale``
    unit: str  # ``g`` or ``cm``; every other number of this instrument is in it
    resolution: float  # smallest step it can show, > 0 (unit)
    # Standard uncertainty of its scale factor: an error common to all readings, in proportion
    # (relative).
    gain_u: float = 0.0
    # Standard uncertainty of one net reading that is *not* common: it does not cancel (unit).
    linearity_u: float = 0.0
    capacity: float = math.inf  # largest reading it can show; ``math.inf`` when not stated (unit)
    # Standard uncertainty of its zero: an error of the same size in all readings, such as a worn
    # end of a ruler. It cancels in a difference of two readings (unit).
    zero_u: float = 0.0

    def __post_init__(self) -> None:
        where = f"instrument {self.name}"
        if not (math.isfinite(self.resolution) and self.resolution > 0):
            raise InputError(
                "the resolution must be above zero",
                where=where,
                value=self.resolution,
                mend="Give the smallest step the display shows, such as 0.1",
            )
        for label in ("gain_u", "linearity_u", "zero_u"):
            value = getattr(self, label)
            if not (math.isfinite(value) and value >= 0):
                raise InputError(
                    f"{label} must be zero or more",
                    where=where,
                    value=value,
                    mend="Leave it at 0 when the certificate does not state it",
                )
        if not self.capacity > 0:  # also refuses NaN, which compares false
            raise InputError(
                "the capacity must be above zero",
                where=where,
                value=self.capacity,
                mend="Leave it out when it is not stated",
            )

    @property
    def resolution_u(self) -> float:
        """Standard uncertainty of one indication from the resolution alone, in ``unit``."""
        return resolution(self.resolution)

    @property
    def gain_cause(self) -> str:
        """Name of the error of its scale factor: one variable in everything it has read."""
        return f"gain of {self.name}"

    @property
    def zero_cause(self) -> str:
        """Name of the error of its zero: one variable in everything it has read."""
        return f"zero of {self.name}"

    def can_show(self, indication: float) -> bool:
        """Whether the display could show this indication: a whole number of steps.

        >>> Instrument("bench scale", "g", 0.1).can_show(0.0612)
        False

        Parameters
        ----------
        indication : unit of the instrument
        """
        steps = indication / self.resolution
        # A reading typed in decimal misses the grid by rounding of the two numbers only.
        return abs(steps - round(steps)) <= 1e-6 + 1e-12 * abs(steps)


def certified_gain_u(expanded_u: float, coverage_factor: float, reading: float) -> float:
    """Relative standard uncertainty of a scale factor from a certificate: ``U / k / reading``.

    The error that the certificate leaves unknown at one reading is taken as common to all readings,
    in proportion.

    >>> certified_gain_u(0.2, 2, 1000)
    0.0001

    Parameters
    ----------
    expanded_u : unit of the instrument; U as stated
    coverage_factor : dimensionless, > 0; the k stated beside it
    reading : unit of the instrument, > 0; load or length that they are stated for

    Raises
    ------
    InputError : if a number is out of its range

    References
    ----------
    JCGM 100:2008, clause 4.3.3.
    """
    if not 0 < reading < math.inf:
        raise InputError(
            "must be above zero",
            where="reading of the certificate",
            value=reading,
            mend="Give the load or length that U is stated for",
        )
    return from_expanded(expanded_u, coverage_factor) / reading


@dataclass(frozen=True, slots=True)
class Reading:
    """Repeated indications of one quantity on one instrument.

    >>> Reading((12.4, 12.5, 12.4), Instrument("ruler", "cm", 0.1)).n
    3
    """

    indications: tuple[float, ...]  # unit of the instrument, n >= 1
    instrument: Instrument

    @property
    def n(self) -> int:
        """Number of indications."""
        return len(self.indications)

    @property
    def mean(self) -> float:
        """Mean of the indications, in the instrument's unit."""
        if not self.indications:
            raise TooFewReadings(f"readings of {self.instrument.name}", got=0, need=1)
        return math.fsum(self.indications) / len(self.indications)

    def type_a(self) -> TypeA | None:
        """Type A evaluation of the indications; ``None`` when there is only one to evaluate."""
        return type_a(self.indications) if len(self.indications) > 1 else None


def checked_reading(
    indications: tuple[float, ...],
    instrument: Instrument,
    where: str,
    *,
    zero_allowed: bool = False,
) -> Reading:
    """Build a reading after refusing what no scale or ruler can mean.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> checked_reading((61.2,), scale, "sample 1").mean
    61.2

    Parameters
    ----------
    indications : unit of the instrument, shape (n,), n >= 1
    where : which reading, for the message
    zero_allowed : whether an indication of zero makes sense (a tared scale)

    Raises
    ------
    InputError
        If there is no indication, or one is not a finite number, negative, zero or over capacity.
    UnitError : if an indication is smaller than one step of the display: most likely another unit
    """
    unit = instrument.unit
    if not indications:
        raise InputError(
            "no reading given", where=where, mend=f"Give at least one reading in {unit}"
        )
    for value in indications:
        if not math.isfinite(value):
            raise InputError(
                "not a finite number", where=where, value=value, mend=f"Give the reading in {unit}"
            )
        if value < 0 or (value == 0 and not zero_allowed):
            raise InputError(
                "must be above zero" if not zero_allowed else "must not be below zero",
                where=where,
                value=f"{value:g} {unit}",
                mend="Check the sign, and that the scale was zeroed before loading",
            )
        if 0 < value < instrument.resolution * (1 - 1e-9):
            raise UnitError(
                f"smaller than one step ({instrument.resolution:g} {unit}) of {instrument.name}",
                where=where,
                value=f"{value:g} {unit}",
                mend=f"Give it in {unit}" + ("; 0.0612 kg is 61.2 g" if unit == "g" else ""),
            )
        if value > instrument.capacity:
            raise InputError(
                f"over the capacity ({instrument.capacity:g} {unit}) of {instrument.name}",
                where=where,
                value=f"{value:g} {unit}",
                mend="Check the decimal point, or weigh it in parts on a larger scale",
            )
    return Reading(tuple(indications), instrument)
