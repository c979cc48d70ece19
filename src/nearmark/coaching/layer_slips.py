"""Slips of arithmetic in a count: what was worked out instead of layer x layers."""

import math
from dataclasses import dataclass

from nearmark.coaching.attempt import Layers
from nearmark.coaching.limits import checked
from nearmark.coaching.volume_slips import TOLERANCE, Slip, is_transposed


@dataclass(frozen=True, slots=True)
class LayersSlip:
    """One recorded count against its own layers.

    Attributes
    ----------
    slip : Slip
    layers : Layers
    """

    slip: Slip
    layers: Layers

    @property
    def product(self) -> float:
        """Pieces in a layer times layers."""
        return self.layers.layer * self.layers.layers

    @property
    def words(self) -> str:
        """One plain sentence."""
        if self.slip is Slip.NONE:
            return "The product fits the layers."
        what = {Slip.SUM: "added instead of multiplied", Slip.OTHER: "does not fit the layers"}
        told = what.get(self.slip, self.slip.value)
        sum_ = f"{self.layers.layer:g} x {self.layers.layers:g} is {self.product:.0f}"
        return f"{told.capitalize()}: {sum_}."


def find_layers_slip(recorded: float, layers: Layers) -> LayersSlip:
    """Find the slip that turns the layers into the recorded count.

    Parameters
    ----------
    recorded : pieces, > 0
    layers : Layers
        As the pupil had them.

    Returns
    -------
    LayersSlip

    Raises
    ------
    InputError
        If a number is not above zero.

    Examples
    --------
    >>> find_layers_slip(48, Layers(38, 10)).words
    'Added instead of multiplied: 38 x 10 is 380.'
    """
    checked(recorded, "recorded count", 1e-6, 1e12, mend="Give it in pieces")
    for name, value in (("layer", layers.layer), ("layers", layers.layers)):
        checked(value, name, 1e-6, 1e6, mend="Check the number")
    product = layers.layer * layers.layers
    if is_transposed(recorded, product):
        return LayersSlip(Slip.TRANSPOSED, layers)
    if abs(math.log(recorded / product)) <= TOLERANCE:
        return LayersSlip(Slip.NONE, layers)
    candidates = [
        *((Slip.DECIMAL, product * 10.0**power) for power in (1, -1, 2, -2, 3, -3)),
        (Slip.SUM, layers.layer + layers.layers),
        (Slip.DOUBLED, 2 * product),
        (Slip.HALVED, product / 2),
    ]
    gap, _, slip = min(
        (abs(math.log(recorded / value)), i, slip) for i, (slip, value) in enumerate(candidates)
    )
    return LayersSlip(slip if gap <= TOLERANCE else Slip.OTHER, layers)
