"""A sum to do on a plain calculator: layer x layers, or three sides; and whether it came out."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from nearmark.coaching.attempt import Layers, Sides
from nearmark.coaching.limits import checked
from nearmark.coaching.slips import FoundSlip, find_slip

ROUNDED: Final = 0.005
"""Relative: a product rounded to three figures is off by no more."""

SIDES_CM: Final = ((6.0, 30.0), (4.0, 20.0), (2.0, 12.0))
LAYER: Final = (12, 180)
LAYERS: Final = (4, 24)
"""Sizes of things that a child can hold (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class CalculatorTask:
    """One sum."""

    parts: Layers | Sides

    @property
    def factors(self) -> tuple[float, ...]:
        """What is to be multiplied."""
        return self.parts.factors

    @property
    def product(self) -> float:
        """The right answer."""
        return float(np.prod(self.factors))

    @property
    def unit(self) -> str:
        """Of the answer."""
        return "cm3" if isinstance(self.parts, Sides) else "pieces"


@dataclass(frozen=True, slots=True)
class Checked:
    """Whether a written product came out."""

    is_right: bool
    slip: FoundSlip  # why not, when it is known


def calculator_task(rng: np.random.Generator) -> CalculatorTask:
    """A sum by lot: a jar or a box.

    >>> task = calculator_task(np.random.default_rng(3))
    >>> len(task.factors) in (2, 3)
    True
    """
    if rng.random() < 0.5:
        layer, layers = int(rng.integers(*LAYER)), int(rng.integers(*LAYERS))
        return CalculatorTask(Layers(layer, layers))
    cm = [round(float(rng.uniform(low, high)), 1) for low, high in SIDES_CM]
    return CalculatorTask(Sides(cm[0], cm[1], cm[2]))


def check_product(task: CalculatorTask, written: float) -> Checked:
    """Hold a written product against its factors.

    Right up to honest rounding to three figures; else with the likely slip.

    >>> check_product(CalculatorTask(Sides(12, 8, 5)), 4800).slip.slip.value
    'a factor of ten'

    Parameters
    ----------
    written : unit of the task, > 0

    Raises
    ------
    InputError : if the number is not above zero
    """
    checked(written, "product", 1e-6, 1e12, mend="Write what the calculator shows")
    is_right = abs(written - task.product) <= ROUNDED * task.product
    return Checked(is_right, find_slip(written, task.parts))
