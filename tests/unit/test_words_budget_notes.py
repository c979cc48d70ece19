"""Each note of a budget is said where its condition holds, and nowhere else."""

from dataclasses import replace
from functools import cache

import pytest

from nearmark.kit import (
    AssignedValue,
    Sample,
    combined_count,
    count_by_weighing,
    hand_count,
    net_mass,
)
from nearmark.kit.box_budget import BoxOptions
from nearmark.kit.box_volume import box_volume
from nearmark.kit.count_options import CountOptions
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.measurement.row_notes import FromSamples, Reason, WidenedByStudent
from nearmark.words.budget_notes import note_words, row_notes

SCALE = Instrument("bench scale", "g", 0.1)
OTHER = Instrument("kitchen scale", "g", 0.1)
RULER = Instrument("ruler", "cm", 0.1)


@cache
def count(
    *masses_g: float,
    gross_g: tuple[float, ...] = (321.7,),
    scale: Instrument = SCALE,
    options: CountOptions | None = None,
) -> AssignedValue:
    """About 342 pieces by weighing, in samples of 40."""
    samples = [Sample(40, mass) for mass in masses_g or (24.4, 24.6, 24.5)]
    gross, tare = Reading(gross_g, scale), Reading((112.1,), scale)
    return count_by_weighing(samples, gross, tare, sample_scale=SCALE, options=options)


@cache
def box(
    *sides_cm: float, ruler: Instrument = RULER, options: BoxOptions | None = None
) -> AssignedValue:
    """A box of three sides read alike."""
    side = Reading(sides_cm or (10.0,), ruler)
    return box_volume(side, side, side, options=options)


def said(value: AssignedValue, row: str) -> str:
    """The note of the row whose name begins so."""
    (found,) = (each for each in value.budget.components if each.name.startswith(row))
    return row_notes(found)


SHARED = "all samples of one size share it: no repeat shows it"
CONTAINED = "contained in the repeatability"


@pytest.mark.parametrize(
    ("value", "row", "note"),
    [
        (count(), "repeatability of the samples", "from 2 degrees of freedom"),
        (count(24.4, 24.6), "repeatability of the samples", "from 1 degree of freedom"),
        (count(), "resolution of the samples' tare", SHARED),
        (count(), "resolution of the sample weighings", CONTAINED),
        (
            count(24.5, 24.5, 24.5),
            "resolution of the sample weighings",
            f"they scatter too little to show it; {SHARED}",
        ),
        (count(), "possible miscount", CONTAINED),
        (
            count(options=CountOptions(piece_cv=0.6)),
            "piece spread within the samples",
            "the samples scatter less than this allows for",
        ),
        (
            count(),
            "piece spread of the container",
            "upper 90 % bound of the scatter of the samples",
        ),
        (
            count(options=CountOptions(piece_cv=0.02)),
            "piece spread of the container",
            "from piece_cv",
        ),
        (count(), "mixing", "not stated: were the samples taken from the top only?"),
        (
            count(options=CountOptions(mixing_u=0.0)),
            "mixing",
            "zero: the samples came from all depths of the lot",
        ),
        (
            count(options=CountOptions(mixing_u=0.01)),
            "mixing",
            "the samples came from one place of the lot",
        ),
        (
            count(),
            "calibration (gain) of bench scale",
            "cancels: the same scale weighed the samples",
        ),
        (count(scale=OTHER), "calibration (gain) of bench scale", ""),
        (count(), "repeatability of gross", "one reading only: no scatter to be seen"),
        (
            count(gross_g=(321.7, 321.9)),
            "repeatability of gross",
            "with Student's factor for 1 degree of freedom",
        ),
        (count(), "moisture", ""),
    ],
)
def test_a_count_by_weighing(value, row, note):
    assert said(value, row) == note


def test_samples_out_of_the_container_itself():
    value = count(options=CountOptions(samples_from="container"))

    assert said(value, "piece spread of the container") == (
        "zero: the samples came out of the container itself (on the safe side)"
    )


def test_few_samples_say_their_level_and_the_spread_believed():
    assert said(count(), "few samples").startswith(
        "upper 82 % bound of the scatter, a usual piece spread of 10 % counted as one more degree "
    )


@pytest.mark.parametrize(
    ("value", "row", "note"),
    [
        (hand_count([342]), "repeatability", "one count only: no scatter to be seen"),
        (hand_count([342, 342], counters=["Ana", "Ana"]), "repeatability", "one person's counts"),
        (hand_count([342, 343]), "repeatability", "2 independent full counts that agree"),
        (hand_count([342, 360]), "repeatability", "2 independent full counts that do not agree"),
        (hand_count([342, 342]), "slip of ten", "another person's count would show it"),
        (hand_count([342]), "slip of ten", ""),
        (hand_count([342, 360]), "possible miscount", CONTAINED),
        (hand_count([342, 342]), "possible miscount", ""),
    ],
)
def test_a_count_by_hand(value, row, note):
    assert said(value, row) == note


def test_a_weighing_that_checks_a_count_is_said_with_its_own_value():
    joined = combined_count(count(), hand_count([342, 342]))

    assert said(joined, "repeatability") == (
        "2 independent full counts that agree; "
        "the count by weighing, 342 ± 12 pieces, agrees (E_n 0.02)"
    )


def test_two_counts_that_are_averaged():
    joined = combined_count(count(), hand_count([342]))

    assert {row_notes(row) for row in joined.budget.components} == {
        "weighted by its inverse variance"
    }


@pytest.mark.parametrize(
    ("value", "row", "note"),
    [
        (box(), "zero of ruler", "none stated: is the end of the ruler worn?"),
        (
            box(ruler=replace(RULER, zero_u=0.02)),
            "zero of ruler",
            "common to all sides read with it",
        ),
        (box(), "calibration (gain) of ruler", "common to all sides read with it"),
        (box(), "wall thickness", "common to all sides: two walls each"),
        (box(), "corner", ""),
        (
            box(options=BoxOptions(corner_deg=2)),
            "corner",
            "volume multiplied by 0.99939",
        ),  # cos 2 degrees
        (box(), "repeatability of width", "one reading only: no scatter to be seen"),
        (box(10.0, 10.1, 10.3), "resolution of width", CONTAINED),
        (box(), "product of the sides", "exact variance of a product (Goodman 1960)"),
    ],
)
def test_a_box(value, row, note):
    assert said(value, row) == note


def test_cups_that_scatter_contain_the_rounding_of_their_tare():
    gross, tare = Reading((131.2,), SCALE), Reading((24.1,), SCALE)

    value = net_mass(gross, tare, batch_tares_g=[23.9, 24.3, 24.1])

    assert said(value, "resolution of tare") == CONTAINED
    assert said(net_mass(gross, tare), "resolution of tare") == ""


@pytest.mark.parametrize("note", [FromSamples(1), WidenedByStudent(1)])
def test_one_degree_of_freedom_is_one(note):
    assert note_words(note).endswith("1 degree of freedom")


def test_every_reason_has_its_words():
    assert len({note_words(each) for each in Reason}) == len(Reason)
