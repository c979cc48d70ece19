"""Progress: what counts, when it is too early to say, and what a best is."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from nearmark.charts import TwoMonths, progress_svg
from nearmark.coaching import Attempt, Verdict, best_attempts, progress_of, with_history
from nearmark.errors import InputError
from nearmark.station import Station
from nearmark.words.coaching_progress import headline_words, progress_words

BEGIN = date(2027, 2, 3)


def jar(days, estimate, *, pupil="Ada", station=Station.COUNT, true=100.0, thing=None):
    day = BEGIN + timedelta(days=days)
    return Attempt(day, pupil, station, thing or f"jar {days} {estimate}", estimate, true)


def season(first, last, *, pupil="Ada", weeks=9):
    return [
        *(jar(0, points, pupil=pupil) for points in first),
        *(jar(7 * weeks, points, pupil=pupil) for points in last),
    ]


@pytest.mark.parametrize(
    "log",
    [
        season([60, 62, 64], []),
        season([60, 62], [80, 82, 84]),
        season([60, 62, 64], [80, 82]),
        season([60, 62, 64], [80, 82, 84], weeks=7),
        season([60, 60, 60], [90, 90, 90]),
    ],
    ids=["one month", "two first", "two last", "seven weeks", "no scatter"],
)
def test_too_early_to_say(log):
    (found,) = progress_of({"Ada": log})

    assert found.verdict is Verdict.EARLY
    assert "too early to say" in progress_words(found)
    assert headline_words([found]) == "Too early to say at count."


def test_from_eight_weeks_on_a_change_is_said():
    (found,) = progress_of({"Ada": season([60, 62, 64], [80, 82, 84], weeks=8)})

    assert found.verdict is Verdict.BETTER
    assert progress_words(found).startswith(
        "Count: 62 points in the first four weeks, 82 in the last four: 20 better"
    )


def test_a_true_value_seen_before_takes_no_part():
    log = [
        *season([60, 62, 64], [70, 72, 74]),
        *(jar(63, 100, thing="jar 0 60") for _ in range(3)),
    ]

    marked = with_history(log)
    (found,) = progress_of({"Ada": marked})
    (best,) = best_attempts(marked)

    assert found.last.mean == pytest.approx(72)
    assert best.points == pytest.approx(74)


def test_a_best_is_the_first_of_equal_ones_and_names_how_many_tries():
    log = [jar(0, 90), jar(7, 95), jar(14, 105), jar(21, 40, station=Station.MASS)]

    mass, count = best_attempts(log)

    assert mass.n == 1
    assert count.attempt.day == BEGIN + timedelta(days=7)
    assert (count.points, count.n) == (pytest.approx(95), 3)


def test_a_club_is_the_mean_of_its_pupils_whoever_tried_most():
    many = season([50] * 20 + [52], [60] * 20 + [62], pupil="Ada")
    few = season([70, 71, 72], [74, 75, 76], pupil="Bo")

    (found,) = progress_of({"Ada": many, "Bo": few, "Cy": [jar(0, 80, pupil="Cy")]})

    assert found.change == pytest.approx((10 + 4) / 2, abs=0.01)
    assert (found.n_pupils, found.n_asked) == (2, 3)
    assert progress_words(found).endswith("Mean of 2 of 3 pupils.")


def test_nobody_has_no_progress():
    assert progress_of({}) == progress_of({"Ada": []}) == ()
    assert best_attempts([]) == ()
    assert headline_words(()) == ""


def test_the_picture_says_what_it_shows():
    picture = progress_svg(
        [TwoMonths("count", (62, 3), (81, 2)), TwoMonths("mass", (70, 2), (0, 9))]
    )

    assert "Count from 62 to 81 points; mass from 70 to 0 points." in picture
    assert "nan" not in picture


@pytest.mark.parametrize(
    ("rows", "width"),
    [([], 400), ([TwoMonths("count", (1, 1), (1, 1))], 100),
     ([TwoMonths("count", (float("nan"), 1), (1, 1))], 400)],
)  # fmt: skip
def test_no_picture_of_nothing(rows, width):
    with pytest.raises(InputError, match="picture of progress"):
        progress_svg(rows, width_px=width)


def test_known_marks_stay_from_the_log():
    known = replace(jar(0, 100), is_known=True)

    assert progress_of({"Ada": [known]}) == ()
