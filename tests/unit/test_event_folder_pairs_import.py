"""A list of pairs is previewed row by row, and comes out only when all of it is right."""

import io
from datetime import date

import openpyxl
import pytest

from nearmark.contest.event import Pair, PairStatus
from nearmark.errors import FilesError
from nearmark.event_folder.pair_headings import HEADINGS
from nearmark.event_folder.pairs_import import preview_pairs, proposed_codes

HEAD = "code,school,first child,second child\n"
EXISTING = (
    Pair("P01", "Fernhollow", ("Ada", "Bo")),
    Pair("P02", "Quillbank", ("Cleo",), PairStatus.WITHDRAWN),
)


def workbook(*rows, **sheets) -> bytes:
    """A workbook whose first sheet has these rows; further sheets by name."""
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    for name, more in sheets.items():
        sheet = book.create_sheet(name)
        for row in more:
            sheet.append(row)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def only_problem(source, **options):
    (problem,) = preview_pairs(source, **options).problems
    return problem


def test_a_plain_list_comes_out_as_pairs():
    preview = preview_pairs(HEAD + "A1,Fernhollow,Ada,Bo\nA2,Quillbank,Cleo,\n")

    assert preview.problems == ()
    assert preview.pairs == (
        Pair("A1", "Fernhollow", ("Ada", "Bo")),
        Pair("A2", "Quillbank", ("Cleo",)),
    )
    assert [row.row for row in preview.rows] == [2, 3]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("as_bytes", [False, True])
@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_separators_line_ends_text_and_bytes_read_the_same(separator, as_bytes, line_end):
    text = line_end.join(
        [separator.join(cells) for cells in (("School", "Child 1", "Child 2"), ("Ash", "A", "B"))]
    )

    preview = preview_pairs("\ufeff".encode() + text.encode() if as_bytes else text)

    assert preview.pairs == (Pair("P01", "Ash", ("A", "B")),)


def test_a_workbook_reads_like_text():
    content = workbook(
        ["No", "School", "Child 1", "Child 2"], [7, "Ash", "A", None], [8.0, "Ash", "B", "C"]
    )

    assert preview_pairs(content).pairs == (
        Pair("7", "Ash", ("A",)),
        Pair("8", "Ash", ("B", "C")),
    )


@pytest.mark.parametrize(
    ("meaning", "heading"),
    [(meaning, heading) for meaning in HEADINGS for heading in HEADINGS[meaning]],
)
def test_every_listed_heading_is_known(meaning, heading):
    cells = {"school": ["school", "Ash"], "member_1": ["first child", "A"]}
    if meaning == "members":
        del cells["member_1"]
    value = {"status": "guest", "member_3": "", "room": ""}.get(
        meaning, cells.get(meaning, ["", "X"])[1]
    )
    cells[meaning] = [heading.upper().replace(" ", "_"), value]

    rows = "\n".join("\t".join(row) for row in zip(*cells.values(), strict=True))
    preview = preview_pairs(rows, divisions=["X"])

    assert preview.problems == ()
    assert len(preview.pairs) == 1


@pytest.mark.parametrize("column", ["room", "division"])
def test_an_empty_column_of_what_the_event_has_not_is_no_reason_to_refuse(column):
    """The event folder writes both columns, and its list is brought back."""
    empty = preview_pairs(f"school,first child,{column}\nAsh,A,\nAsh,B,\n")
    filled = preview_pairs(f"school,first child,{column}\nAsh,A,\nAsh,B,Hall\n")

    assert len(empty.pairs) == 2
    assert [problem.column for problem in filled.problems] == [column]


@pytest.mark.parametrize("between", ["&", " & ", " and ", "/", "+", ";", "|", "\n"])
def test_two_children_in_one_cell_are_told_apart(between):
    preview = preview_pairs(f'school,children\nAsh,"Ada{between}Bo"\n')

    assert preview.pairs[0].members == ("Ada", "Bo")


def test_a_name_that_holds_and_is_one_child():
    assert preview_pairs("school,children\nAsh,Alexandra\n").pairs[0].members == ("Alexandra",)


def test_missing_codes_go_on_from_those_in_use():
    preview = preview_pairs(
        "school,first child,code\nAsh,A,\nAsh,B,P07\nAsh,C,\n", existing=EXISTING
    )

    assert [(row.code, row.code_is_proposed) for row in preview.rows] == [
        ("P08", True),
        ("P07", False),
        ("P09", True),
    ]


