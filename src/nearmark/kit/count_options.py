"""What a count by weighing is asked: the options, and the weighed container."""

from dataclasses import dataclass
from typing import Literal

from nearmark.errors import InputError
from nearmark.kit.assigned_value import DEFAULT_U_LIMIT
from nearmark.measurement.instruments import Instrument, Reading

DEFAULT_MISCOUNT = 0.05
"""One sample in twenty is miscounted by one piece (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class CountOptions:
    """What is known or wanted beside the weighings."""

    measurand: str = "number of pieces"
    # Largest relative U at which the count is fit to be a key (relative, in (0, 1)).
    u_limit: float = DEFAULT_U_LIMIT
    # Coefficient of variation of the mass of one piece, when known from elsewhere (relative or
    # None).
    piece_cv: float | None = None
    # Allowance for moisture taken up or dust lost between sampling and filling: standard
    # uncertainty of the count (relative).
    moisture_u: float = 0.0
    # Chance that one sample was miscounted by one piece (dimensionless, in [0, 1]).
    miscount_probability: float = DEFAULT_MISCOUNT
    # Whether the samples came from the lot the container was filled from, or out of it (``lot`` or
    # ``container``).
    samples_from: Literal["lot", "container"] = "lot"
    # Standard uncertainty of an error that all samples share because the lot was not mixed: small
    # pieces sink, so samples from the top are heavier. 0: they came from all depths; ``None``: not
    # stated, nothing is added and the row asks (relative or None).
    mixing_u: float | None = None
    # Name of the lot; counts of one lot then share that error. Empty: nothing else is of it.
    lot: str = ""

    def __post_init__(self) -> None:
        cv = self.piece_cv
        checks = (
            (0 < self.u_limit < 1, "u_limit", self.u_limit, "between 0 and 1; 1 % is 0.01"),
            (cv is None or 0 < cv < 2, "piece_cv", cv, "between 0 and 2; 10 % is 0.10"),
            (
                0 <= self.moisture_u < 0.5,
                "moisture_u",
                self.moisture_u,
                "0 or more; 0.2 % is 0.002",
            ),
            (
                0 <= (self.mixing_u or 0) < 0.5,
                "mixing_u",
                self.mixing_u,
                "0 or more; 2 % is 0.02",
            ),
            (
                0 <= self.miscount_probability <= 1,
                "miscount_probability",
                self.miscount_probability,
                "between 0 and 1; one sample in twenty is 0.05",
            ),
            (
                self.samples_from in {"lot", "container"},
                "samples_from",
                self.samples_from,
                "lot or container",
            ),
        )
        for ok, name, value, allowed in checks:
            if not ok:  # also refuses NaN, which compares false
                raise InputError(
                    "not a possible value",
                    where=f"count options, {name}",
                    value=value,
                    mend=f"Give {allowed}",
                )


@dataclass(frozen=True, slots=True)
class Container:
    """A container weighed full and empty, and the scale its samples were weighed on."""

    # Reading, in g.
    gross: Reading
    tare: Reading
    sample_scale: Instrument  # Instrument, in g

    @property
    def net_g(self) -> float:
        """Net mass of the pieces, in g."""
        return self.gross.mean - self.tare.mean
