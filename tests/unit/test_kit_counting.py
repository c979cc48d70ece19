"""A count by weighing: what it gives, what it refuses, what it points at."""

import math
import re
from decimal import Decimal

import pytest

from nearmark.errors import InputError, ReadingsDisagree, TooFewReadings, UnitError
from nearmark.kit import CountOptions, Sample, count_by_weighing
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.measurement.row_notes import FewSamples, FromSamples, Reason
from nearmark.words.key_advice import advice_words
from nearmark.words.key_remarks import warning_words
from nearmark.words.results_json import assigned_as_json

SCALE = Instrument("bench scale", "g", 0.1)
FINE = Instrument("pocket scale", "g", 0.01)
SAMPLES = (Sample(100, 61.2), Sample(100, 61.9), Sample(150, 92.0))

ROWS = [
    "repeatability of the samples",
    "few samples, and stopping when fit",
    "possible miscount of the samples",
    "piece spread within the samples, if known",
    "resolution of the samples' tare",
    "resolution of the sample weighings",
    "linearity of the sample weighings",
    "repeatability of gross",
    "resolution of gross",
    "repeatability of tare",
    "resolution of tare",
    "linearity of the net reading",
    "piece spread of the container",
    "calibration (gain) of bench scale",
    "moisture and dust",
    "mixing of the lot",
]


def reading(*grams, scale=SCALE):
    return Reading(grams, scale)


def count(samples=SAMPLES, gross=3914.2, tare=212.4, **options):
    return count_by_weighing(
        samples, reading(gross), reading(tare), options=CountOptions(**options)
    )


def row(result, name):
    (found,) = (c for c in result.budget.components if c.name == name)
    return found


def test_the_count_is_net_mass_over_the_mass_of_a_piece():
    # G = 3914.2 - 212.4 = 3701.8 g; m = 215.1 g / 350 = 0.6145714 g; N = 6023.38
    result = count()

    assert result.value == pytest.approx(3701.8 * 350 / 215.1)
    assert result.key == Decimal(6023)
    assert result.unit == "pieces"
    assert result.method == "count by weighing"


def test_repeatability_of_unequal_samples_weighs_each_by_its_pieces():
    # residuals -0.25714, 0.44286, -0.18571 g; squares over n: 6.6122e-4 + 1.96122e-3 + 2.2993e-4
    # = 2.85238e-3; over k - 1 = 2: 1.42619e-3; over 350 pieces: u(m) = 2.01861e-3 g
    found = row(count(), "repeatability of the samples")

    assert found.u == pytest.approx(2.01861e-3, rel=1e-5)
    assert found.notes == (FromSamples(2),)
    assert found.contribution == pytest.approx(6023.384 * 2.01861e-3 / 0.6145714, rel=1e-5)


def test_every_row_is_shown_even_when_zero():
    assert [c.name for c in count().budget.components] == ROWS


def test_the_scatter_of_few_samples_is_bounded_with_students_factor():
    # s^2 = 1.42619e-3 g^2, 10 % of m squared 3.77698e-3; (2 s^2 + that) / chi2(0.18, 3) = 0.922479
    # is 7.18646e-3; root 0.0847730 g, times t(3) / 1.959964 = 3.182446 / 1.959964: 0.137648 g a
    # piece, less than 26.5 % of m, 0.163 g; over the root of 350 pieces 7.35761e-3 g; less
    # 2.01861e-3 squared: 7.07528e-3 g.  chi2 as SciPy has it
    found = row(count(), "few samples, and stopping when fit")

    assert found.u == pytest.approx(7.07528e-3, rel=1e-5)
    assert found.notes == (FewSamples(0.82, 0.1, 0.265),)


def test_piece_spread_of_the_container_is_bounded_further_up():
    # (2 s^2 + (0.1 m)^2) / chi2(0.10, 3) = 0.584374, root 0.106510 g, no Student's factor:
    # 0.106510 / 0.614571 * sqrt(6023.384) = 13.4505 pieces
    result = count()

    assert row(result, "piece spread of the container").contribution == pytest.approx(
        13.4505, abs=1e-3
    )
    assert result.budget.dof == math.inf


