"""What a count by weighing refuses, and what it only points at."""

import math
import operator
from collections.abc import Sequence
from statistics import median

from nearmark.errors import InputError, ReadingsDisagree, TooFewReadings, UnitError
from nearmark.kit.count_options import Container
from nearmark.kit.key_warnings import KeyWarning, PiecesVary, SamplesAllAgree
from nearmark.kit.odd_spread import contradicted_spread
from nearmark.kit.reading_checks import MAX_RATIO, checked_in, off_grid_warnings, slip_warnings
from nearmark.kit.unit_mass import MIN_SAMPLES, Sample, UnitMass
from nearmark.measurement.instruments import Instrument, Reading

MAX_SAMPLES = 1000
MIN_PIECE_G = 0.001
MAX_PIECE_G = 1000.0
MAX_COUNT = 1_000_000


def checked_container(gross: Reading, tare: Reading, sample_scale: Instrument | None) -> Container:
    """The weighed container, after refusing what cannot be.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> checked_container(Reading((712.4,), scale), Reading((102.4,), scale), None).net_g
    610.0

    Parameters
    ----------
    gross, tare : Reading, in g
    sample_scale : ``None``: the scale of the gross reading

    Raises
    ------
    InputError, UnitError, ReadingsDisagree : if a reading is impossible, or gross is not above tare
    """
    container = Container(
        checked_in("g", gross, "gross"),
        checked_in("g", tare, "tare", zero_allowed=True),
        sample_scale or gross.instrument,
    )
    if container.net_g <= 0:
        raise InputError(
            f"gross is not above tare ({tare.mean:g} g)",
            where="gross",
            value=f"{gross.mean:g} g",
            mend="Check whether gross and tare were swapped",
        )
    return container


def checked_samples(samples: Sequence[Sample], scale: Instrument) -> tuple[Sample, ...]:
    """The counted samples, after refusing what cannot be.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> checked_samples([Sample(100, 61.2), Sample(100, 16.2)], scale)
    Traceback (most recent call last):
        ...
    nearmark.errors.ReadingsDisagree: sample 2: ...

    Parameters
    ----------
    samples : shape (k,), 2 <= k <= 1000
    scale : Instrument, in g

    Raises
    ------
    TooFewReadings : if there are fewer than two
    InputError, UnitError
        If a mass or a number of pieces is impossible, or there are more than 1000 samples.
    ReadingsDisagree : if the unit masses differ by more than a factor of 1.5
    """
    if len(samples) < MIN_SAMPLES:
        raise TooFewReadings(
            "counted samples",
            got=len(samples),
            need=MIN_SAMPLES,
            mend="Count and weigh another sample: one alone shows no scatter",
        )
    if len(samples) > MAX_SAMPLES:
        raise InputError(
            f"more than {MAX_SAMPLES} samples",
            where="counted samples",
            value=len(samples),
            mend="Give each sample once; 20 are plenty",
        )
    checked = tuple(
        _checked_sample(sample, scale, f"sample {i}") for i, sample in enumerate(samples, start=1)
    )
    _check_agreement(checked)
    return checked


def _checked_sample(sample: Sample, scale: Instrument, where: str) -> Sample:
    try:
        pieces = operator.index(sample.pieces)
    except TypeError:
        pieces = 0
    if pieces < 1:
        raise InputError(
            "pieces must be a whole number, 1 or more",
            where=where,
            value=sample.pieces,
            mend="Give the number of pieces counted",
        )
    checked_in("g", Reading((sample.mass_g,), scale), where)
    each = sample.mass_g / pieces
    if not MIN_PIECE_G <= each <= MAX_PIECE_G:
        raise UnitError(
            f"{each:.3g} g a piece is outside {MIN_PIECE_G:g} to {MAX_PIECE_G:g} g",
            where=where,
            value=f"{pieces} pieces, {sample.mass_g:g} g",
            mend="Are these kilograms? Give the mass in g, and check the number of pieces",
        )
    return Sample(pieces, float(sample.mass_g))


def _check_agreement(samples: Sequence[Sample]) -> None:
    each = [sample.mass_g / sample.pieces for sample in samples]
    if max(each) <= MAX_RATIO * min(each):
        return
    middle = median(each)
    worst = max(range(len(each)), key=lambda i: max(each[i] / middle, middle / each[i]))
    raise ReadingsDisagree(
        f"{each[worst]:.4g} g a piece, the median of all samples is {middle:.4g} g",
        where=f"sample {worst + 1}",
        value=f"{samples[worst].pieces} pieces, {samples[worst].mass_g:g} g",
        mend="Count and weigh it again: look for a digit slip, or a dish left on the scale",
    )


def check_count(unit: UnitMass, samples: Sequence[Sample], container: Container) -> None:
    """Refuse a count that points at another unit.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = checked_container(Reading((4.2,), scale), Reading((0.4,), scale), None)
    >>> check_count(UnitMass(0.61, 0.05, 2, 200), [Sample(100, 61.2)], container)
    Traceback (most recent call last):
        ...
    nearmark.errors.UnitError: gross minus tare: ...

    Raises
    ------
    UnitError : if the container holds less than its own smallest sample
    InputError : if the count is above a million
    """
    smallest = min(sample.mass_g for sample in samples)
    if container.net_g < smallest:
        raise UnitError(
            f"the contents weigh less than the smallest sample ({smallest:g} g)",
            where="gross minus tare",
            value=f"{container.net_g:g} g",
            mend="Are gross and tare in kilograms? Give them in g",
        )
    count = container.net_g / unit.mass_g
    if count > MAX_COUNT:
        raise InputError(
            f"more than {MAX_COUNT:,} pieces",
            where="gross minus tare",
            value=f"{count:,.0f} pieces",
            mend="Check the decimal points of gross, tare and samples",
        )


def count_warnings(
    unit: UnitMass, samples: Sequence[Sample], container: Container, piece_cv: float | None = None
) -> tuple[KeyWarning, ...]:
    """What a person should look at before trusting the count.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = checked_container(Reading((712.4,), scale), Reading((102.4,), scale), None)
    >>> samples = [Sample(100, 61.2), Sample(100, 61.2)]
    >>> count_warnings(UnitMass(0.612, 0.0, 2, 200), samples, container)
    (SamplesAllAgree(),)

    Parameters
    ----------
    samples : shape (k,)
    piece_cv : relative, or None; spread of the pieces as it was stated
    """
    found: list[KeyWarning] = [
        *off_grid_warnings(container.gross, "gross"),
        *off_grid_warnings(container.tare, "tare"),
        *slip_warnings(container.gross, "gross"),
        *slip_warnings(container.tare, "tare"),
    ]
    scale = container.sample_scale
    for i, sample in enumerate(samples, start=1):
        found += off_grid_warnings(Reading((sample.mass_g,), scale), f"sample {i}")
    if unit.piece_sd_g > unit.mass_g:
        found.append(PiecesVary(unit.piece_sd_g / unit.mass_g))
    if _all_agree(unit, samples, scale):
        found.append(SamplesAllAgree())
    if piece_cv is not None:
        contradicted = contradicted_spread(unit, scale.resolution_u, piece_cv)
        found += [contradicted] if contradicted else []
    return tuple(found)


def _all_agree(unit: UnitMass, samples: Sequence[Sample], scale: Instrument) -> bool:
    half_step = scale.resolution / 2
    return all(
        math.isclose(s.mass_g, s.pieces * unit.mass_g, rel_tol=1e-9, abs_tol=0.99 * half_step)
        for s in samples
    )