@pytest.mark.parametrize(
    ("taken", "codes"),
    [
        ([], ["P01", "P02"]),
        (["A9", "A10", "x"], ["A11", "A12"]),
        (["7"], ["8", "9"]),
        (["P001", "p002"], ["P003", "P004"]),
        (["guest"], ["P01", "P02"]),
        (["P1", "q3", "q4"], ["q5", "q6"]),
        (["P99"], ["P100", "P101"]),
    ],
)
def test_proposed_codes_follow_the_commonest_form(taken, codes):
    assert proposed_codes(taken, 2) == codes


@pytest.mark.parametrize(
    ("row", "column", "what"),
    [
        ("A1,,Ada,Bo", "school", "is empty"),
        ("A1,Ash,,", "first child", "no child in this row"),
        ("A1,Ash,,Bo", "first child", "although a second child"),
        ("A1,Ash,Ada,ada", "second child", "is the name of the first child too"),
        ("P01,Ash,Ada,Bo", "code", "is there already in the event"),
        ("p01,Ash,Ada,Bo", "code", "is there already in the event"),
        ("A1,Fernhollow,bo,ADA", "", "stand already under P01 in the event"),
        ("A1,FERNHOLLOW.,Cy,Di", "school", "is spelled otherwise"),
        ("A1,Ash,Ada,Bo,Cy", "", "is a cell under no heading"),
        ("A1,Ash," + "x" * 101 + ",Bo", "first child", "more than 100 characters"),
        ("x" * 21 + ",Ash,Ada,Bo", "code", "more than 20 characters"),
        ("A1,Ash,A\x1b[2Jda,Bo", "first child", "hidden control character (U+001B)"),
        ("A1,Ash,A\u202eda,Bo", "first child", "hidden control character (U+202E)"),
    ],
)
def test_what_is_wrong_in_a_row_is_named_with_its_mend(row, column, what):
    problem = only_problem(HEAD + row + "\n", existing=EXISTING, name="list.csv")

    assert (problem.file, problem.row, problem.column) == ("list.csv", 2, column)
    assert what in problem.what
    assert problem.mend


def test_rows_are_compared_with_each_other():
    preview = preview_pairs(HEAD + "A1,Ash,Ada,Bo\na1,ASH,Bo,Ada\n")

    assert {p.row for p in preview.problems} == {3}
    assert [p.what.split(" in ")[0] for p in preview.problems] == [
        "is there already",
        "these children of this school stand already",
        "is spelled otherwise",
    ]


def test_a_third_child_is_refused_in_a_column_and_in_a_cell():
    by_column = "school,child 1,child 2,child 3\nAsh,A,B,C\nAsh,D,E,\n"

    assert "third child" in only_problem(by_column).what
    assert "third child" in only_problem("school,children\nAsh,A & B & C\n").what


def test_a_comma_between_names_in_one_cell_is_asked_about():
    assert "comma" in only_problem('school,children\nAsh,"Ada, Bo"\n').what


def test_a_bad_status_is_refused_by_the_rules_of_the_folder():
    problem = only_problem("school,child,status\nAsh,A,gone\n")

    assert (problem.column, problem.what[:14]) == ("status", "must be one of")


@pytest.mark.parametrize(
    ("head", "what", "mend"),
    [
        ("Ash,Ada,Bo", "no row of headings", "Begin with a row of headings such as code, school"),
        ("scool,first child,code", "not a known heading", "Did you mean school?"),
        ("school,e-mail,first child", "not a known heading", "Rename or remove"),
        ("school,code", "missing in the headings", "first child"),
        ("first child,code", "missing in the headings", "school"),
        ("school,child 1,pupil 1", "means the same as 'child 1'", "Remove one"),
        ("school,children,child 2", "is beside single names", "Keep one"),
    ],
)
def test_headings_that_say_too_little_or_too_much_are_refused(head, what, mend):
    problem = only_problem(head + "\n1,2,3\n")

    assert problem.row == 1
    assert what in problem.what
    assert mend in problem.mend


def test_one_bad_row_keeps_all_pairs_back_but_every_row_is_shown():
    preview = preview_pairs(HEAD + "A1,Ash,Ada,Bo\nA2,,Cy,Di\n")

    assert preview.pairs == ()
    assert [bool(row.problems) for row in preview.rows] == [False, True]
    with pytest.raises(FilesError, match="row 3, column school: is empty"):
        preview.raise_if_any()


def test_all_problems_are_listed_however_many():
    preview = preview_pairs(HEAD + "".join(f"A{n},,Ada,Bo\n" for n in range(1000)))

    assert sum(p.what == "is empty" for p in preview.problems) == 1000


