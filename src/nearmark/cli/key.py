"""``nearmark key``: the assigned values of an event folder."""

from pathlib import Path

import click
from rich.text import Text

from nearmark.cli.examples import examples
from nearmark.cli.folder import folder_argument
from nearmark.cli.present import console, json_option, print_json, show_assigned_value
from nearmark.cli.table import Column, show_table
from nearmark.cli.typed_doubts import show_doubts
from nearmark.contest import ItemKey, event_keys
from nearmark.contest.asked import without_asked
from nearmark.contest.doubts import not_closed
from nearmark.contest.kit_doubts import kit_doubts
from nearmark.event_folder import read_event
from nearmark.kit.assigned_value import percent_text
from nearmark.measurement.rounding import two_digits
from nearmark.words.doubts import doubt_json
from nearmark.words.keys import problem_words, status_and_person, whose_word
from nearmark.words.results_json import key_as_json


@click.command(
    "key",
    help="Assigned values of an event folder.",
    epilog=examples(
        "nearmark key larkspur-valley",
        "nearmark key larkspur-valley --budgets",
    ),
)
@folder_argument
@click.option("--budgets", is_flag=True, help="Show every uncertainty budget too.")
@json_option
def command(folder: Path, *, budgets: bool, as_json: bool) -> None:
    """Print the key of every item, fit or not, and what to do."""
    event = read_event(folder)
    keys, doubts = event_keys(event), tuple(kit_doubts(event))
    found = not_closed(event, doubts)
    if as_json:
        listed = [key_as_json(key) for key in keys.values()]
        as_doubted = [doubt_json(doubt) for doubt in found]
        print_json({"event": event.name, "keys": listed, "doubts": as_doubted})
        return
    out = console()
    out.print(Text(f"\n{event.name}: keys (sealed until release)\n", "bold"))
    show_table(out, _COLUMNS, [_row(key) for key in keys.values()])
    for key in keys.values():
        if whose_word(key):
            out.print(Text.assemble((f"  {key.item.code}: ", "bold yellow"), whose_word(key)))
        if problem_words(key):
            out.print(Text.assemble((f"  {key.item.code}: ", "bold yellow"), problem_words(key)))
    show_doubts(found)
    if budgets:
        for key in keys.values():
            if key.assigned is not None:
                own = (doubt for doubt in doubts if doubt.item == key.item.code)
                show_assigned_value(without_asked(key.assigned, own))
    out.print()


_COLUMNS = (
    Column("item"),
    Column("what", wraps=True),
    Column("key", right=True, style="bold"),
    Column("U (95 %)", right=True),
    Column("U in %", right=True),
    Column("", wraps=True),
)


def _row(key: ItemKey) -> tuple[str | Text, ...]:
    assigned = key.borne_by
    return (
        key.item.code,
        key.item.name,
        "none" if key.key is None else f"{key.key:f} {key.unit}",
        "" if assigned is None else two_digits(assigned.expanded_u),
        "" if assigned is None else percent_text(assigned.relative_expanded_u),
        _verdict(key),
    )


def _verdict(key: ItemKey) -> Text:
    style = "green" if key.fit else "yellow" if key.key and key.decision else "bold red"
    return Text(status_and_person(key), style)
