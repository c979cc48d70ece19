"""How many pieces to count: the plan beforehand, and the worth of one more sample."""

import pytest

from nearmark.errors import InputError, MeasurementError, TooFewReadings
from nearmark.kit import CountOptions, Sample, count_by_weighing, next_sample, plan_samples
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.words.key_advice import next_sample_words

SCALE = Instrument("bench scale", "g", 0.1)
SAMPLES = (Sample(150, 92.6), Sample(150, 91.4), Sample(150, 92.3))
GROSS = Reading((3914.2,), SCALE)
TARE = Reading((212.4,), SCALE)


def plan(pieces=4000, mass_g=0.61, scale=SCALE, **options):
    return plan_samples(
        pieces, mass_g, scale, options=CountOptions(**({"piece_cv": 0.1} | options))
    )


def test_every_row_of_the_plan_reaches_the_limit():
    rows = plan()

    assert rows
    assert all(row.relative_u <= 0.01 for row in rows)
    assert all(row.total_pieces == row.pieces_per_sample * row.n_samples for row in rows)


def test_one_sample_fewer_would_miss_the_limit():
    # the limit just below a row's U makes that row need one more
    first = plan()[0]
    tighter = plan(u_limit=first.relative_u * (1 - 1e-6))
    same_size = [row for row in tighter if row.pieces_per_sample == first.pieces_per_sample]

    assert same_size[0].n_samples == first.n_samples + 1


def test_the_least_effort_comes_first():
    efforts = [row.effort for row in plan()]

    assert efforts == sorted(efforts)


def test_three_samples_pay_the_price_of_student():
    # u of 3 x n pieces is cv / sqrt(3 n); t(2) = 4.303: n for 1 % is (4.303 * 10)^2 / 3 = 617,
    # more than the largest sample planned: no row has three samples
    assert min(row.n_samples for row in plan()) > 3


def test_the_plan_predicts_pieces_weighing_and_miscount_together():
    # 7 samples of 100 pieces of 1 g, cv 10 %, miscount 0.05, step 1 g: variance of a sample
    # 100 * 0.01 + 2 / 12 + 0.05 = 1.216667 g^2, of a piece 0.01216667; bounded:
    # (6 * 0.01216667 + 0.1^2) / chi2(0.18, 7) = 0.083 / 3.641671, root 0.150969, times
    # t(7) / 1.959964 = 2.364624 / 1.959964: 0.182139 g; over root 700: 0.00688420; spread of 10000
    # pieces, 0.083 / chi2(0.10, 7) = 0.083 / 2.833107, 0.00171162; tare of the samples
    # 0.288675 / 100 = 0.00288675; gross and tare 4.08e-5: u 0.00765878, U = 0.0150109
    scale = Instrument("kitchen scale", "g", 1.0)
    options = CountOptions(piece_cv=0.1, u_limit=0.01502)
    rows = plan_samples(10_000, 1.0, scale, options=options)
    (found,) = (row for row in rows if row.pieces_per_sample == 100)

    assert found.n_samples == 7
    assert found.relative_u == pytest.approx(0.0150109, abs=1e-6)


def test_a_container_of_few_pieces_is_refused_with_the_reason():
    with pytest.raises(MeasurementError, match="piece spread of the container") as caught:
        plan(pieces=200)  # 10 % / sqrt(200) * 1.96 = 1.4 %

    assert "Count all pieces by hand" in caught.value.mend


def test_a_coarse_scale_is_refused_with_the_reason():
    coarse = Instrument("kitchen scale", "g", 50.0)

    with pytest.raises(MeasurementError, match="resolution of the samples' tare") as caught:
        plan(pieces=3000, mass_g=0.5, piece_cv=0.05, scale=coarse)

    assert "a scale finer than 50 g" in caught.value.mend


def test_a_plan_that_counts_everything_is_refused():
    with pytest.raises(MeasurementError, match="as many pieces as the container holds"):
        plan(pieces=420)


def test_a_plan_needs_the_scatter_of_single_pieces():
    with pytest.raises(InputError, match="piece_cv"):
        plan(piece_cv=None)


@pytest.mark.parametrize(("name", "value"), [("pieces", 1), ("mass_g", 0.0)])
def test_an_impossible_container_is_refused(name, value):
    with pytest.raises(InputError, match="the plan needs it"):
        plan(**{name: value})


def test_now_is_the_uncertainty_of_the_count_itself():
    now = next_sample(SAMPLES, GROSS, TARE).now_relative_u

    assert now == count_by_weighing(SAMPLES, GROSS, TARE).relative_expanded_u


def test_the_prediction_is_what_a_sample_at_the_mean_scatter_brings():
    # a fourth sample that leaves the pooled scatter as it was: mean + s in mass, where
    # s^2 is the variance of a sample mass; to first order the ratio estimator stays
    coming = next_sample(SAMPLES, GROSS, TARE)
    mean, sd = 92.1, (sum((s.mass_g - 92.1) ** 2 for s in SAMPLES) / 2) ** 0.5
    # of k samples one at distance x adds x^2 (k-1)/k: x^2 * 3/4 = s^2 keeps the pooled variance
    fourth = Sample(150, mean + sd * (4 / 3) ** 0.5)
    after = count_by_weighing((*SAMPLES, fourth), GROSS, TARE).relative_expanded_u

    second_order = 0.01  # the mean itself moves by 0.4 %
    assert coming.predicted_relative_u == pytest.approx(after, rel=second_order)


def test_the_words_say_both_and_the_size():
    coming = next_sample(SAMPLES, GROSS, TARE, 200)

    assert next_sample_words(coming).startswith("One more sample of 200 brings U from 2.5 % to ")
    assert coming.pieces == 200


def test_more_needed_is_the_fewest_that_make_it_fit():
    loose = CountOptions(u_limit=0.009)
    needed = next_sample(SAMPLES, GROSS, TARE, options=loose).more_needed

    assert needed is not None
    assert needed > 0
    just_met = next_sample(SAMPLES, GROSS, TARE, options=CountOptions(u_limit=0.5))
    assert just_met.more_needed == 0


def test_more_needed_is_none_when_nothing_helps():
    options = CountOptions(moisture_u=0.02)

    assert next_sample(SAMPLES, GROSS, TARE, options=options).more_needed is None


def test_the_next_sample_needs_pieces():
    with pytest.raises(InputError, match="pieces of the next sample"):
        next_sample(SAMPLES, GROSS, TARE, 0)


def test_one_sample_cannot_say_what_the_next_is_worth():
    with pytest.raises(TooFewReadings):
        next_sample(SAMPLES[:1], GROSS, TARE)
