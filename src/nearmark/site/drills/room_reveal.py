"""How the true value of a thing comes out: layer by layer, side by side, and at last itself."""

from itertools import accumulate

from nearmark.printing.words import number_text
from nearmark.site.drills.models import DrillItem
from nearmark.site.jars.answering import layer_counts
from nearmark.site.jars.models import PracticeJar
from nearmark.station import UNITS, Station
from nearmark.words.room import (
    asked_mass_words,
    layer_off_words,
    layers_words,
    one_layer_words,
    side_revealed_words,
    truth_words,
)
from nearmark.words.sides import unit_text


def with_unit(number: float, station: Station) -> str:
    """A true value, or a guess, as the room reads it."""
    decimals = 0 if number == round(number) or number >= 100 else 1
    return f"{number_text(number, decimals)} {unit_text(UNITS[station])}"


def jar_of(item: DrillItem) -> PracticeJar | None:
    """The jar of an item, as long as it is on the shelf."""
    return item.jar if item.jar is not None and item.jar.gone_at is None else None


def layers_of(item: DrillItem) -> tuple[int, ...]:
    """Pieces of each layer of a poured jar, from the top; of anything else none."""
    jar = jar_of(item)
    return () if jar is None or jar.is_photo else layer_counts(jar)


def reveal_steps(item: DrillItem) -> tuple[str, ...]:
    """What is said step by step; the last step says the true value."""
    return (*_steps_before(item), _truth(item))


def _truth(item: DrillItem) -> str:
    station = Station(item.station)
    words = asked_mass_words if station is Station.MASS else truth_words
    return words(with_unit(item.true, station))


def _steps_before(item: DrillItem) -> list[str]:
    counts = layers_of(item)
    if counts:
        sums = accumulate(counts)
        return [
            layer_off_words(number, len(counts), n, so_far)
            for number, (n, so_far) in enumerate(zip(counts, sums, strict=True), 1)
        ]
    if item.layer_true and item.layers_true:
        return [one_layer_words(_plain(item.layer_true)), layers_words(_plain(item.layers_true))]
    sides = (item.length_true_cm, item.width_true_cm, item.height_true_cm)
    if all(sides):
        return [
            side_revealed_words(number, _plain(side))
            for number, side in enumerate(sides, 1)
            if side is not None
        ]
    return []


def _plain(number: float) -> str:
    return number_text(number, 0 if number == round(number) else 1)
