"""The trend and the bars of lost points: what they say, what they draw, what they refuse."""

import re

import pytest

from nearmark.charts import Session, trend_svg
from nearmark.charts.trend import trend_words
from nearmark.errors import InputError


def heights(picture: str, stroke_width: str) -> list[float]:
    """The heights of the path with this line width."""
    path = re.search(rf'<path d="([^"]*)"[^>]*stroke-width="{stroke_width}"', picture)
    assert path
    return [float(y) for y in re.findall(r"[ML]?[\d.]+ ([\d.]+)", path[1])]


def test_the_line_goes_up_where_answers_come_up():
    picture = trend_svg([Session("3 Feb", (0.7,)), Session("10 Feb", (0.9,))])

    first, second = heights(picture, "1.6")
    assert second < first


def test_half_and_double_are_as_far_from_the_true_value():
    """The axis is in logarithms: 12 px above, 180 px in all (worked by hand)."""
    picture = trend_svg([Session("a", (0.5,)), Session("b", (1.0,)), Session("c", (2.0,))])

    assert heights(picture, "1.6") == [192, 102, 12]


def test_a_slip_does_not_move_the_line_and_is_a_cross():
    without = trend_svg([Session("a", (0.9,)), Session("b", (0.9, 0.95))])
    with_slip = trend_svg(
        [Session("a", (0.9,)), Session("b", (0.9, 1.9, 0.95), (False, True, False))]
    )

    assert heights(with_slip, "1.6") == heights(without, "1.6")
    assert 'stroke-width="1.4"' in with_slip
    assert 'stroke-width="1.4"' not in without


def test_a_day_of_slips_only_has_no_middle():
    words = trend_words([Session("a", (0.9,)), Session("b", (9.0,), (True,))], None)

    assert words == "2 sessions; the middle answer was 10 % low. 1 likely slip."


def test_what_lies_beyond_the_axis_is_an_arrow_at_its_edge():
    inside = trend_svg([Session("a", (1.9,))])
    beyond = trend_svg([Session("a", (10.0,))])

    assert beyond.count("<path") == inside.count("<path")
    assert "double or more" in beyond


def test_the_band_of_the_next_attempt_is_told():
    assert "Next expected from 20 % low to 5 % high." in trend_svg(
        [Session("a", (0.9,))], band=(0.8, 1.05)
    )


@pytest.mark.parametrize("n", [0, 1, 2, 100])
def test_any_number_of_sessions_is_drawn_without_days_that_touch(n):
    picture = trend_svg([Session(f"{i} Sep", (0.9, 1.0)) for i in range(n)])

    days = [float(x) for x in re.findall(r'<text x="([\d.]+)"[^>]*>\d+ Sep', picture)]
    assert len(days) == len(set(days))
    assert all(b - a > 25 for a, b in zip(sorted(days), sorted(days)[1:], strict=False))
    assert "nan" not in picture


@pytest.mark.parametrize("ratios", [(), (0.0,), (float("nan"),), (float("inf"),), (-1.0,)])
def test_a_session_without_ratios_is_refused(ratios):
    with pytest.raises(InputError, match="session a"):
        Session("a", ratios)


def test_a_narrow_trend_and_a_turned_band_are_refused():
    with pytest.raises(InputError, match="260"):
        trend_svg([], width_px=100)
    with pytest.raises(InputError, match="in order"):
        trend_svg([], band=(1.1, 0.9))
