"""``nearmark lean``: how far to lean an unsure answer, and what it brings."""

import click

from nearmark.cli.examples import examples
from nearmark.cli.numbers import number
from nearmark.cli.present import console, json_option, print_json
from nearmark.coaching.lean import Aim, lean
from nearmark.words.coaching_lean import lean_words


@click.command(
    "lean",
    help="How much lower to answer when unsure.",
    epilog=examples(
        "nearmark lean --sigma 0.3",
    ),
)
@click.option("--sigma", required=True, metavar="SCATTER", help="How unsure: 0.3 is about 30 %.")
@click.option("--bias", default="0", metavar="BIAS", help="Known habit: -0.1 guesses 10 % low.")
@click.option(
    "--aim",
    type=click.Choice([aim.value for aim in Aim]),
    default=Aim.POINTS.value,
    show_default=True,
    help="Most points, or every item at 90.",
)
@json_option
def command(sigma: str, bias: str, *, aim: str, as_json: bool) -> None:
    """Print the lean in percent and its honest gain."""
    found = lean(number(sigma, "--sigma"), bias=number(bias, "--bias"), aim=Aim(aim))
    if as_json:
        print_json(
            {
                "aim": found.aim.value,
                "shift": found.shift,
                "factor": found.factor,
                "gain": found.gain,
                "gain_p90": found.gain_p90,
                "words": lean_words(found),
            }
        )
    else:
        console().print(lean_words(found))
