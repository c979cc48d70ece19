"""Progress against SciPy's test of two means, and against simulated pupils who do not change."""

from datetime import date, timedelta

import numpy as np
import pytest
from scipy import stats

from nearmark.coaching import Attempt, Verdict, progress_of
from nearmark.coaching.progress import MIN_ATTEMPTS, MONTH
from nearmark.station import Station

BEGIN = date(2027, 2, 3)


def tries(name, first, last):
    """Attempts with these points: the first ones in the first week, the last ones in the tenth."""
    days = [BEGIN] * len(first) + [BEGIN + timedelta(weeks=9)] * len(last)
    return [
        Attempt(day, name, Station.COUNT, f"jar {i}", points, 100.0)
        for i, (day, points) in enumerate(zip(days, (*first, *last), strict=True))
    ]


@pytest.mark.parametrize("seed", range(12))
def test_one_pupil_against_ttest_ind(seed):
    """Source: scipy.stats.ttest_ind(equal_var=False): difference, dof, interval and verdict."""
    rng = np.random.default_rng(seed)
    n, m = rng.integers(MIN_ATTEMPTS, 12, 2)
    first = rng.uniform(20, 90, n)
    last = np.clip(rng.normal(75, rng.uniform(2, 20), m), 1, 100)

    (found,) = progress_of({"Ada": tries("Ada", first, last)})

    peer = stats.ttest_ind(last, first, equal_var=False)
    low, high = peer.confidence_interval(0.95)
    assert found.change == pytest.approx(last.mean() - first.mean())
    assert found.dof == pytest.approx(peer.df)
    assert found.change / found.u == pytest.approx(peer.statistic)
    assert found.change - found.expanded_u == pytest.approx(low)
    assert found.change + found.expanded_u == pytest.approx(high)
    is_clear = found.verdict in {Verdict.BETTER, Verdict.LOWER}
    assert is_clear is bool(peer.pvalue < 0.05)


def test_the_cases_of_the_sign():
    """The same numbers the other way round: better becomes lower."""
    low, high = [50.0, 55, 60, 52], [80.0, 85, 82, 88]

    better, lower = (
        progress_of({"Ada": tries("Ada", *months)})[0] for months in ((low, high), (high, low))
    )

    assert better.verdict is Verdict.BETTER
    assert lower.verdict is Verdict.LOWER
    assert lower.change == pytest.approx(-better.change)


@pytest.mark.slow
@pytest.mark.parametrize("n_pupils", [1, 2, 6])
def test_who_does_not_change_is_hardly_ever_said_to_change(n_pupils):
    """Drawn: answers of one log-normal law all season; of 600 groups at most 1 in 16 is claimed.

    Nominal is 1 in 20, and points are skewed: three standard deviations of the count above it.
    """
    rng = np.random.default_rng(20270203)
    claimed = 0
    for _ in range(600):
        group = {}
        for k in range(n_pupils):
            bias, sd, n = rng.normal(-0.1, 0.15), rng.uniform(0.05, 0.3), int(rng.integers(3, 8))
            drawn = 100 * np.exp(rng.normal(bias, sd, 2 * n))
            group[f"K{k}"] = tries(f"K{k}", drawn[:n], drawn[n:])
        (found,) = progress_of(group)
        claimed += found.verdict in {Verdict.BETTER, Verdict.LOWER}

    assert claimed <= 30 + 3 * (600 * 0.05 * 0.95) ** 0.5


@pytest.mark.slow
def test_the_interval_of_a_club_holds_the_drawn_change():
    """Drawn: six pupils, each with a change of their own; about 95 % of the intervals hold it."""
    rng = np.random.default_rng(7)
    held, n_drawn = 0, 600
    for _ in range(n_drawn):
        group, changes = {}, []
        for k in range(6):
            at, change, sd = rng.uniform(40, 60), rng.normal(8, 6), rng.uniform(2, 8)
            first = rng.normal(at, sd, rng.integers(3, 7))
            last = rng.normal(at + change, sd, rng.integers(3, 7))
            group[f"K{k}"] = tries(f"K{k}", first, last)
            changes.append(change)
        (found,) = progress_of(group)
        held += bool(abs(found.change - np.mean(changes)) <= found.expanded_u)

    assert 0.93 <= held / n_drawn <= 0.975


def test_a_month_is_four_weekly_meetings():
    """Ten weekly meetings: four in the first month, four in the last."""
    log = [
        Attempt(BEGIN + timedelta(weeks=week), "Ada", Station.COUNT, f"jar {week}", 80 + week, 100)
        for week in range(10)
    ]

    (found,) = progress_of({"Ada": log})

    assert timedelta(weeks=4) == MONTH
    assert (found.first.n, found.last.n) == (4, 4)
    assert found.first.mean == pytest.approx(81.5)
    assert found.last.mean == pytest.approx(87.5)
