"""The volume of a box: value, rows, refusals, warnings, advice."""

import math
from decimal import Decimal

import pytest

from nearmark.errors import InputError, ReadingsDisagree, UnitError
from nearmark.kit import BoxOptions, box_volume, exact_product_variance, ruler_outlook
from nearmark.kit.box_faces import BoxFaces, Faces
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.measurement.row_notes import Reason
from nearmark.words.key_advice import advice_words, outlook_words
from nearmark.words.key_remarks import warning_words

RULER = Instrument("ruler", "cm", 0.1)
TAPE = Instrument("tape", "cm", 0.1)
SIDES = ((24.1, 24.2, 24.1), (18.0, 18.1, 18.0), (12.3, 12.3, 12.3))


def box(*sides, ruler=RULER, **options):
    readings = [Reading(side, ruler) for side in sides or SIDES]
    return box_volume(*readings, options=BoxOptions(**options))


def row(result, name):
    (found,) = (c for c in result.budget.components if c.name == name)
    return found


def test_the_volume_is_the_product_of_the_mean_sides_and_the_key_whole():
    result = box()

    expected = (24.1 + 0.1 / 3) * (18.0 + 0.1 / 3) * 12.3
    assert result.value == pytest.approx(expected)
    assert result.key == Decimal(5353)
    assert (result.unit, result.method) == ("cm3", "box volume")


def test_sides_read_with_one_ruler_share_their_scatter():
    # variances 0.0033333, 0.0033333, 0: pooled 0.0022222, sd 0.0471405 cm, dof 6;
    # u of a mean of three 0.0272166 cm
    result = box()
    rows = [row(result, f"repeatability of {side}") for side in ("length", "width", "height")]

    assert [r.u for r in rows] == pytest.approx([0.0272166] * 3, abs=1e-6)
    assert {r.dof for r in rows} == {6}
    assert len({r.estimate for r in rows}) == 1


def test_scatter_of_readings_contains_the_resolution():
    # pooled sd 0.0471405 cm is more than d / sqrt(12) = 0.0288675 cm
    resolution = row(box(), "resolution of length")

    assert resolution.u == 0
    assert resolution.notes == (Reason.CONTAINED,)


def test_readings_that_agree_hide_the_resolution_which_stands_in_whole():
    # one of nine readings a step off: variance 0.0033333 / 3 = 0.0011111, sd 0.0333333: contained;
    # none off: d / sqrt(12) = 0.0288675 cm, not divided by three
    result = box((24.1,) * 3, (18.0,) * 3, (12.3,) * 3)
    repeatability, resolution = (
        row(result, f"{w} of length").u for w in ("repeatability", "resolution")
    )

    assert math.hypot(repeatability, resolution) == pytest.approx(0.0288675, abs=1e-6)


def test_sides_read_with_two_rulers_have_their_own_scatter_and_gain():
    result = box_volume(Reading(SIDES[0], RULER), Reading(SIDES[1], TAPE), Reading(SIDES[2], TAPE))

    assert row(result, "repeatability of length").dof == 2
    assert row(result, "repeatability of width").dof == 4
    assert {c.name for c in result.budget.components} >= {
        "calibration (gain) of ruler",
        "calibration (gain) of tape",
    }


def test_a_side_read_once_borrows_the_scatter_of_the_others():
    result = box(SIDES[0], SIDES[1], (12.3,))

    assert row(result, "repeatability of height").dof == 4
    assert not any("read once" in text for text in map(warning_words, result.warnings))


def test_a_box_read_once_rests_on_the_marks_and_says_so():
    # second-order terms of a product are below 1e-4 here
    result = box((20.0,), (15.0,), (10.0,))

    relative = 0.0288675 * math.sqrt(1 / 400 + 1 / 225 + 1 / 100)
    assert result.u / result.value == pytest.approx(relative, rel=1e-4)
    assert result.budget.dof == math.inf
    assert any("each side was read once" in text for text in map(warning_words, result.warnings))


def test_the_gain_of_one_ruler_counts_three_times():
    ruler = Instrument("ruler", "cm", 0.1, gain_u=0.001)
    result = box(ruler=ruler)

    assert row(result, "calibration (gain) of ruler").contribution == pytest.approx(
        3 * 0.001 * result.value
    )


def test_linearity_counts_by_root_sum_of_squares():
    # 0.1 cm on a cube of 10 cm: sqrt(3) * 100 cm2 * 0.1 cm = 17.32 cm3
    ruler = Instrument("ruler", "cm", 0.1, linearity_u=0.1)
    result = box((10.0,), (10.0,), (10.0,), ruler=ruler)

    assert row(result, "linearity of the readings").contribution == pytest.approx(17.3205, abs=1e-3)