def test_known_piece_cv_gives_the_spread_with_infinite_dof():
    # 0.1 * sqrt(6023.384) = 7.7611 pieces
    spread = row(count(piece_cv=0.1), "piece spread of the container")

    assert spread.contribution == pytest.approx(7.7611, abs=1e-3)
    assert spread.dof == math.inf


def test_samples_out_of_the_container_leave_no_spread_of_its_own():
    spread = row(count(samples_from="container"), "piece spread of the container")

    assert spread.u == 0
    assert spread.notes == (Reason.FROM_CONTAINER,)


def test_gain_of_one_scale_cancels_and_says_so():
    scale = Instrument("bench scale", "g", 0.1, gain_u=0.002)
    result = count_by_weighing(SAMPLES, reading(3914.2, scale=scale), reading(212.4, scale=scale))
    gain = row(result, "calibration (gain) of bench scale")

    assert (gain.u, gain.sensitivity, gain.contribution) == (0.002, 0, 0)
    assert gain.notes == (Reason.SAME_SCALE,)


def test_gains_of_two_scales_both_enter_in_full():
    scale = Instrument("bench scale", "g", 0.1, gain_u=0.002)
    fine = Instrument("pocket scale", "g", 0.01, gain_u=0.001)
    result = count_by_weighing(
        SAMPLES, reading(3914.2, scale=scale), reading(212.4, scale=scale), sample_scale=fine
    )

    gross_gain = row(result, "calibration (gain) of bench scale").contribution
    assert gross_gain == pytest.approx(0.002 * result.value)
    sample_gain = row(result, "calibration (gain) of pocket scale").contribution
    assert sample_gain == pytest.approx(0.001 * result.value)


def test_linearity_does_not_cancel():
    # samples: 0.05 g on a mean sample of 350/3 pieces: 0.05 / 116.667 / 0.614571 * 6023.38 = 4.2004
    scale = Instrument("bench scale", "g", 0.1, linearity_u=0.05)
    result = count_by_weighing(SAMPLES, reading(3914.2, scale=scale), reading(212.4, scale=scale))

    samples = row(result, "linearity of the sample weighings").contribution
    assert samples == pytest.approx(4.2004, abs=1e-3)
    net = row(result, "linearity of the net reading").contribution
    assert net == pytest.approx(0.05 / 0.6145714, rel=1e-6)


def test_moisture_is_a_share_of_the_count():
    assert row(count(moisture_u=0.002), "moisture and dust").contribution == pytest.approx(
        0.002 * 6023.384, rel=1e-6
    )


def test_repeated_gross_readings_average_and_the_larger_of_scatter_and_resolution_counts():
    # 3914.0, 3914.4: sd 0.28284 g, u 0.2 g: more than 0.0289 g, so the resolution adds nothing;
    # with Student's factor of one degree of freedom 0.2 * 12.7062 / 1.959964 = 1.29657 g
    result = count_by_weighing(SAMPLES, reading(3914.0, 3914.4), reading(212.4))

    assert row(result, "repeatability of gross").u == pytest.approx(1.29657, rel=1e-5)
    assert row(result, "resolution of gross").u == 0
    assert row(result, "resolution of tare").u == pytest.approx(0.1 / math.sqrt(12))


def floor_rows(result):
    return [row(result, name) for name in ROWS[:4]]


def test_equal_samples_are_taken_for_usual_pieces():
    # three equal samples of 100: 10 % of 0.612 g squared / 0.922479 = 4.06019e-3; root 0.0637196,
    # times 1.623727: 0.103463 g a piece; over the root of 300: 5.97345e-3 g
    repeatability, few, *rest = floor_rows(count(samples=[Sample(100, 61.2)] * 3))

    assert repeatability.u == pytest.approx(0, abs=1e-12)
    assert few.u == pytest.approx(5.97345e-3, rel=1e-5)
    assert [c.u for c in rest] == [0, 0]


