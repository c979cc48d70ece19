"""The mass of one piece, from counted and weighed samples."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from nearmark.errors import TooFewReadings

MIN_SAMPLES = 2


@dataclass(frozen=True, slots=True)
class Sample:
    """Pieces that were counted and then weighed together."""

    pieces: int  # pieces, >= 1
    mass_g: float  # net mass: the dish is already taken off


@dataclass(frozen=True, slots=True)
class UnitMass:
    """All that the samples say of one piece; the count depends on them through these four alone."""

    mass_g: float  # mean mass of a piece
    # Scatter of the samples put down to one piece: the variance of the mass of ``n`` pieces is
    # ``n`` times its square. Scatter of weighing and counting is in it too.
    piece_sd_g: float
    # How many samples, and how many pieces in all of them together (samples, pieces).
    n_samples: int
    n_pieces: int

    @property
    def u_g(self) -> float:
        """Standard uncertainty of the mean mass of a piece, in g."""
        return self.piece_sd_g / math.sqrt(self.n_pieces)

    @property
    def dof(self) -> int:
        """Samples minus one."""
        return self.n_samples - 1

    def with_more(self, n_samples: int, pieces: int) -> "UnitMass":
        """What is to be expected after more samples that scatter as these did.

        >>> UnitMass(0.61, 0.05, 3, 300).with_more(1, 150)
        UnitMass(mass_g=0.61, piece_sd_g=0.05, n_samples=4, n_pieces=450)

        Parameters
        ----------
        n_samples : samples, >= 0
        pieces : pieces in each, >= 1
        """
        return UnitMass(
            self.mass_g,
            self.piece_sd_g,
            self.n_samples + n_samples,
            self.n_pieces + n_samples * pieces,
        )


def unit_mass(samples: Sequence[Sample]) -> UnitMass:
    """Mean mass of a piece and its scatter, by the ratio estimator.

    A sample of ``n`` pieces varies with variance ``n sigma^2``.  The best weights are then total
    mass over total pieces, and ``sigma^2`` is estimated by
    ``sum((mass_i - n_i m)^2 / n_i) / (k - 1)``.  For samples of equal size both are the plain mean
    and the plain standard deviation of the sample masses.

    >>> piece = unit_mass([Sample(100, 61.2), Sample(100, 61.9), Sample(150, 92.0)])
    >>> round(piece.mass_g, 5), round(piece.u_g, 5), piece.dof
    (0.61457, 0.00202, 2)

    Parameters
    ----------
    samples : shape (k,), k >= 2

    Raises
    ------
    TooFewReadings : if there are fewer than two samples

    References
    ----------
    Weighted least squares through the origin with variance proportional to ``n``; W. G. Cochran,
    *Sampling Techniques*, 3rd ed. 1977, section 6.7 (from memory).
    """
    if len(samples) < MIN_SAMPLES:
        raise TooFewReadings(
            "counted samples",
            got=len(samples),
            need=MIN_SAMPLES,
            mend="Count and weigh another sample: one alone shows no scatter",
        )
    n_pieces = sum(sample.pieces for sample in samples)
    mass = math.fsum(sample.mass_g for sample in samples) / n_pieces
    squares = math.fsum(
        (sample.mass_g - sample.pieces * mass) ** 2 / sample.pieces for sample in samples
    )
    deviation = math.sqrt(squares / (len(samples) - 1))
    return UnitMass(mass, deviation, len(samples), n_pieces)
