"""What is asked as a doubt is not said once more as a warning of the value."""

from collections.abc import Iterable
from dataclasses import replace

from nearmark.contest.doubt import Doubt
from nearmark.contest.odd_records import OddGross
from nearmark.kit.assigned_value import AssignedValue
from nearmark.kit.key_warnings import FarFromOthers, KeyWarning
from nearmark.kit.odd_records import MassDiffers, OddCup, OddSide, OddSpread, SideDiffers


def without_asked(assigned: AssignedValue, doubts: Iterable[Doubt]) -> AssignedValue:
    """The value without the warnings that a doubt asks about already.

    >>> from nearmark.kit import CountOptions, Sample, count_by_weighing
    >>> from nearmark.contest.doubt import DoubtKind
    >>> from nearmark.measurement.instruments import Instrument, Reading
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> samples = [Sample(100, mass_g) for mass_g in (61.2, 62.4, 60.3, 61.9, 60.5)]
    >>> found = count_by_weighing(
    ...     samples, Reading((3914.2,), scale), Reading((212.4,), scale),
    ...     options=CountOptions(piece_cv=0.0015))
    >>> (spread,) = found.warnings
    >>> asked = Doubt("spread:beans", DoubtKind.SPREAD, "C1", "", "", spread)
    >>> without_asked(found, [asked]).warnings
    ()

    Parameters
    ----------
    doubts : Doubt, shape (n,); about the same item, open or closed with a reason
    """
    odd = [doubt.odd for doubt in doubts]
    spreads = any(isinstance(one, OddSpread) for one in odd)
    readings = {_reading(one) for one in odd}

    def is_asked(warning: KeyWarning) -> bool:
        if isinstance(warning, OddSpread):
            return spreads
        return isinstance(warning, FarFromOthers) and warning.value in readings

    said = tuple(warning for warning in assigned.warnings if not is_asked(warning))
    return replace(assigned, warnings=said)


def _reading(odd: object) -> float | None:
    """The reading that looks like a slip."""
    match odd:
        case MassDiffers():
            return float(odd.mass_g)
        case OddSide() | SideDiffers():
            return float(odd.reading_cm)
        case OddCup():
            return float(odd.tare_g)
        case OddGross():
            return float(odd.gross_g)
    return None
