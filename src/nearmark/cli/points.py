"""``nearmark points``: the score of one estimate."""

import json

import click

from nearmark.cli.examples import examples
from nearmark.cli.numbers import decimal_number
from nearmark.contest.scoring import points_text, score


@click.command(
    "points",
    help="Score of one estimate.",
    epilog=examples("nearmark points 5700 6041"),
    context_settings={"ignore_unknown_options": True},
)
@click.argument("estimate")
@click.argument("true")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object: score, score_exact.")
def command(estimate: str, true: str, *, as_json: bool) -> None:
    """Print the percent accuracy of ESTIMATE against TRUE."""
    points = score(decimal_number(estimate, "ESTIMATE"), decimal_number(true, "TRUE"))
    if as_json:
        print(json.dumps({"score": float(points), "score_exact": str(points)}))
    else:
        print(f"{points_text(points, 2)} points")
