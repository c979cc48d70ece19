"""What one more sample is worth, while counting is still going on."""

from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.errors import InputError
from nearmark.kit.count_budget import count_rows
from nearmark.kit.count_checks import check_count, checked_container, checked_samples
from nearmark.kit.count_options import Container, CountOptions
from nearmark.kit.sampling_plan import minutes_to_count
from nearmark.kit.unit_mass import Sample, UnitMass, unit_mass
from nearmark.measurement.instruments import Instrument, Reading

MAX_MORE = 30
"""Further samples beyond which something else must change.  Who begins what most would give up
keeps the lucky keys (``benchmarks/stopping.py``), so it is never proposed."""


@dataclass(frozen=True, slots=True)
class MoreSamples:
    """Samples that should make a count fit."""

    # How many samples, of how many pieces each (pieces, samples).
    pieces: int
    n_samples: int

    @property
    def total_pieces(self) -> int:
        """Pieces to count in all."""
        return self.pieces * self.n_samples

    @property
    def minutes(self) -> int:
        """Time it takes to count and weigh them, rounded up.

        >>> MoreSamples(150, 2).minutes
        6
        """
        return minutes_to_count(self.total_pieces, self.n_samples)


@dataclass(frozen=True, slots=True)
class NextSample:
    """What one more sample is worth."""

    pieces: int  # size of the sample considered
    # Expanded uncertainty before and after, if the new sample scatters as the others did
    # (relative).
    now_relative_u: float
    predicted_relative_u: float
    # Samples of this size until the count is fit; ``None`` if 30 are not enough (samples or None).
    more_needed: int | None


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

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> samples = [Sample(150, 92.3), Sample(150, 91.8), Sample(150, 92.1)]
    >>> gross, tare = Reading((3914.2,), scale), Reading((212.4,), scale)
    >>> coming = next_sample(samples, gross, tare)
    >>> coming.pieces, coming.predicted_relative_u < coming.now_relative_u
    (150, True)

    Parameters
    ----------
    samples : shape (k,), k >= 2; counted and weighed so far
    gross, tare : Reading, in g
    pieces : pieces, >= 1, or None; size of the next sample; ``None``: the mean size so far
    sample_scale : ``None``: the scale of the gross reading

    Raises
    ------
    InputError, UnitError, TooFewReadings, ReadingsDisagree : As ``count_by_weighing``
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

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = checked_container(Reading((712.4,), scale), Reading((102.4,), scale), None)
    >>> predict_next(UnitMass(0.61, 0.05, 3, 300), container, CountOptions()).more_needed
    9

    Parameters
    ----------
    pieces : pieces, >= 1, or None
    """
    size = pieces or max(1, round(unit.n_pieces / unit.n_samples))
    now = _relative_u(unit, container, options)
    after = _relative_u(unit.with_more(1, size), container, options)
    return NextSample(
        size,
        now,
        after,
        more_needed(unit, container, options, size, MAX_MORE),
    )


def _relative_u(unit: UnitMass, container: Container, options: CountOptions) -> float:
    return count_rows(unit, container, options).budget("").relative_expanded_uncertainty


def more_needed(
    unit: UnitMass, container: Container, options: CountOptions, size: int, most: int
) -> int | None:
    """Fewest further samples that make a count fit; ``None`` if so many are not enough.

    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = checked_container(Reading((712.4,), scale), Reading((102.4,), scale), None)
    >>> more_needed(UnitMass(0.61, 0.05, 3, 300), container, CountOptions(), 100, 30)
    9

    Parameters
    ----------
    size : pieces; in each of them
    most : samples
    """

    def fits(more: int) -> bool:
        return _relative_u(unit.with_more(more, size), container, options) <= options.u_limit

    if not fits(most):
        return None
    low, high = -1, most  # U falls with every sample, so halve the range
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high
