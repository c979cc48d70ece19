"""``nearmark volume``: volume of a box from readings of its sides."""

import click

from nearmark.cli.examples import examples
from nearmark.cli.instruments import instrument_options
from nearmark.cli.numbers import decimal_number, numbers, percent
from nearmark.cli.present import json_option, print_json, show_assigned_value
from nearmark.cli.typed_doubts import box_doubts, show_doubts
from nearmark.contest.asked import without_asked
from nearmark.kit import BoxOptions, box_volume
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.measurement.instruments import Instrument, checked_reading
from nearmark.words.doubts import doubt_json
from nearmark.words.results_json import assigned_as_json


@click.command(
    "volume",
    help="Volume of a box from readings of its sides.",
    epilog=examples(
        "nearmark volume --length 12.4,12.5 --width 8.0,8.1 --height 6.5,6.5 --resolution 0.1",
    ),
)
@click.option("--length", multiple=True, required=True, metavar="CM,CM,...", help="Readings, cm.")
@click.option("--width", multiple=True, required=True, metavar="CM,CM,...", help="Readings, cm.")
@click.option("--height", multiple=True, required=True, metavar="CM,CM,...", help="Readings, cm.")
@instrument_options("cm")
@click.option("--wall", default="0", metavar="CM", help="Wall, if read outside and wanted inside.")
@click.option("--bulge", default="0", metavar="CM", help="How far a side may bulge, cm.")
@click.option("--name", default="volume of box", help="What is measured, for the heading.")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    length: tuple[str, ...],
    width: tuple[str, ...],
    height: tuple[str, ...],
    *,
    instrument: Instrument,
    limit: str,
    wall: str,
    bulge: str,
    name: str,
    as_json: bool,
) -> None:
    """Print the assigned value of a volume with its budget."""
    sides = {"--length": length, "--width": width, "--height": height}
    readings = [
        checked_reading(numbers(texts, where, "cm"), instrument, where)
        for where, texts in sides.items()
    ]
    thickness_cm = decimal_number(wall, "--wall", "cm")
    faces = Faces.OUTSIDE if thickness_cm else None
    box = BoxFaces(faces, thickness_cm, decimal_number(bulge, "--bulge", "cm"))
    options = BoxOptions(measurand=name, u_limit=percent(limit, "--limit"), box=box)
    assigned = box_volume(readings[0], readings[1], readings[2], options=options)
    found = box_doubts(readings, box)
    if as_json:
        print_json({**assigned_as_json(assigned), "doubts": [doubt_json(doubt) for doubt in found]})
    else:
        show_doubts(found)
        show_assigned_value(without_asked(assigned, found))
