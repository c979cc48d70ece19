"""Every slip is refused with its file, row, column, value and mend; all of them at once."""

import pytest

from nearmark.errors import FilesError, Problem
from nearmark.event_folder import read_event
from nearmark.event_folder.problems import MAX_SHOWN


def problems_of(folder) -> tuple[Problem, ...]:
    with pytest.raises(FilesError) as refused:
        read_event(folder)
    return refused.value.problems


# file, what is there, what a person made of it, row, column, part of what, part of the mend
SLIPS = {
    "a thousands comma": (
        "hand_counts.csv", "421", '"1,421"', 2, "pieces", "whole number", "1421",
    ),
    "a thousands space": (
        "hand_counts.csv", "421", "1 421", 2, "pieces", "thousands separator", "without it",
    ),
    "an apostrophe between thousands": (
        "hand_counts.csv", "421", "1'421", 2, "pieces", "thousands separator", "without it",
    ),
    "two marks in one number": (
        "container_weighings.csv", "273.2", '"1,273.2"', 2, "gross_g", "thousands", "without it",
    ),
    "a decimal comma between commas": (
        "cups.csv", "8.6", '"8,6"', 2, "tare_g", "comma inside the number", "8.6",
    ),
    "half a piece": ("hand_counts.csv", "421", "421.5", 2, "pieces", "whole number", "4215"),
    "a unit in the cell": ("cups.csv", "8.6", "8.6 g", 2, "tare_g", "more than the number", "8.6"),
    "a negative mass": ("cups.csv", "8.6", "-8.6", 2, "tare_g", "below zero", "sign"),
    "a typographic minus": ("cups.csv", "8.6", "\u22128.6", 2, "tare_g", "below zero", "sign"),
    "a plus sign": ("cups.csv", "8.6", "+8.6", 2, "tare_g", "has a sign", "digits only"),
    "not a number": ("cups.csv", "8.6", "NaN", 2, "tare_g", "is not a number", "digits"),
    "infinity": ("cups.csv", "8.6", "inf", 2, "tare_g", "is not a number", "digits"),
    "scientific notation": ("cups.csv", "8.6", "1e999", 2, "tare_g", "scientific", "every digit"),
    "digits of another script": ("cups.csv", "8.6", "\u0668", 2, "tare_g", "not a number", "digit"),
    "a number beyond reason": ("cups.csv", "8.6", "9" * 13, 2, "tare_g", "larger than", "digits"),
    "an endless number": ("cups.csv", "8.6", "8." + "6" * 40, 2, "tare_g", "too long", "30"),
    "no pieces": ("counted_samples.csv", "150", "0", 2, "pieces", "1 or more", "Check"),
    "no mass": ("counted_samples.csv", "64.0", "0.0", 2, "mass_g", "above zero", "reading"),
    "a third reading": (
        "answers.csv", "M1,1", "M1,3", 2, "reading", "1 to 2", "adjudications.csv",
    ),
    "an empty cell": ("cups.csv", "8.6", "", 2, "tare_g", "is empty", "mass of the empty cup"),
    "a blank name": ("pairs.csv", "Ada", "' '", 2, "member_1", "is blank", "name"),
    "an unknown status": (
        "answers.csv", "P1,C1,1,clerk Ash,answered", "P1,C1,1,clerk Ash,answrd",
        4, "status", "one of answered, blank, illegible", "Did you mean answered?",
    ),
    "an unknown station": ("items.csv", "volume", "box", 4, "station", "mass, count", "Known"),
    "an unknown side": ("box_readings.csv", "width", "wdth", 4, "side", "one of", "width"),
    "a heading misspelt": ("cups.csv", "batch", "bach", 1, "bach", "not a heading", "batch"),
    "a heading twice": ("cups.csv", "batch", "tare g", 1, "tare g", "twice", "Remove"),
    "a heading missing": (
        "cups.csv", "tare_g,", "", 1, "tare_g", "is missing", "mass of the empty cup in g",
    ),
    "a cell too many": ("cups.csv", "8.6", "8,6", 2, "", "under no heading: 'thin'", "quote"),
    "a quotation mark left open": (
        "cups.csv", "2,8.5", '2,"8.5', 3, "", "quotation mark that is not closed", "Close it",
    ),
    "a quotation mark inside quotes": (
        "pairs.csv", "Quillbank", '"the "old" mill"', 3, "", "quotation mark", '""',
    ),
    "an item code twice": (
        "items.csv", "B1,volume", "C1,volume", 4, "code", "already in row 3", "rows 3 and 4",
    ),
    "a pair code twice": (
        "pairs.csv", "P3,", "P1,", 4, "code", "already in row 2", "rows 2 and 4",
    ),
    "a cup twice": ("cups.csv", "2,8.5", "1,8.5", 3, "number", "already in row 2", "rows 2 and 3"),
    "a reading twice": (
        "answers.csv", "P1,M1,2", "P1,M1,1", 3, "reading", "already in row 2", "rows 2 and 3",
    ),
    "a material twice": (
        "materials.csv", "split-pea", "chickpea", 3, "code", "already in row 2", "Keep one",
    ),
    "an unknown material": (
        "items.csv", "split-pea,", "splitpea,", 2, "material", "names no material", "split-pea?",
    ),
    "an unknown scale": (
        "cups.csv", "bench scale", "bench scales", 2, "instrument", "names no", "bench scale?",
    ),
    "a ruler that weighs": (
        "cups.csv", "bench scale", "steel ruler", 2, "instrument",
        "names instrument of cm; only g", "bench scale",
    ),
    "an unknown item": ("hand_counts.csv", "C1", "c1", 2, "item", "names no item", "C1?"),
    "pieces of a box": (
        "hand_counts.csv", "C1", "B1", 2, "item", "names item of volume; only count", "C1",
    ),
    "edges of a jar": ("box_readings.csv", "B1", "C1", 2, "item", "names item of count", "B1"),
    "an unknown pair": ("answers.csv", "P1", "P01", 2, "pair", "names no pair", "Did you mean P1?"),
    "an unknown cup": ("answers.csv", "106.3,1", "106.3,17", 2, "cup", "names no cup", "1"),
    "answered without a value": (
        "answers.csv", "answered,440", "answered,", 4, "value", "empty although", "Write the",
    ),
    "blank with a value": (
        "answers.csv", "blank,", "blank,650", 12, "value", "although the status is blank", "Empty",
    ),
    "a mass without a cup": (
        "answers.csv", "106.3,1", "106.3,", 2, "cup", "its tare is not known", "number on the cup",
    ),
    "a cup for a jar": (
        "answers.csv", "440,", "440,1", 4, "cup", "C1 is at the count station", "Empty the cell",
    ),
    "an adjudication of nothing": (
        "adjudications.csv", "P2,C1", "P9,C1", 2, "pair", "names no pair", "P",
    ),
    "a key decided twice": (
        "key_decisions.csv", "C1,,lead Juniper,no fourth sample in time",
        "C1,,lead Juniper,a\nC1,440,lead Juniper,b", 3, "item", "already in row 2", "Keep one",
    ),
    "a setting misspelt": (
        "event.toml", "venue", "venu", 0, "venu", "is not a setting", "Did you mean venue?",
    ),
    "a day of another order": (
        "event.toml", "2027-05-08", '"08.05.2027"', 0, "day", "is not a day", "2027-05-08",
    ),
    "a day with a clock": (
        "event.toml", "2027-05-08", "2027-05-08T09:00:00", 0, "day", "is not a day", "2027-05-08",
    ),
    "a name missing": (
        "event.toml", 'name = "Larkspur Valley Estimation Day"', "", 0, "name", "is missing",
        "name of the event",
    ),
    "a newer format": ("event.toml", "format = 1", "format = 2", 0, "format", "must be 1", "newer"),
    "a seed of words": ("event.toml", "20270508", '"x"', 0, "seed", "whole number", "digits"),
    "a scale in kg": (
        "event.toml", 'unit = "g"', 'unit = "kg"', 0, "instruments.bench scale.unit",
        "must be g or cm", "scale",
    ),
    "a step of zero": (
        "event.toml", "resolution = 0.1", "resolution = 0", 0, "instruments.bench scale",
        "resolution must be above zero", "smallest step",
    ),
    "a capacity that is no number": (
        "event.toml", "6000.0", "nan", 0, "instruments.bench scale.capacity", "not a finite", "0.1",
    ),
    "broken TOML": ("event.toml", "seed = ", "seed ", 5, "", "is not valid TOML", "docs"),
    "an unknown rule": (
        "rules.toml", "zero_at", "zeroat", 0, "rule set", "unknown", "Did you mean zero_at?",
    ),
    "an impossible rule": ("rules.toml", "zero_at = 1", "zero_at = 0", 0, "zero_at", "", "above"),
}  # fmt: skip


