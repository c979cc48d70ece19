"""``nearmark score``: scores, places and how sure they are."""

from pathlib import Path
from typing import Any

import click
from rich.text import Text

from nearmark.cli.examples import examples
from nearmark.cli.folder import folder_argument
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.progress import draws_with_progress
from nearmark.cli.standings_table import (
    show_awards,
    show_divisions,
    show_places,
    show_schools,
)
from nearmark.cli.strips import show_pair_strip
from nearmark.contest import RankConfidence, Results, results
from nearmark.event_folder import export_results, read_event
from nearmark.event_folder.results_export import result_tables
from nearmark.words.open_points import point_sentence
from nearmark.words.results_json import results_as_json
from nearmark.words.rules import rules_words
from nearmark.words.standings import act_words, standing_words

DRAWS = 10_000


@click.command(
    "score",
    help="Scores, places and how sure they are, of an event folder.",
    epilog=examples(
        "nearmark score larkspur-valley",
        "nearmark score larkspur-valley --export tables",
    ),
)
@folder_argument
@click.option(
    "--draws",
    default=DRAWS,
    type=click.IntRange(100, 1_000_000),
    show_default=True,
    help="How often the keys are drawn to see which places stay.",
)
@click.option(
    "--export",
    type=click.Path(path_type=Path),
    help="Also write the tables here, as CSV and as a workbook.",
)
@json_option
def command(folder: Path, *, draws: int, export: Path | None, as_json: bool) -> None:
    """Print the standings."""
    outcome = results(read_event(folder))
    confidence = draws_with_progress(outcome, draws, quiet=as_json)
    if export is not None:
        export_results(outcome, export)
        _export_workbook(outcome, export / "results.xlsx")
    if as_json:
        print_json(score_as_json(outcome, confidence))
        return
    show_standings(outcome, confidence)
    if export is not None:
        console().print(f"Tables written to {export}")


def _export_workbook(outcome: Results, path: Path) -> None:
    """Write the same tables as one workbook, which any spreadsheet reads alike."""
    # Slow to import, and needed only here.
    from nearmark.event_folder.results_workbook import results_workbook  # noqa: PLC0415

    event = outcome.event
    about = (("event", event.name), ("day", f"{event.day}"), ("rule set", rules_words(event.rules)))
    path.write_bytes(results_workbook(result_tables(outcome), about))


def score_as_json(outcome: Results, confidence: RankConfidence) -> dict[str, Any]:
    """The keys that ``nearmark score --json`` prints.

    Returns what ``results_as_json`` gives, ``words`` (sentences), and ``confidence``: ``winner``,
    ``podium_order``, ``podium_set``, ``tie``, ``remeasure_first`` (list of acts, most useful first:
    ``item`` or ``cause``, ``act`` in words, ``gain``, ``is_clear``), ``taken_as_exact`` (items),
    ``draws``, ``seed``; every pair also gets ``place_probability``, the probability that its place
    holds.  Of an event with divisions every pair also gets ``division_place_probability``, and
    ``confidence`` the list ``divisions``: the same for each ``name``.
    """
    facts = results_as_json(outcome)
    for entry in facts["pairs"]:
        entry["place_probability"] = confidence.place_stands(entry["code"])
        of_division = confidence.of_division(entry.get("division", ""))
        if of_division is not None:
            entry["division_place_probability"] = of_division.place_stands(entry["code"])
    said = confidence_as_json(confidence)
    if outcome.event.divisions:
        said["divisions"] = [
            {"name": name} | confidence_as_json(one) for name, one in confidence.divisions
        ]
    words = list(standing_words(outcome, confidence).sentences)
    return facts | {"words": words, "confidence": said}


def confidence_as_json(confidence: RankConfidence) -> dict[str, Any]:
    """How sure the places of one ranking are; ``None`` where there is no such ranking."""
    is_said = bool(confidence.codes)
    return {
        "winner": confidence.winner if is_said else None,
        "podium_order": confidence.podium_order if is_said else None,
        "podium_set": confidence.podium_set if is_said else None,
        "tie": confidence.tie if is_said else None,
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
    }


def show_standings(outcome: Results, confidence: RankConfidence) -> None:
    """Print places, then how sure they are, then what is still open."""
    out = console()
    out.print(Text(f"\n{outcome.event.name}, {outcome.event.day}", "bold"))
    out.print(f"Rule set: {rules_words(outcome.event.rules)}\n")
    show_places(out, outcome, confidence)
    show_pair_strip(out, outcome, outcome.pairs[0])
    words = standing_words(outcome, confidence)
    gap = "\n" if outcome.is_comparable else ""
    out.print(Text(f"{gap}{words.headline}", "bold"))
    for line in (*words.details, *words.margin):
        out.print(line)
    show_divisions(out, outcome, confidence)
    show_schools(out, outcome)
    show_awards(out, outcome)
    if outcome.open_points:
        out.print(Text(f"\nStill open ({len(outcome.open_points)}):", "bold yellow"))
        for point in outcome.open_points:
            out.print(f"  - {point_sentence(point)}")
    out.print()
