"""Doubts about readings typed on the command line, in the words of the kit room."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from rich.text import Text

from nearmark.cli.present import console
from nearmark.contest.doubts import Doubt, answer_doubts, doubts
from nearmark.contest.event import (
    AnswerReading,
    AnswerStatus,
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Cup,
    Event,
    Item,
    Material,
    Side,
)
from nearmark.kit import Sample, material
from nearmark.kit.box_faces import BoxFaces
from nearmark.measurement.instruments import Reading
from nearmark.station import Station
from nearmark.words.doubts import doubt_sentence

_DAY = date(2000, 1, 1)
_CODE = ""
"""The one item has no code: its doubts begin with what is odd."""


def show_doubts(found: Sequence[Doubt]) -> None:
    """Print each doubt with its question."""
    for doubt in found:
        console().print(Text.assemble(("  Look: ", "bold yellow"), doubt_sentence(doubt)))


def count_doubts(
    samples: Sequence[Sample],
    gross: Reading,
    tare: Reading,
    *,
    material_code: str | None,
    piece_cv: float | None,
) -> tuple[Doubt, ...]:
    """What is odd about the readings of ``nearmark count``.

    ``gross``, ``tare``: Reading, in g. ``material_code``: of the catalogue; ``None``: the samples
    are compared with each other alone. ``piece_cv`` (relative, or None): as typed. Raises
    InputError if the catalogue does not have the material; the message names the nearest.
    """
    scale = gross.instrument
    code = material(material_code).code if material_code else "own"
    cv = None if piece_cv is None else _exact(piece_cv)
    event = Event(
        "",
        _DAY,
        instruments=(scale,),
        materials=(Material(code, "pieces", cv),),
        items=(Item(_CODE, Station.COUNT, "container", code),),
        samples=tuple(
            CountedSample(_CODE, s.pieces, _exact(s.mass_g), scale.name) for s in samples
        ),
        containers=(
            *(ContainerWeighing(_CODE, None, _exact(g), scale.name) for g in tare.indications),
            *(ContainerWeighing(_CODE, _exact(g), None, scale.name) for g in gross.indications),
        ),
    )
    return doubts(event)


def box_doubts(sides: Sequence[Reading], box: BoxFaces) -> tuple[Doubt, ...]:
    """What is odd about the readings of ``nearmark volume``.

    ``sides`` (Reading, in cm): length, width, height.
    """
    ruler = sides[0].instrument
    rows = tuple(
        BoxReading(_CODE, side, _exact(cm), ruler.name)
        for side, reading in zip(Side, sides, strict=True)
        for cm in reading.indications
    )
    item = Item(_CODE, Station.VOLUME, "box", box=box)
    return doubts(Event("", _DAY, instruments=(ruler,), items=(item,), box_readings=rows))


def net_doubts(gross: Reading, tare: Reading) -> tuple[Doubt, ...]:
    """What is odd about the readings of ``nearmark net``.

    ``gross``, ``tare`` (Reading, in g): several tares are those of a batch.
    """
    scale = gross.instrument
    cups = tuple(
        Cup(str(n), _exact(g), scale.name, "batch") for n, g in enumerate(tare.indications, start=1)
    )
    event = Event(
        "",
        _DAY,
        instruments=(scale,),
        items=(Item(_CODE, Station.MASS, "cup"),),
        cups=cups,
    )
    answered = AnswerStatus.ANSWERED
    typed = [
        AnswerReading("", _CODE, 1, "", answered, _exact(g), "batch") for g in gross.indications
    ]
    # A tare that is doubted makes every gross mass odd: one question at a time.
    found = doubts(event) or answer_doubts(event, typed)
    return tuple(replace(doubt, cup="") for doubt in found)


def _exact(value: float) -> Decimal:
    """The decimal that was typed."""
    return Decimal(repr(float(value)).removesuffix(".0"))
