"""The error tree drawn in errors.py is the real one, and every error carries its data."""

import inspect
import re
import unicodedata

from nearmark import errors
from nearmark.errors import FilesError, InputError, NearmarkError, Problem, TooFewReadings


def drawn_tree() -> dict[str, str]:
    """Class name -> parent, from the indented drawing in the module docstring."""
    parents: dict[str, str] = {}
    above: list[tuple[int, str]] = []
    for indent, name in re.findall(r"^( +)([A-Z]\w+)(?=\s|$)", errors.__doc__ or "", re.MULTILINE):
        above = [(depth, n) for depth, n in above if depth < len(indent)]
        parents[name] = above[-1][1] if above else "Exception"
        above.append((len(indent), name))
    return parents


def test_the_drawn_tree_is_the_real_one():
    real = {
        name: cls.__bases__[0].__name__
        for name, cls in inspect.getmembers(errors, inspect.isclass)
        if issubclass(cls, NearmarkError)
    }

    assert drawn_tree() == real


def test_a_message_says_where_what_and_the_mend():
    error = InputError("must be above zero", where="--tare", value=-1, mend="Check the sign")

    assert str(error) == "--tare: must be above zero (got -1). Check the sign"
    assert (error.where, error.value, error.mend) == ("--tare", -1, "Check the sign")


def test_too_few_readings_carries_both_numbers():
    error = TooFewReadings("counted samples", got=1, need=2)

    assert (error.got, error.need) == (1, 2)
    assert "at least 2 needed, 1 given" in str(error)


def test_files_error_keeps_every_problem_in_the_order_of_the_file():
    late = Problem("pairs.csv", 9, "code", "x", "is named twice", "Give it another code")
    early = Problem("pairs.csv", 2, "code", "", "is empty", "Write a code")

    error = FilesError([late, early])

    assert error.problems == (early, late)
    assert str(error).splitlines()[0].startswith("2 problems found, nothing was read")
    assert "pairs.csv, row 9, column code: is named twice (got 'x')" in str(error)


def test_no_control_sign_of_a_file_reaches_the_terminal():
    hostile = "pair\x1b]0;owned\x07\x9b2J\u202e\r"

    said = [
        str(InputError("is not known", where=hostile, value=hostile)),
        str(FilesError([Problem("pairs.csv", 1, hostile, hostile, hostile, "Rename it")])),
    ]

    signs = {sign for text in said for sign in text if sign != "\n"}
    assert not [sign for sign in signs if unicodedata.category(sign) in {"Cc", "Cf"}]
