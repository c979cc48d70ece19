"""The strip in a terminal: columns that agree."""

import pytest

from nearmark.charts import Mark, MarkKind, strip_text
from nearmark.errors import InputError

WIDTHS = [25, 31, 40, 61, 80, 119]


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("ascii_only", [False, True])
def test_no_line_is_wider_than_asked_and_the_key_has_one_column(width, ascii_only):
    lines = strip_text(
        [Mark(1.0, "P07", MarkKind.THIS), Mark(0.2), Mark(3.0)],
        width,
        interval=(0.98, 1.02),
        ascii_only=ascii_only,
    ).splitlines()
    this, key = ("X", "|") if ascii_only else ("◆", "┃")

    assert max(map(len, lines[:3])) <= width
    assert lines[0].index(this) == lines[1].index(key) == len(lines[1]) // 2
    assert lines[2].index("key") + 1 == len(lines[1]) // 2
    assert lines[2].endswith("double")


@pytest.mark.parametrize("width", WIDTHS)
def test_half_and_double_are_the_end_columns(width):
    marks, axis, *_ = strip_text([Mark(0.5), Mark(2.0)], width).splitlines()

    assert marks[0] == marks[-1] == "│"
    assert len(marks) == len(axis)


def test_beyond_the_ends_are_arrows():
    marks = strip_text([Mark(0.1), Mark(5)], 41).splitlines()[0]

    assert (marks[0], marks[-1]) == ("◀", "▶")


def test_a_column_is_a_step_of_log_ratio():
    # 61 columns: 30 steps of ln(2)/30 either side; 2**(10/30) is ten columns right of the centre.
    marks = strip_text([Mark(2 ** (10 / 30), kind=MarkKind.THIS)], 61).splitlines()[0]

    assert marks.index("◆") == 30 + 10


def test_this_pair_is_never_hidden_by_others():
    marks = strip_text([Mark(0.9, kind=MarkKind.THIS), Mark(0.9), Mark(0.9)], 61).splitlines()[0]

    assert marks.strip() == "◆"


def test_ascii_is_ascii():
    text = strip_text(
        [Mark(0.8), Mark(1.0, "", MarkKind.MEAN)], interval=(0.9, 1.1), ascii_only=True
    )

    assert text.isascii()


def test_the_legend_says_what_the_signs_are():
    legend = strip_text(
        [Mark(0.88, "P07", MarkKind.THIS), Mark(0.95, "", MarkKind.MEAN), Mark(1.2), Mark(1.3)],
        interval=(0.99, 1.012),
    ).splitlines()[3:]

    assert "   ".join(legend) == (
        "◆ P07: 12 % low   ○ mean: 5 % low   │ 2 others   ═ key known within 1.2 %"
    )


def test_too_narrow_is_refused():
    with pytest.raises(InputError, match="25 columns"):
        strip_text([], 24)
