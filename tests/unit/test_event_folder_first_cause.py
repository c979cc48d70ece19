"""The first cause is named, and what follows from it is not held against other rows."""

import os
import subprocess
import sys

import pytest

from nearmark.errors import FilesError, Problem
from nearmark.event_folder import read_event


def problems_of(folder) -> tuple[Problem, ...]:
    with pytest.raises(FilesError) as refused:
        read_event(folder)
    return refused.value.problems


@pytest.mark.parametrize(
    ("file", "what"), [("items.csv", "item"), ("pairs.csv", "pair"), ("cups.csv", "cup")]
)
def test_a_file_with_its_heading_only_is_named_alone(folder, file, what):
    heading = (folder / file).read_text(encoding="utf-8").splitlines()[0]
    (folder / file).write_text(f"{heading}\n", encoding="utf-8")

    (problem,) = problems_of(folder)

    assert (problem.file, problem.row) == (file, 0)
    assert problem.what.startswith(f"has no {what}, but ")


def test_a_file_with_its_heading_only_comes_before_other_slips(folder, edit):
    edit("answers.csv", "440", "about 440")
    heading = (folder / "items.csv").read_text(encoding="utf-8").splitlines()[0]
    (folder / "items.csv").write_text(f"{heading}\n", encoding="utf-8")

    first, second = problems_of(folder)

    assert (first.file, second.file, second.value) == ("items.csv", "answers.csv", "about 440")


@pytest.mark.parametrize(
    ("above", "rows"),
    [("Our pairs\n", "row 1"), ("Our pairs,,,,,\n\n", "rows 1 to 2"), ("\n", "row 1")],
)
def test_a_title_above_the_heading_is_to_be_deleted(folder, above, rows):
    pairs = folder / "pairs.csv"
    pairs.write_text(above + pairs.read_text(encoding="utf-8"), encoding="utf-8")

    (problem,) = problems_of(folder)

    assert (problem.file, problem.row, problem.mend) == ("pairs.csv", 1, f"Delete {rows}")


@pytest.mark.parametrize(
    ("old", "new", "row", "mend"),
    [
        ("2027-05-08", "5/15/2027", 3, "Write year-month-day, such as 2027-05-08"),
        ("2027-05-08", "8.5.2027", 3, "Write year-month-day, such as 2027-05-08"),
        ("resolution = 0.1", "resolution = 0,1", 9, "Write resolution = 0.1"),
        ('unit = "g"', "unit = \u201cg\u201d", 8, 'Write straight ones: unit = "g"'),
        ('unit = "g"', "unit = g", 8, 'Write unit = "g"'),
        ('unit = "g"', 'unit = "g', 8, "Close it at the end of the text"),
    ],
)
def test_a_slip_in_a_setting_says_what_to_write(folder, edit, old, new, row, mend):
    edit("event.toml", old, new)

    (problem,) = problems_of(folder)

    assert (problem.file, problem.row, problem.mend) == ("event.toml", row, mend)


@pytest.mark.parametrize(
    ("file", "old", "new", "to_add"),
    [
        ("answers.csv", "106.3,1,", "106.3,11,", "cups.csv"),
        ("answers.csv", "P1,", "P11,", "pairs.csv"),
    ],
)
def test_another_number_is_no_near_name(folder, edit, file, old, new, to_add):
    """To weigh with the wrong cup's tare, or to score the wrong pair, is worse than a question."""
    edit(file, old, new)

    problem = problems_of(folder)[0]

    assert "Did you mean" not in problem.mend
    assert to_add in problem.mend


def test_the_one_row_that_differs_is_blamed_for_its_decimal_mark(folder):
    rows = "".join(f"{n};8,{n};bench scale;\n" for n in range(2, 13))
    (folder / "cups.csv").write_text(
        f"number;tare_g;instrument;batch\n1;8.5;bench scale;\n{rows}", encoding="utf-8"
    )

    first = next(p for p in problems_of(folder) if p.file == "cups.csv")

    assert (first.row, first.value, first.mend) == (2, "8.5", "Write 8,5")


RUN_ALL = """
import sys
from nearmark.cli import main
good, bad = sys.argv[1:]
for words in (["check", bad], ["check", good], ["score", good], ["key", good], ["heats", good]):
    for more in ([], ["--json"]):
        try:
            main([*words, *more])
        except SystemExit as end:
            print(end.code)
"""


@pytest.mark.slow
def test_messages_are_the_same_from_run_to_run(folder, edit, written):
    edit("pairs.csv", "member_2", "notes")
    edit("event.toml", "venue", "place")
    edit("event.toml", "seed", "lot")
    (folder / "cups.csv").write_text("remarks\n", encoding="utf-8")
    said = set()
    for seed in ("0", "1", "2"):
        done = subprocess.run(
            [sys.executable, "-c", RUN_ALL, str(written), str(folder)],
            capture_output=True,
            check=True,
            env=os.environ | {"PYTHONHASHSEED": seed},
        )
        said.add((done.stdout, done.stderr))

    ((out, error),) = said
    assert b"member_2" in error
    assert out.count(b"{\n") > 4