def test_outside_readings_lose_two_walls():
    result = box(
        (10.0,), (10.0,), (10.0,), box=BoxFaces(Faces.OUTSIDE, Decimal("0.5")), wall_u_cm=0.02
    )

    assert result.value == pytest.approx(9.0**3)
    # common to the three sides: 2 walls * 0.02 cm * 3 * 81 cm2 = 9.72 cm3
    assert row(result, "wall thickness").contribution == pytest.approx(9.72)


def test_bulge_is_a_rectangular_allowance_on_each_side():
    # 0.3 / sqrt(3) cm * sqrt(3) * 100 cm2 = 30 cm3
    result = box((10.0,), (10.0,), (10.0,), box=BoxFaces(bulge_cm=Decimal("0.3")))

    assert row(result, "bulge of the faces").contribution == pytest.approx(30.0)


def test_a_leaning_corner_shrinks_the_volume_and_is_pointed_at():
    # cos 10 degrees = 0.984808
    result = box((10.0,), (10.0,), (10.0,), corner_deg=10.0)

    assert result.value == pytest.approx(984.808, abs=1e-3)
    # half of 1 / 0.984808 - 1 = 0.015427, rectangular: 0.0077134 / sqrt(3) * 984.808 = 4.3857
    corner = row(result, "corner off a right angle")
    assert corner.contribution == pytest.approx(4.3857, abs=1e-3)
    assert any(
        "10 degrees off a right angle" in text for text in map(warning_words, result.warnings)
    )


def test_the_budget_has_the_exact_variance_of_the_product():
    # a small box where the second order shows: sides 2, 2, 1 cm
    result = box((2.0,), (2.0,), (1.0,))
    u = RULER.resolution_u

    exact = exact_product_variance([2.0, 2.0, 1.0], [u, u, u])
    assert result.budget.variance == pytest.approx(exact, rel=1e-12)
    assert row(result, "product of the sides, beyond first order").contribution > 0


def test_the_exact_variance_of_a_leaning_box_is_scaled_by_its_corner():
    upright = row(box((2.0,), (2.0,), (1.0,)), "product of the sides, beyond first order")
    leaning = row(
        box((2.0,), (2.0,), (1.0,), corner_deg=30.0), "product of the sides, beyond first order"
    )

    assert leaning.u == pytest.approx(upright.u * math.cos(math.radians(30)), rel=1e-9)


def test_the_interval_is_value_plus_minus_u():
    result = box()

    low, high = result.interval
    assert high - result.value == pytest.approx(result.expanded_u)
    assert result.value - low == pytest.approx(result.expanded_u)


def test_an_unfit_box_gets_numbers_and_the_best_act_first():
    # variances 0.02333, 0.04333, 0.02333: pooled 0.03, u of each mean 0.1 cm, dof 6;
    # relative 0.1 * sqrt(1/12.13^2 + 1/8.17^2 + 1/5.17^2) = 0.02433, times t(6) = 2.447: 5.95 %
    result = box((12.0, 12.3, 12.1), (8.1, 8.4, 8.0), (5.0, 5.2, 5.3))

    assert not result.fit
    first, none = map(advice_words, result.advice)
    assert first.startswith("Read each side 2 more times: that can bring U from 6.0 % to ")
    assert (
        none == "None of these reaches 1.0 %: take a larger box, or decide about it with a reason"
    )


def test_a_box_too_small_for_its_ruler_is_told_what_would_do():
    (calipers,) = map(advice_words, box((4.0,) * 3, (4.0,) * 3, (4.0,) * 3).advice)

    assert calipers.startswith(
        "Read with calipers instead of ruler: that can bring U from 2.5 % to "
    )


def test_a_gain_asks_for_a_second_ruler_and_for_nothing_that_cannot_help():
    """F4: finer marks, further readings and a larger box all leave the gain as it is."""
    ruler = Instrument("ruler", "cm", 0.01, gain_u=0.004)
    result = box((10.0,) * 3, (10.0,) * 3, (10.0,) * 3, ruler=ruler)

    assert not result.fit
    (check,) = map(advice_words, result.advice)
    assert check.startswith("Check ruler against a second ruler or a gauge: that can bring U from ")


def test_no_single_act_is_praised_when_it_takes_all_of_them():
    ruler = Instrument("ruler", "cm", 0.1, gain_u=0.0018, zero_u=0.02)
    result = box((9.0,) * 3, (9.0,) * 3, (9.0,) * 3, ruler=ruler)

    assert len(result.advice) > 2
    assert (
        advice_words(result.advice[-1])
        == "None of these alone reaches 1.0 %; all of them together do"
    )