def test_below_the_floor_the_sample_rows_add_up_to_the_floor():
    # a miscount in each of three samples of 10: 3 * (0.612 / 30)^2 = 1.24848e-3: u 0.0353338 g;
    # the bound gives 0.0902438 / sqrt(30) = 0.0164762 g only
    result = count(samples=[Sample(10, 6.12)] * 3, miscount_probability=1.0)

    assert math.hypot(*(c.u for c in floor_rows(result))) == pytest.approx(0.0353338, rel=1e-4)


def test_above_the_floor_miscount_and_spread_are_contained():
    repeatability, _, *rest = floor_rows(count())

    assert [c.u for c in rest] == [0, 0]
    assert {c.notes for c in rest} == {(Reason.CONTAINED,)}
    assert repeatability.u > 0


def test_equal_readings_share_one_rounding_error_however_many():
    # 5.2 g on a 0.1 g scale: two roundings of 0.0288675 g each on 100 pieces, not over root 10
    ten = count(samples=[Sample(100, 5.2)] * 10, gross=1512.4)
    hundred = count(samples=[Sample(100, 5.2)] * 100, gross=1512.4)

    for result in (ten, hundred):
        for name in ("resolution of the samples' tare", "resolution of the sample weighings"):
            assert row(result, name).u == pytest.approx(2.88675e-4, rel=1e-5)
        assert not result.fit  # 1.96 * 0.408248 % of 5.2 g * 100 / 5.2: U is above 1.5 %


@pytest.mark.parametrize(
    ("masses", "hidden"),
    [
        ((2.5, 2.6, 2.5, 2.5, 2.5, 2.6), True),  # two neighbouring steps say nothing between them
        ((2.5, 2.6, 2.5, 2.6), True),
        ((2.5, 2.6, 2.4, 2.7, 2.5, 2.3), False),
    ],
)
def test_scatter_shows_the_rounding_only_beyond_two_neighbouring_steps(masses, hidden):
    result = count(samples=[Sample(100, mass) for mass in masses])

    assert (row(result, "resolution of the sample weighings").u > 0) is hidden


def test_larger_samples_are_advised_where_they_are_less_work():
    # 50 pieces of 0.16 g on a 0.1 g scale: every sample carries 0.6 % of rounding
    advice = tuple(
        map(
            advice_words,
            count(samples=[Sample(50, m) for m in (8.1, 8.2, 8.0)], gross=1703.2).advice,
        )
    )

    same, larger = (
        int(re.search(r"Count \d+ more: about (\d+) minutes$", line)[1]) for line in advice[1:]
    )
    assert advice[2].startswith("Larger samples are less work, ")
    assert larger <= 0.8 * same


def test_no_one_is_asked_to_count_for_hours():
    # samples 4.5 % apart, as of pieces that vary by nearly a half
    samples = [Sample(100, m) for m in (8.2, 8.6, 7.8, 8.6, 7.8, 8.2)]
    advice = tuple(map(advice_words, count(samples=samples, gross=1703.2).advice))

    assert advice == (
        "More samples of 100 will not reach 1.0 %",
        "Look for a miscount, use a finer scale, or take pieces that differ less",
    )


def test_few_samples_that_differ_by_luck_are_not_called_hopeless():
    # three of those: usual pieces would come to fit, so one more says more
    advice = tuple(
        map(
            advice_words,
            count(samples=[Sample(100, m) for m in (8.2, 8.6, 7.8)], gross=1703.2).advice,
        )
    )

    assert len(advice) == 1
    assert advice[0].startswith("One more sample of 100 brings U from ")


def test_samples_that_are_too_small_are_called_so_at_the_first_reading_with_the_minutes():
    # pieces that differ by 25 %: samples of 100 by 2.5 %, 16,000 in the container
    advice = tuple(
        map(
            advice_words,
            count(samples=[Sample(100, m) for m in (58.5, 60.0, 61.5)], gross=9812.4).advice,
        )
    )

    assert advice[0] == (
        "Samples of 100 are too small for these pieces: 30 more would not reach 1.0 %"
    )
    size, n, total, minutes = map(int, re.findall(r"\d+", advice[1].replace("1.0 %", "")))
    assert (size * n, size > 100) == (total, True)
    # 60 pieces a minute, half a minute a weighing
    assert minutes == math.ceil(total / 60 + n / 2)


