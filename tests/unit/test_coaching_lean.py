"""Expected score and lean at their edges, and the words."""

import pytest

from nearmark.coaching.expected_score import expected_score
from nearmark.coaching.lean import Aim, lean
from nearmark.errors import InputError
from nearmark.words.coaching_lean import lean_words


def test_whoever_reads_far_low_does_not_lean_and_works_on_it():
    found = lean(0.3, bias=-0.3)

    assert found.shift == 0
    assert found.gain == 0
    # mean_score(0, 0.3) - mean_score(-0.3, 0.3), both by quadrature in the reference tests
    worth = expected_score(0, 0.3).score - expected_score(-0.3, 0.3).score
    assert lean_words(found) == (
        "Do not lean: you read about 26 % low already. Work on that first; "
        f"it is worth {worth:.1f} points an answer."
    )


@pytest.mark.parametrize("bias", [-0.001, -0.01, -0.05])
def test_a_little_low_leans_the_rest_of_the_way(bias):
    # No cliff at zero: whoever reads a hair low leans as whoever reads right, less that hair.
    found = lean(0.4, bias=bias)

    assert found.shift == pytest.approx(lean(0.4).shift - bias)
    assert 0 < found.gain <= lean(0.4).gain + 1e-9
    assert lean_words(found).startswith("Answer")


def test_nobody_is_sent_to_take_away_what_helps():
    # Between the best place and twice as far taking the bias away costs points.
    found = lean(0.4, bias=-0.2)

    assert expected_score(0, 0.4).score < expected_score(-0.2, 0.4).score
    assert lean_words(found).endswith("18 % low already, and an unsure answer may stay so.")


def test_whoever_reads_high_comes_down_by_bias_and_doubt():
    found = lean(0.2, bias=0.1)

    assert found.shift == pytest.approx(-0.1 - 0.03993, abs=1e-5)
    assert found.gain > lean(0.2).gain


def test_a_sure_answer_stays():
    found = lean(0)

    assert found.shift == 0
    assert lean_words(found) == "Do not lean: a sure answer stays as it is."


def test_the_aim_of_ninety_leans_half_a_percent_whatever_the_doubt():
    assert lean(0.1, aim=Aim.NINETY).shift == lean(0.5, aim=Aim.NINETY).shift


def test_the_gain_is_said_honestly():
    assert lean_words(lean(0.1)) == "Answer 1 % lower. It is worth next to nothing an answer."
    assert "It is worth 0.9 points" in lean_words(lean(0.3))


def test_the_aim_of_ninety_says_its_gain_in_answers():
    much, little = (lean(0.1, bias=bias, aim=Aim.NINETY) for bias in (0.05, 0.0))
    bare = lean(0.2, aim=Aim.NINETY)

    assert f"It is worth {100 * much.gain_p90:.1f} in 100 more answers at 90" in lean_words(much)
    assert "It is worth 0.1 in 100 more answers" in lean_words(little)
    assert bare.gain_p90 < 0.0005
    assert "It is worth next to nothing" in lean_words(bare)


def test_no_scatter_is_the_plain_score():
    found = expected_score(0, 0)

    assert found.score == pytest.approx(100)
    assert found.sd == pytest.approx(0, abs=1e-3)
    assert found.p_at_least == 1


def test_an_answer_beyond_double_scores_nothing():
    assert expected_score(0.8, 0.01).score == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("bias", "scatter"), [(float("nan"), 0.2), (0, -0.1), (0, float("inf")), (9, 0.1)]
)
def test_impossible_numbers_are_named(bias, scatter):
    with pytest.raises(InputError, match=r"bias|scatter"):
        expected_score(bias, scatter)


def test_doubt_in_percent_is_refused():
    with pytest.raises(InputError, match=r"scatter.*0\.2 means"):
        lean(30)
