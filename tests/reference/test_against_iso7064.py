"""Check characters against published examples of ISO/IEC 7064, MOD 37-2."""

import pytest

from nearmark.contest.pair_code import check_character, read_pair_code


def test_the_worked_example_of_the_uk_blood_services():
    # Guidelines for the Blood Transfusion Services in the UK, annex 2 (opened): the weighted sum of
    # G123 498 654 321 is 148354, modulo 37 it is 21, 38 - 21 = 17, which means H.
    assert check_character("G123 498 654 321") == "H"


@pytest.mark.parametrize(
    ("protected", "authority"),
    [
        ("G123489654321Y", "python-stdnum, docstring of stdnum.iso7064.mod_37_2 (opened)"),
        ("12CD6", "npm package cdigit, usage of mod37_2 (excerpt opened)"),
    ],
)
def test_strings_other_programs_print(protected, authority):
    assert check_character(protected[:-1]) == protected[-1], authority
    assert read_pair_code(protected, [protected[:-1]]) == protected[:-1]


def test_the_polynomial_method_agrees():
    # Clause 7.2: the sum of value times 2 to the place, check character included, leaves 1.
    values = {c: v for v, c in enumerate("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*")}
    for number in range(1000):
        code = f"P{number:03}"
        whole = code + check_character(code)
        total = sum(values[c] * 2**place for place, c in enumerate(reversed(whole)))

        assert total % 37 == 1
