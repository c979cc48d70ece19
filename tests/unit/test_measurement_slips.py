"""Slips of the pen between two numbers; worked by hand."""

from decimal import Decimal

import pytest

from nearmark.measurement.slips import Meant, SlipKind, slip_between


@pytest.mark.parametrize(
    ("number", "meant", "kind"),
    [
        ("429", "42.9", SlipKind.POINT),
        ("412", "421", SlipKind.EXCHANGED),
        ("412", "472", SlipKind.DIGIT),
        ("412", "473", None),  # two digits differ
        ("412", "41", None),  # a digit is missing: no single slip of these
        ("41.2", "81.2", SlipKind.DIGIT),
        ("1E+3", "2000", SlipKind.DIGIT),  # compared as written out: 1000
        ("412", "412", None),
    ],
)
def test_the_slip_between_two_numbers(number, meant, kind):
    found = slip_between(Decimal(number), Decimal(meant))

    assert found == (kind and Meant(kind, Decimal(meant)))