def test_row_numbers_are_those_of_the_spreadsheet():
    text = 'school,first child\n\nAsh,"Ada\nMaria"\n\n,Cy\n'

    preview = preview_pairs(text)

    assert [row.row for row in preview.rows] == [3, 5]
    assert preview.rows[0].members == ("Ada Maria",)


def test_script_and_formulas_in_names_stay_plain_text():
    preview = preview_pairs("school\tfirst child\n<b>Ash</b>\t<script>alert(1)</script>\nX\t=1+1\n")

    assert preview.pairs[0].members == ("<script>alert(1)</script>",)
    assert preview.pairs[0].school == "<b>Ash</b>"
    assert preview.pairs[1].members == ("=1+1",)


def test_a_name_typed_and_a_name_copied_are_the_same():
    preview = preview_pairs("school,first child\nÉcluse,A\nE\u0301cluse,\u00a0B \n")

    assert {pair.school for pair in preview.pairs} == {"Écluse"}
    assert preview.pairs[1].members == ("B",)


@pytest.mark.parametrize("source", ["", b"", "\n\n", "school,first child\n", " \t \n"])
def test_a_list_without_a_row_is_refused(source):
    assert only_problem(source).what == "holds no pairs"


@pytest.mark.parametrize(
    ("cell", "what"),
    [
        (date(2027, 1, 2), "was turned into a date"),
        ("#N/A", "holds the error of a formula"),
        ("=A1&B1", "holds a formula whose value is not in the file"),
    ],
)
def test_a_cell_the_spreadsheet_made_something_else_of_is_named(cell, what):
    problem = only_problem(workbook(["school", "child"], ["Ash", "A"], ["Ash", cell]))

    assert (problem.row, problem.column) == (3, "child")
    assert what in problem.what


def test_a_row_of_unsaved_formulas_is_not_an_empty_row():
    preview = preview_pairs(
        workbook(["school", "child"], ["Ash", "A"], ["=Z1", "=Z2"], ["=Z1", "=Z2"])
    )

    assert [(p.row, p.value) for p in preview.problems if "formula" in p.what] == [
        (3, "formula in A3"),
        (3, "formula in B3"),
        (4, "formula in A4"),
        (4, "formula in B4"),
    ]


def test_empty_and_hidden_sheets_do_not_matter():
    book = openpyxl.load_workbook(
        io.BytesIO(workbook(["school", "child"], ["Ash", "A"], notes=[["secret"]], more=[]))
    )
    book["notes"].sheet_state = "hidden"
    stream = io.BytesIO()
    book.save(stream)

    assert len(preview_pairs(stream.getvalue()).pairs) == 1


def test_two_filled_sheets_are_refused_by_name():
    problem = only_problem(workbook(["school", "child"], ["Ash", "A"], notes=[["x"]]))

    assert problem.what == "has 2 sheets with something in them"
    assert problem.value == "Sheet, notes"


@pytest.mark.parametrize(
    "cell", ["Lena, Mo", "Lena & Mo", "Lena and Mo", "Lena/Mo", "Łucja,Ana-M."]
)
def test_two_names_in_the_cell_of_one_child_are_asked_about(cell):
    problem = only_problem(f"school\tfirst child\nAsh\t{cell}\n", name="list")

    assert (problem.row, problem.column, problem.value) == (2, "first child", cell)
    assert problem.what == "may be two children in one cell"
    assert "One child:" in problem.mend
    assert "Two children:" in problem.mend


@pytest.mark.parametrize("cell", ["Rosalind", "Ana-Maria", "O'Neil", "A1", "=1+1", "Mary Ann Sand"])
def test_one_name_is_not_asked_about(cell):
    assert not preview_pairs(f"school\tfirst child\nAsh\t{cell}\n").problems


@pytest.mark.parametrize(
    ("schools", "existing", "wrong", "best"),
    [
        (("st anne", "St Anne", "St Anne"), (), [2], "St Anne"),
        (("st anne", "St Anne"), (), [2], "St Anne"),
        (("St Anne", "st. anne", "st. anne"), (), [2], "st. anne"),
        (("ST ANNE", "st anne"), (), [3], "ST ANNE"),
        (("St Anne", "St Anne"), ("st anne",), [2, 3], "st anne"),
    ],
)
def test_the_spelling_most_rows_have_is_proposed(schools, existing, wrong, best):
    rows = "".join(f"{school},C{i}\n" for i, school in enumerate(schools))
    there = [Pair(f"P{i}", school, ("X",)) for i, school in enumerate(existing)]

    problems = preview_pairs(f"school,first child\n{rows}", existing=there).problems

    assert [p.row for p in problems] == wrong
    assert {p.mend for p in problems} == {f"Write {best}"}