@pytest.mark.parametrize("slip", SLIPS.values(), ids=SLIPS)
def test_a_slip_is_named_with_its_place_and_mend(folder, edit, slip):
    file, old, new, row, column, what, mend = slip
    edit(file, old, new)

    first = next(p for p in problems_of(folder) if p.file == file)

    assert first.row == row
    assert column in first.column
    assert what in first.what
    assert mend in first.mend


@pytest.mark.parametrize("slip", SLIPS.values(), ids=SLIPS)
def test_one_slip_makes_no_others_in_other_files(folder, edit, slip):
    file, old, new, *_ = slip
    edit(file, old, new)

    assert {p.file for p in problems_of(folder)} == {file}


def test_a_bad_cell_does_not_make_the_name_of_its_row_unknown(folder, edit):
    edit("cups.csv", "8.6", "8.6 g")
    edit("pairs.csv", "Fernhollow", "")
    edit("items.csv", "volume", "box")

    assert [(p.file, p.row) for p in problems_of(folder)] == [
        ("cups.csv", 2),
        ("items.csv", 4),
        ("pairs.csv", 2),
    ]


def test_a_broken_heading_does_not_make_its_names_unknown(folder, edit):
    edit("items.csv", "station", "stat")

    assert {p.file for p in problems_of(folder)} == {"items.csv"}


