"""``nearmark check``: what to look at before the results go out."""

from pathlib import Path

import click
from rich.text import Text

from nearmark.cli.folder import folder_argument
from nearmark.cli.present import console, json_option, print_json
from nearmark.cli.strips import show_key_strip
from nearmark.contest import AuditPlan, KeyCheck, Results, check_keys, plan_audit, results
from nearmark.contest.key_check import AS_STATED, OTHER
from nearmark.event_folder import read_event


@click.command("check", help="What to look at before the results go out.")
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
        "open_points": [point.sentence for point in outcome.open_points],
        "open_point_records": [point.as_json() for point in outcome.points],
        "key_check": [check.as_json() for check in checks],
        "paper_audit": audit.as_json(),
    }


def _show(outcome: Results, checks: tuple[KeyCheck, ...], audit: AuditPlan) -> None:
    out = console()
    out.print(Text(f"\n{outcome.event.name}: before the results go out\n", "bold"))
    out.print(Text(f"Open points ({len(outcome.open_points)})", "bold"))
    for point in outcome.open_points:
        out.print(f"  - {point.sentence}")
    if not outcome.open_points:
        out.print("  - none")
    if outcome.closed_points:
        out.print(Text(f"\nClosed with a reason ({len(outcome.closed_points)})", "bold"))
    for point in outcome.closed_points:
        out.print(f"  - {point.closed_sentence}")
    out.print(Text("\nKeys against the field's own answers", "bold"))
    for check in checks:
        mark = Text("  DOUBTED  ", "bold red") if check.flagged else Text("  no sign  ", "dim")
        out.print(Text.assemble(mark, (f"{check.item}  ", "bold"), check.words))
        show_key_strip(out, outcome, check)
        if check.flagged:
            causes = [s.words for s in check.slips if s.words not in {AS_STATED, OTHER}]
            for words in causes[:3]:
                out.print(f"             could be: {words}")
    out.print(Text("\nSheets to read again against the paper", "bold"))
    for line in audit.words:
        out.print(f"  {line}")
    out.print()