def test_where_the_scale_rounds_another_sample_of_the_size_is_never_advised():
    # F13: ten samples of 100, all 5.2 g on a 0.1 g scale
    advice = tuple(map(advice_words, count(samples=[Sample(100, 5.2)] * 10, gross=1512.4).advice))

    assert advice[0] == "Another sample of 100 will not help: the scale rounds to 0.1 g"
    assert advice[1].startswith("Weigh larger samples, ")
    assert " pieces at once: " in advice[1]
    assert re.search(r"Count \d+ more: about \d+ minutes$", advice[1])


def test_the_interval_reaches_further_up_than_down():
    result = count()
    low, high = result.interval

    assert low < result.value < high
    assert high - result.value > result.value - low


def test_for_many_close_samples_the_interval_is_value_plus_minus_u():
    samples = [Sample(200, 122.0 + 0.1 * (i % 3)) for i in range(24)]
    result = count(samples=samples)
    low, high = result.interval

    relative = 1e-3  # the ends differ from value -+ U by a second-order term
    assert low == pytest.approx(result.value - result.expanded_u, rel=relative)
    assert high == pytest.approx(result.value + result.expanded_u, rel=relative)


def test_the_interval_knows_the_relative_influences_too():
    # moisture alone: u = 0.5 % of N, k = 1.96 for infinite dof, and hardly anything else
    samples = [Sample(1000, 612.0 + 0.1 * (i % 2)) for i in range(40)]
    result = count(samples=samples, moisture_u=0.005)
    low, high = result.interval

    rest = 0.02  # samples, resolution and second order: 1 % of U together
    assert (high - low) / 2 == pytest.approx(1.96 * 0.005 * result.value, rel=rest)


def test_repeats_many_steps_apart_but_close_in_proportion_are_not_pointed_at():
    samples = (*SAMPLES, Sample(150, 91.7))
    result = count_by_weighing(samples, reading(3914.2, 3916.4), reading(212.4))

    assert result.warnings == ()


def test_swapped_digits_in_a_repeated_gross_are_pointed_at():
    result = count_by_weighing(SAMPLES, reading(3914.2, 3914.3, 3194.2), reading(212.4))

    assert any(
        "3194.2 g is far from the median" in text for text in map(warning_words, result.warnings)
    )


def test_a_fit_count_needs_no_advice():
    samples = [Sample(200, 122.0 + 0.1 * (i % 3)) for i in range(6)]
    result = count(samples=samples)

    assert result.fit
    assert result.advice == ()


def test_an_unfit_count_says_what_to_do_in_numbers():
    result = count()

    assert not result.fit
    # 117 pieces and one weighing, 30 pieces' worth, at 60 a minute: 2.45 minutes
    assert advice_words(result.advice[0]) == (
        "One more sample of 117 brings U from 2.4 % to 1.6 % (about 3 minutes)"
    )
    # 3 * (117 + 30) / 60 = 7.35
    assert advice_words(result.advice[1]) == (
        "3 more samples of 117 should reach 1.0 %. Count 351 more: about 8 minutes"
    )


def test_an_unfit_small_container_is_better_counted_by_hand():
    result = count(gross=300.0)

    # 3914.2 - 212.4 g hold 6023 pieces, so 300 - 212.4 = 87.6 g hold 142.5
    assert "Let two people count all pieces, about 143, without knowing each other's count" in map(
        advice_words, result.advice
    )


def test_when_no_number_of_samples_helps_the_advice_says_so():
    result = count(moisture_u=0.02)

    assert any("will not reach 1.0 %" in text for text in map(advice_words, result.advice))


