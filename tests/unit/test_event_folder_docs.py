"""docs/reference/event-folder.md lists the real files, columns and settings; its example runs."""

import re
from pathlib import Path

import pytest

from nearmark.contest.results import results
from nearmark.event_folder import read_event
from nearmark.event_folder.results_export import ITEM_SCORES, KEYS, SCHOOLS, STANDINGS
from nearmark.event_folder.settings import INSTRUMENT_SETTINGS, SETTINGS
from nearmark.event_folder.table import REQUIRED
from nearmark.event_folder.tables import TABLES

DOC = (Path(__file__).parents[2] / "docs" / "reference" / "event-folder.md").read_text(
    encoding="utf-8"
)
SECTIONS = dict(re.findall(r"^### (\S+)\n(.*?)(?=^###? |\Z)", DOC, re.MULTILINE | re.DOTALL))


def listed(section: str) -> list[tuple[str, str, str]]:
    """Name, needed and meaning of every row of a section's tables."""
    return re.findall(r"^\| `(\w+)` \| (yes|) ?\| (.*) \|$", section, re.MULTILINE)


def real(columns) -> list[tuple[str, str, str]]:
    return [(c.name, "yes" if c.empty is REQUIRED else "", c.about) for c in columns]


def test_every_file_has_a_section_and_no_other():
    assert list(SECTIONS) == ["event.toml", "rules.toml", *(table.file for table in TABLES)]


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.file)
def test_the_columns_of_a_file_are_listed_with_their_meaning(table):
    assert listed(SECTIONS[table.file]) == real(table.columns)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.file)
def test_what_may_not_repeat_is_said(table):
    said = re.search(r"No two rows may have the same ([\w, ]+)\.", SECTIONS[table.file])
    words = tuple(re.findall(r"\w+", said[1].replace(" together", ""))) if said else ()

    assert tuple(word for word in words if word != "and") == table.key


def test_the_settings_are_listed_with_their_meaning():
    assert listed(SECTIONS["event.toml"]) == real((*SETTINGS, *INSTRUMENT_SETTINGS))


def test_the_files_that_must_be_there_are_named():
    required = [table.file for table in TABLES if table.required]
    must = next(line for line in DOC.splitlines() if line.endswith("must be there."))

    assert re.findall(r"`([\w.]+)`", must) == ["event.toml", *required]


def test_the_exported_columns_are_listed():
    lines = dict(re.findall(r"^- `(\w+\.csv)`: (.*)$", DOC, re.MULTILINE))
    columns = {file: tuple(re.findall(r"`(\w+)`", line)) for file, line in lines.items()}

    assert columns == {
        "standings.csv": STANDINGS,
        "item_scores.csv": ITEM_SCORES,
        "keys.csv": KEYS,
        "schools.csv": SCHOOLS,
    }


def test_the_example_files_together_are_an_event_with_results(tmp_path):
    for file, section in SECTIONS.items():
        example = re.search(r"```(?:csv|toml)\n(.*?)```", section, re.DOTALL)
        if example:
            (tmp_path / file).write_text(example[1], encoding="utf-8")
    assert len(list(tmp_path.iterdir())) == len(TABLES) + 1

    event = read_event(tmp_path)

    assert all(getattr(event, table.field) for table in TABLES)
    assert results(event).pairs[0].total > 0
