"""``nearmark net``: net mass in a cup."""

import click

from nearmark.cli.examples import examples
from nearmark.cli.instruments import instrument_options
from nearmark.cli.numbers import numbers, percent
from nearmark.cli.present import json_option, print_json, show_assigned_value
from nearmark.cli.typed_doubts import net_doubts, show_doubts
from nearmark.contest.asked import without_asked
from nearmark.errors import InputError
from nearmark.kit import net_mass
from nearmark.measurement.instruments import Instrument, checked_reading
from nearmark.words.doubts import doubt_json
from nearmark.words.results_json import assigned_as_json


@click.command(
    "net",
    help="Net mass in a cup: gross minus tare.",
    epilog=examples(
        "nearmark net --gross 108.3 --tare 8.6 --resolution 0.1",
    ),
)
@click.option("--gross", multiple=True, required=True, metavar="G", help="Filled cup, g.")
@click.option("--tare", multiple=True, metavar="G", help="This cup empty, g.")
@click.option(
    "--batch-tare",
    multiple=True,
    metavar="G,G,...",
    help="Empty cups of the same batch, if this one was not weighed, g.",
)
@instrument_options("g")
@click.option("--name", default="net mass", help="What is weighed, for the heading.")
@json_option
def command(  # noqa: PLR0913 - one argument an option
    gross: tuple[str, ...],
    tare: tuple[str, ...],
    batch_tare: tuple[str, ...],
    *,
    instrument: Instrument,
    limit: str,
    name: str,
    as_json: bool,
) -> None:
    """Print the net mass with its budget."""
    if bool(tare) == bool(batch_tare):
        raise InputError(
            "give one of the two",
            where="--tare / --batch-tare",
            mend="Weigh the cup empty (--tare), or several cups like it (--batch-tare)",
        )
    gross_reading = checked_reading(numbers(gross, "--gross", "g"), instrument, "--gross")
    batch = numbers(batch_tare, "--batch-tare", "g") if batch_tare else ()
    own = numbers(tare, "--tare", "g") if tare else batch
    tare_reading = checked_reading(
        own, instrument, "--tare" if tare else "--batch-tare", zero_allowed=bool(tare)
    )
    assigned = net_mass(
        gross_reading,
        tare_reading,
        measurand=name,
        u_limit=percent(limit, "--limit"),
        batch_tares_g=batch,
    )
    found = net_doubts(gross_reading, tare_reading)
    if as_json:
        print_json({**assigned_as_json(assigned), "doubts": [doubt_json(doubt) for doubt in found]})
    else:
        show_doubts(found)
        show_assigned_value(without_asked(assigned, found))