@pytest.mark.parametrize("n", [2, 3])
def test_few_samples_bring_advice_and_no_coverage_factor(n):
    result = count(samples=SAMPLES[:n])

    assert not result.fit
    assert advice_words(result.advice[0]).startswith("One more sample of ")
    assert not any(
        "coverage factor" in text
        for text in (*map(warning_words, result.warnings), *map(advice_words, result.advice))
    )


def test_a_piece_spread_typed_as_a_share_is_asked_about_when_samples_contradict_it():
    # pieces that vary by 15 %: samples of 100 scatter by 1.5 %
    samples = [Sample(100, m) for m in (61.2, 62.4, 60.3, 61.9, 60.5)]

    (word,) = map(warning_words, count(samples=samples, piece_cv=0.0015).warnings)
    assert word == (
        "the samples scatter as if pieces differed by 15 %, 0.15 % was typed. Did you mean 15 %?"
    )
    assert count(samples=samples, piece_cv=0.15).warnings == ()


def test_a_piece_spread_far_too_large_is_asked_about_as_well():
    samples = [Sample(100, m) for m in (61.2, 61.3, 61.2, 61.1, 61.3, 61.2, 61.2, 61.3)]

    (word,) = map(warning_words, count(samples=samples, piece_cv=1.5).warnings)
    assert word.endswith("150 % was typed. Did you mean 1.5 %?")


def test_samples_that_fit_no_reading_of_the_stated_spread_say_so_without_a_guess():
    samples = [Sample(100, m) for m in (61.2, 63.9, 58.8, 62.9, 59.5)]

    (word,) = map(warning_words, count(samples=samples, piece_cv=0.05).warnings)
    assert word.endswith("5 % was typed. Is the typed spread right?")


def test_four_scattering_samples_on_the_grid_give_no_warning():
    assert count(samples=(*SAMPLES, Sample(150, 91.7))).warnings == ()


def test_samples_that_agree_to_the_last_digit_are_pointed_at():
    samples = [Sample(100, 61.2)] * 4

    assert any(
        "agree to the last digit" in text
        for text in map(warning_words, count(samples=samples).warnings)
    )


def test_a_reading_the_scale_cannot_show_is_pointed_at():
    samples = (*SAMPLES, Sample(150, 91.77))

    assert tuple(map(warning_words, count(samples=samples).warnings)) == (
        "sample 4: 91.77 g is not a whole number of steps (0.1 g) of bench scale: a digit slip?",
    )


def test_scatter_beyond_any_single_material_is_pointed_at():
    # 100 pieces of 1 g, samples 15 % apart: as if single pieces varied by 150 %
    samples = [Sample(100, m) for m in (85.0, 100.1, 115.2, 99.9, 86.0, 114.0)]

    assert any(
        "single pieces varied" in text
        for text in map(warning_words, count(samples=samples).warnings)
    )


def test_the_model_is_the_same_when_the_scale_was_zeroed_with_the_container():
    assert count(gross=3701.8, tare=0.0).value == pytest.approx(count().value)


@pytest.mark.parametrize("mass", [0.0, -61.2, math.nan, math.inf])
def test_an_impossible_mass_names_its_sample(mass):
    with pytest.raises(InputError) as caught:
        count(samples=(Sample(100, 61.2), Sample(100, mass)))

    assert caught.value.where == "sample 2"
    assert caught.value.mend


@pytest.mark.parametrize("pieces", [0, -5, 99.5, "100", None])
def test_a_sample_needs_a_whole_number_of_pieces(pieces):
    with pytest.raises(InputError, match="sample 1: pieces must be a whole number"):
        count(samples=(Sample(pieces, 61.2), Sample(100, 61.2)))


@pytest.mark.parametrize("gross", [212.4, 100.0])
def test_gross_must_be_above_tare(gross):
    with pytest.raises(InputError, match="gross is not above tare"):
        count(gross=gross)


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_an_impossible_gross_reading_is_refused(value):
    with pytest.raises(InputError, match=r"^gross:"):
        count(gross=value)


