"""Filled things packed into boxes for the car, none heavier than a person carries."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from nearmark.errors import InputError
from nearmark.kit.purchase import LIFTING_LIMIT_KG, Purchase, Scooping

USUAL_LIMIT_KG: Final = 10.0
"""A box that most adults carry to a car (common practice, no source; local rules may say less)."""

USUAL_TARE_KG: Final = 0.4
"""An empty bucket or jar whose own mass is not known (common practice, no source)."""

MAX_THINGS: Final = 2000


@dataclass(frozen=True, slots=True)
class FilledThing:
    """A filled container or bucket."""

    name: str
    mass_kg: float  # with its contents (kg)


@dataclass(frozen=True, slots=True)
class CarBox:
    """What one box holds."""

    things: tuple[FilledThing, ...]
    mass_kg: float  # with the box (kg)


@dataclass(frozen=True, slots=True)
class Transport:
    """The boxes of the car."""

    boxes: tuple[CarBox, ...]  # the heaviest first
    too_heavy: tuple[FilledThing, ...]  # over the limit by themselves: split them first
    min_boxes: int  # no packing needs fewer
    limit_kg: float

    @property
    def mass_kg(self) -> float:
        """All of it together, in kg."""
        loose = math.fsum(thing.mass_kg for thing in self.too_heavy)
        return math.fsum(box.mass_kg for box in self.boxes) + loose


def filled_buckets(lines: Sequence[Purchase], scooping: Scooping) -> list[FilledThing]:
    """The bucket of every place as it leaves for the event, and the packages beside them.

    >>> from nearmark.kit.materials import material
    >>> from nearmark.kit.purchase import purchase_list
    >>> day = Scooping(2, 9)
    >>> lines = purchase_list([material("split-pea")], day, package_g={"split-pea": 900})
    >>> [(one.name, round(one.mass_kg, 2)) for one in filled_buckets(lines, day)]
    [('Split peas', 2.95), ('Split peas', 2.95)]
    """
    things: list[FilledThing] = []
    for line in lines:
        bucket_kg = scooping.first_fill_g(line.material) / 1000 + USUAL_TARE_KG
        things += [FilledThing(line.material.name, bucket_kg)] * line.places
        package_kg = line.package_g / 1000
        things += [FilledThing(line.material.name, package_kg)] * line.spare_packages
    return things


def packed_boxes(
    things: Sequence[FilledThing], *, limit_kg: float = USUAL_LIMIT_KG, box_kg: float = 0.5
) -> Transport:
    """Pack things into boxes, the heaviest first, each into the first box with room.

    First-fit decreasing needs at most 11/9 of the fewest boxes, and 6/9 of a box more (G. Dosa,
    2007; from memory).  The room in a box is not looked at.

    >>> plan = packed_boxes([FilledThing("C1", 6), FilledThing("C2", 3), FilledThing("C3", 2)])
    >>> [[thing.name for thing in box.things] for box in plan.boxes], plan.min_boxes
    ([['C1', 'C2'], ['C3']], 2)

    Parameters
    ----------
    things : shape (n,)
    limit_kg : kg, > 0; what one filled box may weigh; never above the 23 kg of the lifting equation
    box_kg : kg, >= 0; an empty box

    Raises
    ------
    InputError : if a mass cannot be, or the limit leaves no room beside the box
    """
    if len(things) > MAX_THINGS:
        raise InputError("are too many", where="things to carry", value=len(things))
    if not 0 <= box_kg < limit_kg <= LIFTING_LIMIT_KG:
        raise InputError(
            f"must be above an empty box and at most {LIFTING_LIMIT_KG:g} kg",
            where="carrying limit",
            value=f"{limit_kg:g} kg",
            mend="Take what the weakest helper carries; 10 kg is usual. Local rules may say less",
        )
    for thing in things:
        if not 0 < thing.mass_kg < math.inf:
            raise InputError("needs a mass", where=thing.name, value=thing.mass_kg)
    room = limit_kg - box_kg
    light = [thing for thing in things if thing.mass_kg <= room]
    packed: list[list[FilledThing]] = []
    for thing in sorted(light, key=lambda one: -one.mass_kg):
        fits = (box for box in packed if _mass(box) + thing.mass_kg <= room + 1e-9)
        box = next(fits, None)
        if box is None:
            packed.append([thing])
        else:
            box.append(thing)
    boxes = [CarBox(tuple(box), _mass(box) + box_kg) for box in packed]
    boxes.sort(key=lambda box: -box.mass_kg)
    return Transport(
        boxes=tuple(boxes),
        too_heavy=tuple(thing for thing in things if thing.mass_kg > room),
        min_boxes=math.ceil(_mass(light) / room - 1e-9),
        limit_kg=limit_kg,
    )


def _mass(things: Sequence[FilledThing]) -> float:
    return math.fsum(thing.mass_kg for thing in things)
