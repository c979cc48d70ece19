"""Net mass of a cup: gross less its own tare, or less the one tare of its batch."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from statistics import mean

from nearmark.contest.event import Cup, Event
from nearmark.contest.questions import (
    CupOnUnknownScale,
    CupWithoutTare,
    NetMassRefused,
    NetQuestion,
)
from nearmark.errors import NearmarkError
from nearmark.kit import batch_tare, net_mass
from nearmark.kit.batch_tare import MIN_CUPS
from nearmark.measurement.budget import Component
from nearmark.measurement.instruments import Instrument, Reading


@dataclass(frozen=True, slots=True)
class NetMass:
    """What is in a cup."""

    net_g: Decimal | None  # exactly gross less tare; ``None`` when there is no telling (g, or None)
    u_g: float = 0.0  # standard uncertainty
    trouble: NetQuestion | None = None  # what is in the way
    # What it shares with other cups and with keys; see ``Budget.causes``.
    causes: tuple[Component, ...] = ()


@dataclass(frozen=True, slots=True)
class OddTare:
    """A cup whose tare is not like its batch."""

    cup: str
    tare_g: Decimal
    batch: str
    mean_g: float  # mean tare of the batch


@dataclass(frozen=True, slots=True)
class OddBatch:
    """A batch of cups whose tares bear no mean."""

    batch: str
    refusal: str  # the words of the error


@dataclass(frozen=True, slots=True)
class CupTares:
    """The tares of an event, by the number of a cup and by the name of a batch."""

    cups: dict[str, Cup]
    batches: dict[str, tuple[Cup, ...]]  # tuple of Cup by name
    scales: dict[str, Instrument]  # Instrument by name

    @classmethod
    def of(cls, event: Event) -> "CupTares":
        """The tares of an event.

        >>> from datetime import date
        >>> cup = Cup("7", Decimal("24.1"), "bench scale")
        >>> scale = Instrument("bench scale", "g", 0.1)
        >>> day = Event("Larkspur Valley Estimation Day", date(2027, 5, 8),
        ...             instruments=(scale,), cups=(cup,))
        >>> CupTares.of(day).net(Decimal("131.2"), "7").net_g
        Decimal('107.1')
        """
        batches: dict[str, list[Cup]] = defaultdict(list)
        for cup in event.cups:
            if cup.batch:
                batches[cup.batch].append(cup)
        return cls(
            {cup.number: cup for cup in event.cups},
            {name: tuple(cups) for name, cups in batches.items()},
            {scale.name: scale for scale in event.instruments},
        )

    def net(self, gross_g: Decimal, cup: str, scale: str = "") -> NetMass:
        """Net mass from a gross mass and what is written on the cup.

        Parameters
        ----------
        gross_g : g
        cup : number of the cup; the name of a batch when the cup has no number
        scale : str
            Name of the scale that showed the gross mass; empty: the one that weighed the empty cup.
        """
        own = self.cups.get(cup)
        alike = () if own else self.batches.get(cup, ())
        tare_g = self.tare_g(cup)
        if tare_g is None:
            return NetMass(None, trouble=CupWithoutTare(cup))
        of_tare = own.instrument if own else alike[0].instrument
        of_gross = scale or of_tare
        for name in (of_tare, of_gross):
            if name not in self.scales:
                return NetMass(None, trouble=CupOnUnknownScale(cup, name))
        try:
            assigned = net_mass(
                Reading((float(gross_g),), self.scales[of_gross]),
                Reading((float(tare_g),), self.scales[of_tare]),
                batch_tares_g=[float(one.tare_g) for one in alike],
                batch=cup if alike else "",
            )
        except NearmarkError as refusal:
            return NetMass(None, trouble=NetMassRefused(cup, str(refusal)))
        return NetMass(gross_g - tare_g, assigned.u, causes=assigned.budget.causes)

    def tare_g(self, cup: str) -> Decimal | None:
        """Tare taken for what is written on a cup, in g; ``None`` when it has none."""
        own = self.cups.get(cup)
        if own is not None:
            return own.tare_g
        alike = self.batches.get(cup, ())
        # To a milligram: more digits would only be noise in print.
        return round(mean(each.tare_g for each in alike), 3) if alike else None

    def odd_tares(self) -> Iterable["OddTare | OddBatch"]:
        """Each cup whose tare does not belong to its batch, and each batch without a mean."""
        for name, cups in self.batches.items():
            scale = self.scales.get(cups[0].instrument)
            if scale is None or len(cups) < MIN_CUPS:
                continue
            try:
                batch = batch_tare([float(cup.tare_g) for cup in cups], scale)
            except NearmarkError as refusal:
                yield OddBatch(name, str(refusal))
                continue
            for position in batch.outlying:
                odd = cups[position - 1]
                yield OddTare(odd.number, odd.tare_g, name, batch.mean_g)
