"""``nearmark check``: what to look at before the results go out."""

from pathlib import Path

import click
from rich.console import Console
from rich.text import Text

from nearmark.cli.examples import examples
from nearmark.cli.folder import folder_argument
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.strips import show_key_strip
from nearmark.contest import AuditPlan, KeyCheck, Results, check_keys, plan_audit, results
from nearmark.contest.event import Event, Material
from nearmark.contest.key_slips import Slip
from nearmark.event_folder import read_event
from nearmark.words.cautions import care_words, local_rules_words, near_codes
from nearmark.words.key_check import check_words, slip_words
from nearmark.words.open_points import closed_sentence, point_json, point_sentence
from nearmark.words.paper_audit import plan_sentences
from nearmark.words.results_json import audit_as_json, check_as_json


@click.command(
    "check",
    help="What to look at before the results go out.",
    epilog=examples(
        "nearmark check larkspur-valley",
    ),
)
@folder_argument
@json_option
def command(folder: Path, *, as_json: bool) -> None:
    """Print open points, suspect keys and the sheets to read again."""
    outcome = results(read_event(folder))
    checks = check_keys(outcome)
    audit = plan_audit(outcome, seed=outcome.event.seed)
    if as_json:
        print_json(_as_json(outcome, checks, audit))
    else:
        _show(outcome, checks, audit)


def _as_json(outcome: Results, checks: tuple[KeyCheck, ...], audit: AuditPlan) -> dict[str, object]:
    return {
        "event": outcome.event.name,
        "open_points": [point_sentence(point) for point in outcome.open_points],
        "open_point_records": [point_json(point) for point in outcome.points],
        "key_check": [check_as_json(check) for check in checks],
        "paper_audit": audit_as_json(audit),
        "own_materials": [
            {
                "code": each.code,
                "name": each.name,
                "near": near_codes(each.code, each.name),
                "cautions": list(care_words(each.code, each.name, each.cautions)),
            }
            for each in _own_materials(outcome.event)
        ],
    }


def _own_materials(event: Event) -> list[Material]:
    return [each for each in event.materials if near_codes(each.code, each.name)]


def _show(outcome: Results, checks: tuple[KeyCheck, ...], audit: AuditPlan) -> None:
    out = console()
    out.print(Text(f"\n{outcome.event.name}: before the results go out\n", "bold"))
    out.print(Text(f"Open points ({len(outcome.open_points)})", "bold"))
    for point in outcome.open_points:
        out.print(f"  - {point_sentence(point)}")
    if not outcome.open_points:
        out.print("  - none")
    if outcome.closed_points:
        out.print(Text(f"\nClosed with a reason ({len(outcome.closed_points)})", "bold"))
    for point in outcome.closed_points:
        out.print(f"  - {closed_sentence(point)}")
    out.print(Text("\nKeys against the field's own answers", "bold"))
    for check in checks:
        mark = Text("  DOUBTED  ", "bold red") if check.flagged else Text("  no sign  ", "dim")
        out.print(Text.assemble(mark, (f"{check.item}  ", "bold"), check_words(check)))
        show_key_strip(out, outcome, check)
        if check.flagged:
            slips = [s.cause for s in check.slips if isinstance(s.cause, Slip)]
            for slip in slips[:3]:
                out.print(f"             could be: {slip_words(slip)}")
    out.print(Text("\nSheets to read again against the paper", "bold"))
    for line in plan_sentences(audit):
        out.print(f"  {line}")
    _show_cautions(out, outcome.event)
    out.print()


def _show_cautions(out: Console, event: Event) -> None:
    for each in _own_materials(event):
        out.print(Text(f"\nCautions of {each.name}", "bold"))
        for said in (
            near_codes(each.code, each.name),
            *care_words(each.code, each.name, each.cautions),
            local_rules_words(),
        ):
            out.print(Text(f"  {said}"))
