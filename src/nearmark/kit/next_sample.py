"""What one more sample is worth, while counting is still going on."""

from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.errors import InputError
from nearmark.kit.assigned_value import percent_text
from nearmark.kit.count_budget import count_rows
from nearmark.kit.count_checks import check_count, checked_container, checked_samples
from nearmark.kit.count_options import Container, CountOptions
from nearmark.kit.unit_mass import Sample, UnitMass, unit_mass
from nearmark.measurement.instruments import Instrument, Reading

MOST_MORE = 50
"""Further samples beyond which something else must change."""


@dataclass(frozen=True, slots=True)
class NextSample:
    """What one more sample is worth.

    Attributes
    ----------
    pieces : pieces
        Size of the sample considered.
    now_relative_u, predicted_relative_u : relative
        Expanded uncertainty before and after, if the new sample scatters as the others did.
    more_needed : samples or None
        Samples of this size until the count is fit; ``None`` if 50 are not enough.
    words : str
    """

    pieces: int
    now_relative_u: float
    predicted_relative_u: float
    more_needed: int | None
    words: str


def next_sample(
    samples: Sequence[Sample],
    gross: Reading,
    tare: Reading,
    pieces: int | None = None,
    *,
    sample_scale: Instrument | None = None,
    options: CountOptions | None = None,
) -> NextSample:
    """What one more sample would do to the uncertainty of a count.

    Parameters
    ----------
    samples : shape (k,), k >= 2
        Counted and weighed so far.
    gross, tare : Reading, in g
    pieces : pieces, >= 1, or None
        Size of the next sample; ``None``: the mean size so far.
    sample_scale : Instrument or None
        ``None``: the scale of the gross reading.
    options : CountOptions or None

    Returns
    -------
    NextSample

    Raises
    ------
    InputError, UnitError, TooFewReadings, ReadingsDisagree
        As ``count_by_weighing``.

    Examples
    --------
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> samples = [Sample(150, 92.3), Sample(150, 91.8), Sample(150, 92.1)]
    >>> gross, tare = Reading((3914.2,), scale), Reading((212.4,), scale)
    >>> next_sample(samples, gross, tare).words
    'One more sample of 150 brings U from 0.70 % to 0.46 %'
    """
    container = checked_container(gross, tare, sample_scale)
    checked = checked_samples(samples, container.sample_scale)
    unit = unit_mass(checked)
    check_count(unit, checked, container)
    if pieces is not None and pieces < 1:
        raise InputError(
            "a sample needs at least one piece",
            where="pieces of the next sample",
            value=pieces,
            mend="Give 50 or more",
        )
    return predict_next(unit, container, options or CountOptions(), pieces)


def predict_next(
    unit: UnitMass, container: Container, options: CountOptions, pieces: int | None = None
) -> NextSample:
    """``next_sample`` for readings that have been checked already.

    Parameters
    ----------
    unit : UnitMass
    container : Container
    options : CountOptions
    pieces : pieces, >= 1, or None

    Returns
    -------
    NextSample

    Examples
    --------
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = checked_container(Reading((712.4,), scale), Reading((102.4,), scale), None)
    >>> predict_next(UnitMass(0.61, 0.05, 3, 300), container, CountOptions()).more_needed
    4
    """
    size = pieces or max(1, round(unit.n_pieces / unit.n_samples))
    now = _relative_u(unit, container, options)
    after = _relative_u(unit.with_more(1, size), container, options)
    return NextSample(
        size,
        now,
        after,
        _more_needed(unit, container, options, size),
        f"One more sample of {size} brings U from {percent_text(now)} to {percent_text(after)}",
    )


def _relative_u(unit: UnitMass, container: Container, options: CountOptions) -> float:
    return count_rows(unit, container, options).budget("").relative_expanded_uncertainty


def _more_needed(
    unit: UnitMass, container: Container, options: CountOptions, size: int
) -> int | None:
    """Fewest further samples that make it fit; U falls with every sample, so halve the range."""

    def fits(more: int) -> bool:
        return _relative_u(unit.with_more(more, size), container, options) <= options.u_limit

    if not fits(MOST_MORE):
        return None
    low, high = -1, MOST_MORE
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high
