"""What one more sample is worth, while counting is still going on, and whether larger ones are."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.errors import InputError
from nearmark.kit.assigned_value import percent_text
from nearmark.kit.count_budget import count_rows
from nearmark.kit.count_checks import check_count, checked_container, checked_samples
from nearmark.kit.count_options import Container, CountOptions
from nearmark.kit.sample_scatter import shows_rounding
from nearmark.kit.sampling_plan import minutes_to_count
from nearmark.kit.unit_mass import Sample, UnitMass, unit_mass
from nearmark.measurement.instruments import Instrument, Reading

MOST_MORE = 50
"""Further samples beyond which something else must change."""

LARGER_SIZES = (50, 75, 100, 150, 200, 300, 400, 500, 750, 1000, 1500, 2000)
MOST_LARGER = 10
"""Larger samples than what is counted so far, and how many of them at most are proposed."""

LESS_WORK = 0.8
"""Larger samples are proposed where they take less than this share of the work."""

MAX_MINUTES = 120
"""Nor are they proposed where they take longer than this."""


@dataclass(frozen=True, slots=True)
class MoreSamples:
    """Samples that should make a count fit.

    Attributes
    ----------
    pieces, n_samples : pieces, samples
        How many samples, of how many pieces each.
    """

    pieces: int
    n_samples: int

    @property
    def total_pieces(self) -> int:
        """Pieces to count in all."""
        return self.pieces * self.n_samples

    @property
    def minutes(self) -> int:
        """Time it takes to count and weigh them, rounded up.

        Examples
        --------
        >>> MoreSamples(150, 2).minutes
        6
        """
        return minutes_to_count(self.total_pieces, self.n_samples)

    @property
    def words(self) -> str:
        """How much to count, and how long it takes.

        Examples
        --------
        >>> MoreSamples(150, 2).words
        'Count 300 more: about 6 minutes'
        """
        return f"Count {self.total_pieces} more: {self.time}"

    @property
    def time(self) -> str:
        """The minutes in words."""
        return f"about {self.minutes} {'minute' if self.minutes == 1 else 'minutes'}"


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
    'One more sample of 150 brings U from 1.6 % to 0.99 %'
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
    8
    """
    size = pieces or max(1, round(unit.n_pieces / unit.n_samples))
    now = _relative_u(unit, container, options)
    after = _relative_u(unit.with_more(1, size), container, options)
    return NextSample(
        size,
        now,
        after,
        _more_needed(unit, container, options, size, MOST_MORE),
        f"One more sample of {size} brings U from {percent_text(now)} to {percent_text(after)}",
    )


def advice(
    unit: UnitMass, container: Container, options: CountOptions, coming: NextSample
) -> tuple[str, ...]:
    """What to do with a count that is not fit; nothing when it is.

    Parameters
    ----------
    unit : UnitMass
    container : Container
    options : CountOptions
    coming : NextSample
        Of the same count.

    Returns
    -------
    tuple of str

    Examples
    --------
    >>> scale = Instrument("bench scale", "g", 0.1)
    >>> container = checked_container(Reading((1402.4,), scale), Reading((102.4,), scale), None)
    >>> unit, options = UnitMass(0.052, 0.0, 10, 1000), CountOptions()
    >>> lines = advice(unit, container, options, predict_next(unit, container, options))
    >>> lines[0]
    'Another sample of 100 will not help: the scale rounds to 0.1 g'
    >>> lines[1][:43], lines[1][-38:]
    ('Weigh larger samples, 750 pieces at once: o', '.0 %. Count 750 more: about 13 minutes')
    """
    if coming.now_relative_u <= options.u_limit:
        return ()
    limit, size = percent_text(options.u_limit), coming.pieces
    left = container.net_g / unit.mass_g - unit.n_pieces
    same = MoreSamples(size, coming.more_needed) if coming.more_needed else None
    if same and same.total_pieces >= left:
        same = None
    larger = _larger(unit, container, options, left, same)
    lines = []
    if same:
        lines.append(f"{coming.words} ({MoreSamples(size, 1).time})")
        if same.n_samples > 1:
            lines.append(
                f"{same.n_samples} more samples of {size} should reach {limit}. {same.words}"
            )
    elif not shows_rounding(unit, container.sample_scale):
        step = f"{container.sample_scale.resolution:g} g"
        lines.append(f"Another sample of {size} will not help: the scale rounds to {step}")
    else:
        lines.append(f"More samples of {size} will not reach {limit}")
    if larger:
        lines.append(
            f"{'Larger samples are less work' if same else 'Weigh larger samples'}, "
            f"{larger.pieces} pieces at once: {_of_them(larger.n_samples)} should reach {limit}. "
            f"{larger.words}"
        )
    elif not same:
        lines.append("Look for a miscount, use a finer scale, or let two people count all pieces")
    return tuple(lines)


def _of_them(n: int) -> str:
    return "one of them" if n == 1 else f"{n} of them"


def _larger(
    unit: UnitMass,
    container: Container,
    options: CountOptions,
    left: float,
    same: MoreSamples | None,
) -> MoreSamples | None:
    """Larger samples that make the count fit with clearly less work; ``None`` if there are none."""
    best = None
    most_minutes = min(LESS_WORK * same.minutes if same else math.inf, MAX_MINUTES)
    for size in LARGER_SIZES:
        if size <= unit.n_pieces / unit.n_samples or size >= left:
            continue
        most = min(MOST_LARGER, int(left / size))
        while most and MoreSamples(size, most).minutes > most_minutes:
            most -= 1
        n = _more_needed(unit, container, options, size, most) if most else None
        if n is not None:
            best = MoreSamples(size, n)
            most_minutes = best.minutes - 1
    return best


def _relative_u(unit: UnitMass, container: Container, options: CountOptions) -> float:
    return count_rows(unit, container, options).budget("").relative_expanded_uncertainty


def _more_needed(
    unit: UnitMass, container: Container, options: CountOptions, size: int, most: int
) -> int | None:
    """Fewest further samples that make it fit; U falls with every sample, so halve the range."""

    def fits(more: int) -> bool:
        return _relative_u(unit.with_more(more, size), container, options) <= options.u_limit

    if not fits(most):
        return None
    low, high = -1, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high
