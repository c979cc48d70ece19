"""docs/reference/coaching.md lists the real columns, and its example is a log."""

import re
from pathlib import Path

import pytest

from nearmark.event_folder import practice_log, reference_file
from nearmark.event_folder.practice_log import read_practice_log
from nearmark.event_folder.table import REQUIRED

DOC = (Path(__file__).parents[2] / "docs" / "reference" / "coaching.md").read_text(encoding="utf-8")
SECTIONS = dict(re.findall(r"^## ([^\n]+)\n(.*?)(?=^## |\Z)", DOC, re.MULTILINE | re.DOTALL))


@pytest.mark.parametrize(
    ("section", "table"),
    [
        ("The practice log", practice_log.table_of("log.csv")),
        ("Body references", reference_file.table_of("hand.csv")),
    ],
)
def test_the_columns_are_listed_with_their_meaning(section, table):
    listed = re.findall(r"^\| `(\w+)` \| (yes|) ?\| (.*) \|$", SECTIONS[section], re.MULTILINE)

    assert listed == [
        (c.name, "yes" if c.empty is REQUIRED else "", c.about) for c in table.columns
    ]


def test_the_example_is_a_log(tmp_path):
    path = tmp_path / "season.csv"
    example = re.search(r"```csv\n(.*?)```", SECTIONS["The practice log"], re.DOTALL)
    path.write_text(example[1], encoding="utf-8")

    assert {attempt.pupil for attempt in read_practice_log(path)} == {"Ada", "Bo"}