@pytest.mark.parametrize(
    ("read_cm", "says"),
    [
        (
            [5.8],
            "If the other edges are about as long, readings of ruler that agree leave U at",
        ),
        ([5.8, 5.8], "Ruler cannot bring this box under 1.0 %: readings that agree leave U at 1.4"),
        (
            [9.1, 9.0, 9.1],
            "Ruler cannot bring this box under 1.0 %: readings that agree leave U at",
        ),
    ],
)
def test_the_first_readings_tell_that_a_ruler_will_not_do(read_cm, says):
    outlook = ruler_outlook(read_cm, RULER, 0.01)
    assert outlook is not None
    told = outlook_words(outlook)

    assert told.startswith(says)
    assert "read to half marks (0.05 cm)" in told
    assert "a box with edges of 10 cm or more" in told


def test_what_would_do_does():
    """The step and the edge named in words, tried."""
    half_marks = Instrument("ruler", "cm", 0.05)

    assert not box((5.8,) * 3, (5.8,) * 3, (5.8,) * 3).fit
    assert box((5.8,) * 3, (5.8,) * 3, (5.8,) * 3, ruler=half_marks).fit
    assert box((10.0,) * 3, (10.0,) * 3, (10.0,) * 3).fit
    assert not box((9.7,) * 3, (9.7,) * 3, (9.7,) * 3).fit
    assert ruler_outlook([10.0], RULER, 0.01) is None


def test_where_several_things_are_wrong_all_are_named_together():
    ruler = Instrument("ruler", "cm", 0.1, gain_u=0.01, zero_u=0.1)

    outlook = ruler_outlook([4.0], ruler, 0.01)
    assert outlook is not None
    told = outlook_words(outlook)

    assert (
        "check ruler against a second ruler or a gauge, read from the 10 cm mark of ruler instead "
        "of its end and read to 0.02 cm"
    ) in told


def test_a_box_typed_in_millimetres_says_what_it_would_be_in_cm():
    found = [warning_words(w) for w in box((241.0,) * 3, (180.0,) * 3, (123.0,) * 3).warnings]

    assert any("5,336 litres" in text and "the box has 5,336 cm3" in text for text in found)


def test_a_fit_box_needs_no_advice():
    result = box()

    assert result.fit
    assert result.advice == ()


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_an_impossible_side_is_named(value):
    with pytest.raises(InputError, match=r"^width:"):
        box((10.0,), (value,), (10.0,))


def test_a_side_without_readings_is_refused():
    with pytest.raises(InputError, match="height: no reading given"):
        box((10.0,), (10.0,), ())


def test_a_decimal_slip_between_repeats_disagrees():
    with pytest.raises(ReadingsDisagree, match=r"length: repeated readings run from 2\.41 to 24"):
        box((24.1, 2.41, 24.2), (10.0,), (10.0,))


def test_swapped_digits_are_pointed_at():
    result = box((12.4, 14.2, 12.5), (10.0,), (10.0,))

    assert "length: 14.2 cm is far from the median 12.5 cm: digits swapped?" in map(
        warning_words, result.warnings
    )


def test_millimetres_and_off_grid_readings_are_pointed_at():
    assert any(
        "millimetres?" in text
        for text in map(warning_words, box((241.0,), (18.0,), (12.3,)).warnings)
    )
    assert any(
        "millimetres?" in text
        for text in map(warning_words, box((120.0,), (80.0,), (60.0,)).warnings)
    )
    assert any(
        "Or inches?" in text for text in map(warning_words, box((9.25,), (7.0,), (5.0,)).warnings)
    )


def test_a_side_of_more_than_ten_metres_asks_for_the_unit():
    with pytest.raises(UnitError, match="width: longer than 1000 cm"):
        box((24.1,), (1800.0,), (12.3,))


def test_a_thimble_of_a_box_asks_for_the_unit():
    with pytest.raises(UnitError, match="metres or inches"):
        box((0.3,), (0.2,), (0.2,))


def test_a_scale_is_no_ruler():
    with pytest.raises(UnitError, match="length: bench scale reads g"):
        box(ruler=Instrument("bench scale", "g", 0.1))


def test_walls_thicker_than_the_side_are_refused():
    with pytest.raises(InputError, match="height: two walls are thicker"):
        box((10.0,), (10.0,), (1.0,), box=BoxFaces(Faces.OUTSIDE, Decimal("0.5")))


@pytest.mark.parametrize(
    ("option", "value"),
    [
        ("u_limit", 0.0),
        ("wall_u_cm", math.nan),
        ("corner_deg", 31.0),
    ],
)
def test_an_impossible_option_is_named(option, value):
    with pytest.raises(InputError, match=f"box options, {option}"):
        BoxOptions(**{option: value})


@pytest.mark.parametrize(
    ("faces", "size"),
    [
        (BoxFaces(wall_cm=Decimal("-0.1")), "wall_cm"),
        (BoxFaces(wall_cm=Decimal("nan")), "wall_cm"),
        (BoxFaces(bulge_cm=Decimal(-1)), "bulge_cm"),
    ],
)
def test_an_impossible_wall_or_bulge_is_named(faces, size):
    with pytest.raises(InputError, match=f"box options, {size}"):
        BoxOptions(box=faces)
