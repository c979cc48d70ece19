"""The invented season: reads back equal, and shows what was planted in it."""

from collections import Counter

import pytest

from nearmark.coaching import Slip, find_slip, read_club
from nearmark.demo_season import PAIRS, PRACTICES, practice_season
from nearmark.event_folder.practice_log import read_practice_log
from nearmark.event_folder.practice_log_writer import practice_log_text
from nearmark.station import Station

LOG = practice_season()


def own(pupil, station):
    return [a for a in LOG if (a.pupil, a.station) == (pupil, station)]


def test_the_log_reads_back_equal(tmp_path):
    path = tmp_path / "season.csv"
    path.write_text(practice_log_text(LOG), encoding="utf-8")

    assert read_practice_log(path) == LOG


def test_six_pupils_in_three_pairs_practise_ten_times_at_three_stations():
    assert len({a.day for a in LOG}) == PRACTICES
    assert {a.pair: None for a in LOG}.keys() == PAIRS.keys()
    assert Counter(a.pupil for a in LOG) == Counter(
        {name: 30 for pair in PAIRS.values() for name in pair} | {"Tove": 24}  # ill twice
    )


def test_the_same_seed_gives_the_same_season_and_another_one_does_not():
    assert practice_season() == LOG
    assert practice_season(7) != LOG


def test_some_parts_were_not_written_down():
    share = sum(a.parts is None for a in LOG) / len(LOG)

    assert 0.15 < share < 0.35  # 25 % of 174; standard deviation 3.3 %


def test_milo_improves():
    first, last = own("Milo", Station.COUNT)[:3], own("Milo", Station.COUNT)[-3:]

    def mean(attempts):
        return sum(a.log_ratio for a in attempts) / len(attempts)

    assert mean(first) < -0.15
    assert abs(mean(last)) < 0.5 * abs(mean(first))


def test_zeds_slips_are_found():
    habits = {h.size: h for h in read_club(LOG)["Zed"] if h.station is Station.COUNT}
    suspects = [a for habit in habits.values() for a in habit.suspects]
    sums = [find_slip(a.estimate, a.parts).slip for a in own("Zed", Station.VOLUME) if a.parts]

    assert max(a.estimate / a.true for a in suspects) == pytest.approx(10, rel=0.4)
    assert sums.count(Slip.TWO_SIDES) == 1


def test_juno_is_fooled_by_the_glass():
    nets: dict[str, list[float]] = {
        a.thing.split(" into a ")[1]: [] for a in own("Juno", Station.MASS)
    }
    for attempt in own("Juno", Station.MASS):
        nets[attempt.thing.split(" into a ")[1]].append(attempt.estimate)

    assert max(nets["glass"]) < min(nets["paper cup"])
