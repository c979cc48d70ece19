"""The true value of a thing to practise with must agree with what is known of its parts."""

from collections.abc import Sequence
from math import prod
from typing import Final

from nearmark.errors import InputError

MAX_SIDE_ERROR_CM: Final = 0.1
"""So far off a side may be before it contradicts the volume."""

MAX_LAYER_FACTOR: Final = 2.0
"""Of a count with layer times layers, which leaves out how the layers lie in each other."""


def box_volume(sides_cm: Sequence[float]) -> float:
    """Volume of a box in cm3, to a tenth.

    >>> box_volume([12.4, 8.0, 6.5])
    644.8

    Parameters
    ----------
    sides_cm : cm, shape (3,)
    """
    return round(prod(sides_cm), 1)


def agreed_volume(true_cm3: float | None, sides_cm: Sequence[float] | None) -> float:
    """The volume of a box: as written, or from its sides where it is not.

    >>> agreed_volume(None, [10, 6, 5])
    300
    >>> agreed_volume(645, [12.4, 8.0, 6.5])
    645

    Parameters
    ----------
    true_cm3 : cm3, or None
    sides_cm : cm, shape (3,), or None

    Raises
    ------
    InputError : if neither is known, or they contradict each other
    """
    if sides_cm is None:
        if true_cm3 is None:
            raise InputError("is missing", where="true", mend="Write it, or the three sides")
        return true_cm3
    volume = box_volume(sides_cm)
    if true_cm3 is None:
        return volume
    least = prod(max(0.0, side - MAX_SIDE_ERROR_CM) for side in sides_cm)
    most = prod(side + MAX_SIDE_ERROR_CM for side in sides_cm)
    if not least <= true_cm3 <= most:
        sides = " x ".join(f"{side:g}" for side in sides_cm)
        raise InputError(
            f"is not what the sides give: {sides} cm are {volume:g} cm3",
            where="true",
            value=f"{true_cm3:g}",
            mend="Leave it empty to take the volume of the sides, or measure the sides again",
        )
    return true_cm3


def check_layers(true: float, layer: float, layers: float) -> None:
    """Refuse a count that its layers cannot come near.

    >>> check_layers(303, 37, 11)  # the next layer is seen through the gaps

    Parameters
    ----------
    true : pieces
    layer : pieces in one layer
    layers : layers

    Raises
    ------
    InputError : if they differ by more than a factor of two
    """
    if not 1 / MAX_LAYER_FACTOR <= true / (layer * layers) <= MAX_LAYER_FACTOR:
        raise InputError(
            f"is far from its layers: {layers:g} layers of {layer:g} are {layer * layers:g}",
            where="true",
            value=f"{true:g}",
            mend="Count the layer and the layers again, or leave both empty",
        )
