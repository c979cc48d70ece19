"""``nearmark score``: scores, places and how sure they are."""

from pathlib import Path
from typing import Any

import click
from rich.table import Table
from rich.text import Text

from nearmark.cli.folder import folder_argument
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.progress import draws_with_progress
from nearmark.cli.strips import show_pair_strip
from nearmark.contest import PairResult, RankConfidence, Results, results
from nearmark.contest.scoring import points_text
from nearmark.event_folder import export_results, read_event
from nearmark.words.open_points import point_sentence
from nearmark.words.results_json import results_as_json
from nearmark.words.rules import rules_words
from nearmark.words.standings import StandingWords, act_words, score_text, standing_words

DRAWS = 10_000


@click.command("score", help="Scores, places and how sure they are, of an event folder.")
@folder_argument
@click.option("--draws", default=DRAWS, type=click.IntRange(100, 1_000_000), show_default=True)
@click.option(
    "--export", type=click.Path(path_type=Path), help="Also write the tables as CSV here."
)
@json_option
def command(folder: Path, *, draws: int, export: Path | None, as_json: bool) -> None:
    """Print the standings."""
    outcome = results(read_event(folder))
    confidence = draws_with_progress(outcome, draws, quiet=as_json)
    if export is not None:
        export_results(outcome, export)
    if as_json:
        print_json(score_as_json(outcome, confidence))
        return
    show_standings(outcome, confidence)
    if export is not None:
        console().print(f"Tables written to {export}")


def score_as_json(outcome: Results, confidence: RankConfidence) -> dict[str, Any]:
    """The keys that ``nearmark score --json`` prints.

    Returns what ``results_as_json`` gives, ``words`` (sentences), and ``confidence``: ``winner``,
    ``podium_order``, ``podium_set``, ``tie``, ``remeasure_first`` (list of acts, most useful first:
    ``item`` or ``cause``, ``act`` in words, ``gain``, ``is_clear``), ``taken_as_exact`` (items),
    ``draws``, ``seed``; every pair also gets ``place_probability``, the probability that its place
    holds.
    """
    told = results_as_json(outcome)
    for entry in told["pairs"]:
        entry["place_probability"] = confidence.place_stands(entry["code"])
    return told | {
        "words": list(standing_words(outcome, confidence).sentences),
        "confidence": {
            "winner": confidence.winner,
            "podium_order": confidence.podium_order,
            "podium_set": confidence.podium_set,
            "tie": confidence.tie,
            "remeasure_first": [
                {
                    "item": gain.item,
                    "cause": gain.cause,
                    "act": act_words(gain),
                    "gain": gain.gain,
                    "is_clear": gain.is_clear,
                }
                for gain in confidence.remeasure_first
            ],
            "taken_as_exact": list(confidence.taken_as_exact),
            "draws": confidence.n_draws,
            "seed": confidence.seed,
        },
    }


def show_standings(outcome: Results, confidence: RankConfidence) -> None:
    """Print places, then how sure they are, then what is still open."""
    out = console()
    out.print(Text(f"\n{outcome.event.name}, {outcome.event.day}", "bold"))
    out.print(f"Rule set: {rules_words(outcome.event.rules)}\n")
    words = standing_words(outcome, confidence)
    for tie in words.ties:
        out.print(Text(tie, "bold"))
    out.print(_table(outcome, confidence, words))
    show_pair_strip(out, outcome, outcome.pairs[0])
    out.print(Text(f"\n{words.headline}", "bold"))
    for line in (*words.details, *words.margin):
        out.print(line)
    if outcome.open_points:
        out.print(Text(f"\nStill open ({len(outcome.open_points)}):", "bold yellow"))
        for point in outcome.open_points:
            out.print(f"  - {point_sentence(point)}")
    out.print()


def _table(outcome: Results, confidence: RankConfidence, words: StandingWords) -> Table:
    table = Table(box=None, pad_edge=False)
    table.add_column("place", justify="right", min_width=6)
    table.add_column("pair", min_width=4)
    table.add_column("school", no_wrap=True)
    for item in outcome.event.items:
        table.add_column(item.code, justify="right", min_width=5, no_wrap=True)
    table.add_column("total", justify="right", style="bold", min_width=6)
    if words.share:
        table.add_column("stays", justify="right", min_width=6)
    for line in outcome.pairs:
        stays = confidence.place_stands(line.pair.code) if words.share else None
        table.add_row(*_row(outcome, line), *(() if stays is None else (f"{stays:.0%}",)))
    return table


def _row(outcome: Results, line: PairResult) -> list[str]:
    decimals = outcome.event.rules.decimals
    scores = {s.item: s for s in line.items}
    return [
        str(line.place) if line.place else line.pair.status.value,
        line.pair.code,
        line.pair.school,
        *(score_text(scores.get(item.code), 1) for item in outcome.event.items),
        points_text(line.total, decimals),
    ]
