"""``nearmark count``: pieces in a container, by weighing counted samples."""

import click

from nearmark.cli.examples import examples
from nearmark.cli.instruments import instrument_options
from nearmark.cli.numbers import number, numbers, percent, whole_number
from nearmark.cli.present import console, json_option, print_json, show_assigned_value
from nearmark.cli.typed_doubts import count_doubts, show_doubts
from nearmark.contest.asked import without_asked
from nearmark.errors import InputError
from nearmark.kit import CountOptions, Sample, count_by_weighing, next_sample
from nearmark.measurement.instruments import Instrument, checked_reading
from nearmark.words.doubts import doubt_json
from nearmark.words.key_advice import next_sample_words
from nearmark.words.results_json import assigned_as_json


@click.command(
    "count",
    help="Number of pieces in a container, by weighing.",
    epilog=examples(
        "nearmark count --sample 150:61.2 --sample 150:61.9 --sample 150:61.5 "
        "--gross 2890.4 --tare 412.3 --resolution 0.1",
    ),
)
@click.option(
    "--sample",
    "samples",
    multiple=True,
    required=True,
    metavar="PIECES:GRAMS",
    help="A counted sample and its net mass in g; repeat it.",
)
@click.option("--gross", multiple=True, required=True, metavar="G", help="Filled container, g.")
@click.option("--tare", multiple=True, required=True, metavar="G", help="Empty container, g.")
@instrument_options("g")
@click.option(
    "--material", metavar="CODE", help="Compare the mass of a piece with the catalogue's."
)
@click.option("--piece-cv", metavar="PERCENT", help="Piece-to-piece spread, if known, percent.")
@click.option(
    "--moisture", default="0", metavar="PERCENT", help="Moisture/dust allowance, percent."
)
@click.option("--from-container", is_flag=True, help="The samples were drawn from this container.")
@click.option("--next", "next_pieces", metavar="PIECES", help="Say what a next sample would bring.")
@click.option("--name", default="number of pieces", help="What is counted, for the heading.")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    samples: tuple[str, ...],
    gross: tuple[str, ...],
    tare: tuple[str, ...],
    *,
    instrument: Instrument,
    limit: str,
    material: str | None,
    piece_cv: str | None,
    moisture: str,
    from_container: bool,
    next_pieces: str | None,
    name: str,
    as_json: bool,
) -> None:
    """Print the assigned value of a count with its budget."""
    counted = [sample(text) for text in samples]
    gross_reading = checked_reading(numbers(gross, "--gross", "g"), instrument, "--gross")
    tare_reading = checked_reading(
        numbers(tare, "--tare", "g"), instrument, "--tare", zero_allowed=True
    )
    options = CountOptions(
        measurand=name,
        u_limit=percent(limit, "--limit"),
        piece_cv=None if piece_cv is None else percent(piece_cv, "--piece-cv"),
        moisture_u=percent(moisture, "--moisture"),
        samples_from="container" if from_container else "lot",
    )
    assigned = count_by_weighing(counted, gross_reading, tare_reading, options=options)
    found = count_doubts(
        counted,
        gross_reading,
        tare_reading,
        material_code=material,
        piece_cv=options.piece_cv,
    )
    if as_json:
        print_json({**assigned_as_json(assigned), "doubts": [doubt_json(doubt) for doubt in found]})
        return
    show_doubts(found)
    show_assigned_value(without_asked(assigned, found))
    if next_pieces is not None:
        gain = next_sample(
            counted,
            gross_reading,
            tare_reading,
            whole_number(next_pieces, "--next"),
            options=options,
        )
        console().print(next_sample_words(gain))


def sample(text: str) -> Sample:
    """Read ``PIECES:GRAMS``.

    ``text``: for example ``150:61.2``. Raises InputError if it is not two numbers with a colon
    between.

    >>> sample("150:61.2")
    Sample(pieces=150, mass_g=61.2)
    """
    pieces, colon, mass = text.partition(":")
    if not colon:
        raise InputError(
            "pieces and grams with a colon between are needed",
            where="--sample",
            value=repr(text),
            mend="Write it like 150:61.2",
        )
    where = f"--sample {text}"
    return Sample(whole_number(pieces, where), number(mass, where, "g"))
