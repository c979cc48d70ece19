"""``nearmark expected``: what a bias and a scatter bring in points."""

import click

from nearmark.cli.examples import examples
from nearmark.cli.numbers import number
from nearmark.cli.present import console, json_option, print_json
from nearmark.coaching.expected_score import expected_score


@click.command(
    "expected",
    help="Expected score of a bias and a scatter.",
    epilog=examples(
        "nearmark expected --bias -0.1 --scatter 0.2",
    ),
)
@click.option("--bias", required=True, metavar="BIAS", help="-0.1 guesses about 10 % low.")
@click.option("--scatter", required=True, metavar="SCATTER", help="0.2 is about 20 %.")
@json_option
def command(bias: str, scatter: str, *, as_json: bool) -> None:
    """Print the mean score, its spread and the chance of 90 points."""
    found = expected_score(number(bias, "--bias"), number(scatter, "--scatter"))
    if as_json:
        print_json({"score": found.score, "sd": found.sd, "p90": found.p_at_least})
        return
    console().print(
        f"{found.score:.1f} points an answer on average (standard deviation {found.sd:.1f}); "
        f"{100 * found.p_at_least:.0f} of 100 answers reach 90."
    )