def test_one_sample_is_too_few_and_the_mend_is_said():
    with pytest.raises(TooFewReadings) as caught:
        count(samples=SAMPLES[:1])

    assert (caught.value.got, caught.value.need) == (1, 2)
    assert "Count and weigh another sample" in str(caught.value)


def test_a_thousand_and_one_samples_are_refused_early():
    with pytest.raises(InputError, match="more than 1000 samples"):
        count(samples=[Sample(100, 61.2)] * 1001)


def test_the_sample_furthest_from_the_median_is_named():
    samples = (Sample(100, 61.2), Sample(100, 16.9), Sample(100, 61.9))

    with pytest.raises(ReadingsDisagree) as caught:
        count(samples=samples)

    assert caught.value.where == "sample 2"


def test_samples_that_bound_nothing_have_no_interval():
    # two samples 50 % apart: U of the mass of a piece is above the mass
    with pytest.raises(ReadingsDisagree, match="cannot be distinguished from zero"):
        count(samples=(Sample(100, 50.0), Sample(100, 74.9)))


def test_kilograms_in_a_sample_are_recognised_by_the_step_of_the_scale():
    with pytest.raises(UnitError, match=r"sample 2: smaller than one step \(0.1 g\)"):
        count(samples=(Sample(100, 61.2), Sample(100, 0.0612)))


@pytest.mark.parametrize(("pieces", "mass"), [(1000, 0.2), (1, 1500.0)])
def test_an_unlikely_piece_mass_asks_for_kilograms(pieces, mass):
    with pytest.raises(UnitError, match="Are these kilograms"):
        count(samples=(Sample(pieces, mass), Sample(pieces, mass)))


def test_contents_lighter_than_a_sample_ask_for_kilograms():
    with pytest.raises(UnitError, match="gross and tare in kilograms"):
        count(gross=3.9, tare=0.2)


def test_more_than_a_million_pieces_are_refused():
    with pytest.raises(InputError, match="more than 1,000,000 pieces"):
        count(gross=39142000.0)


def test_a_reading_beyond_any_scale_is_refused():
    with pytest.raises(UnitError, match="gross: no bench scale shows that"):
        count(gross=1e12)


def test_a_ruler_is_no_scale():
    ruler = Instrument("ruler", "cm", 0.1)

    with pytest.raises(UnitError, match="gross: ruler reads cm"):
        count_by_weighing(SAMPLES, reading(3914.2, scale=ruler), reading(212.4))


def test_repeated_gross_readings_with_a_decimal_slip_disagree():
    with pytest.raises(ReadingsDisagree, match="gross: repeated readings run from"):
        count_by_weighing(SAMPLES, reading(3914.2, 391.4), reading(212.4))


@pytest.mark.parametrize(
    ("option", "value"),
    [
        ("u_limit", 0),
        ("u_limit", 1),
        ("u_limit", math.nan),
        ("piece_cv", 0),
        ("piece_cv", 10),
        ("moisture_u", -0.1),
        ("miscount_probability", 1.5),
        ("samples_from", "bag"),
    ],
)
def test_an_impossible_option_is_named(option, value):
    with pytest.raises(InputError, match=f"count options, {option}"):
        CountOptions(**{option: value})


def test_the_whole_result_goes_into_json_without_infinities():
    found = assigned_as_json(count(piece_cv=0.1))

    assert found["key"] == 6023
    assert found["fit"] is False
    assert {entry["dof"] for entry in found["budget"]} == {None}


def test_what_all_samples_share_is_a_row_of_its_own_and_asks_while_nobody_said():
    asked, mixed, top = (count(mixing_u=u, lot="rice") for u in (None, 0.0, 0.02))

    assert row(asked, "mixing of the lot").notes == (Reason.MIXING_NOT_STATED,)
    assert asked.u == mixed.u
    assert row(top, "mixing of the lot").contribution == pytest.approx(0.02 * top.value)
    assert row(top, "mixing of the lot").cause == "mixing of rice"
    assert top.u**2 - mixed.u**2 == pytest.approx((0.02 * top.value) ** 2)