def test_problems_of_all_files_come_at_once_in_their_order(folder, edit):
    edit("pairs.csv", "Ada", "")
    edit("answers.csv", "440", "about 440")
    edit("answers.csv", "106.3", "-106.3")
    edit("event.toml", "20270508", "-1")

    assert [(p.file, p.row, p.column, p.value) for p in problems_of(folder)] == [
        ("answers.csv", 2, "value", "-106.3"),
        ("answers.csv", 4, "value", "about 440"),
        ("event.toml", 0, "seed", "-1"),
        ("pairs.csv", 2, "member_1", ""),
    ]


def test_a_row_is_counted_as_a_spreadsheet_counts_it(folder, edit):
    edit("pairs.csv", "P1,Fernhollow", '\n,,,,,\nP1,"Fern\nhollow"')
    edit("pairs.csv", "Esi", "")

    assert [p.row for p in problems_of(folder)] == [6]


def test_two_decimal_marks_in_one_file_are_refused_with_both_rows(folder):
    (folder / "cups.csv").write_text(
        "number;tare_g;instrument\n1;8,6;bench scale\n2;8.5;bench scale\n3;8,7;bench scale\n",
        encoding="utf-8",
    )

    (problem,) = problems_of(folder)

    assert (problem.row, problem.value) == (3, "8.5")
    assert "another decimal mark than row 2" in problem.what


@pytest.mark.parametrize("cell", ["1,421", "1.421"])
def test_a_mark_that_could_group_thousands_is_asked_about(folder, cell):
    (folder / "container_weighings.csv").write_text(
        f"item;gross_g;tare_g;instrument\nC1;{cell};96;bench scale\n", encoding="utf-8"
    )

    (problem,) = problems_of(folder)

    assert (problem.row, problem.column, problem.value) == (2, "gross_g", cell)
    assert "grouped thousands" in problem.what
    assert problem.mend == f"Write {cell}0 or 1421"


def test_another_number_of_the_file_settles_what_the_mark_is(folder):
    (folder / "container_weighings.csv").write_text(
        "item;gross_g;tare_g;instrument\nC1;1,421;0,96;bench scale\n", encoding="utf-8"
    )

    assert str(read_event(folder).containers[0].gross_g) == "1.421"


@pytest.mark.parametrize("file", ["event.toml", "items.csv", "pairs.csv"])
def test_a_required_file_is_missed(folder, file):
    (folder / file).unlink()

    (problem,) = problems_of(folder)

    assert (problem.file, problem.row, problem.what) == (file, 0, "is missing")


@pytest.mark.parametrize(
    "name", ["Answers.csv", "answer.csv", "answers.xlsx", "answers (1).csv", "answers.csv.txt"]
)
def test_a_file_under_nearly_the_right_name_is_not_passed_over(folder, name):
    (folder / "answers.csv").rename(folder / name)

    (problem,) = problems_of(folder)

    assert (problem.file, problem.value) == ("answers.csv", name)


def test_an_empty_file_has_no_heading(folder):
    (folder / "cups.csv").write_bytes(b"")

    (problem,) = problems_of(folder)

    assert (problem.file, problem.row) == ("cups.csv", 1)
    assert "no heading" in problem.what


def test_what_is_shown_of_one_file_is_limited_and_the_others_are_counted(folder):
    rows = "".join(f"{n},x,bench scale,\n" for n in range(1, MAX_SHOWN + 51))
    (folder / "cups.csv").write_text(f"number,tare_g,instrument,batch\n{rows}", encoding="utf-8")
    (folder / "hand_counts.csv").write_text("item,pieces,counter\nC1,x,Rowan\n", encoding="utf-8")

    with pytest.raises(FilesError) as refused:
        read_event(folder)

    *cups, last, other = refused.value.problems
    assert len(cups) == MAX_SHOWN
    assert last.row == MAX_SHOWN + 2
    assert "and 50 more problems" in last.what
    assert other.file == "hand_counts.csv"
    assert str(refused.value).startswith(f"{MAX_SHOWN + 51} problems found, nothing was read")


def test_a_long_value_is_shown_shortened(folder, edit):
    edit("cups.csv", "8.6", "x" * 500)

    (problem,) = problems_of(folder)

    assert len(problem.value) == 60
