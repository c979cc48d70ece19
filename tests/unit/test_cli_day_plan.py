"""``nearmark day-plan``: the same figures as the core's, in words and as JSON."""

import json
from dataclasses import replace
from typing import Any

import pytest

from nearmark.cli import main
from nearmark.contest.day_flow.day import Late
from nearmark.contest.day_flow.options import DayOptions
from nearmark.contest.day_flow.room import Break, Choice, Overrun
from nearmark.contest.day_flow.summary import day_bands
from nearmark.contest.day_flow.times import Minutes
from nearmark.words.day_flow import flow_words


def run(capsys, *words):
    main(["day-plan", *words])
    return capsys.readouterr().out


@pytest.mark.slow
def test_json_holds_the_figures_of_the_core(capsys):
    found = json.loads(run(capsys, "--pairs", "24", "--interval", "20", "--days", "5", "--json"))

    expected = day_bands(DayOptions(pairs=24, interval_min=20).planned(), n_days=5)
    assert found["figures"]["wait_min"]["usual"] == expected.figures.wait_min.usual
    assert [room["heats"] for room in found["rooms"]] == [[12, 12]]
    assert len(found["rooms"][0]["order_wait_min"]) == 12
    assert found["words"] == list(flow_words(expected, None))
    assert found["changes"][0]["is_worth_it"] is True
    assert found["changes"][0]["words"].startswith("2 scales, and a helper more with it")


OPTIONS: dict[str, dict[str, Any]] = {
    "--minutes 20": {"minutes": 20.0, "interval_min": 20.0},
    "--minutes 20 --interval 35": {"minutes": 20.0, "interval_min": 35.0},
    "--rooms 2 --scales 2 --helpers 3": {"rooms": 2, "scales": 2, "helpers": 3},
    "--late 2 3 10 --break 5 15": {"late": (Late(2, 3, 10),), "breaks": (Break(5, 15),)},
    "--room Hall 8 --room Library 4": {
        "rooms": 2,
        "names_of_rooms": ("Hall", "Library"),
        "places_of_rooms": (8, 4),
    },
    "--next printed": {"choice": Choice.ORDER},
    "--next habit": {"choice": Choice.HABIT},
    "--run-over --minutes 25": {"overrun": Overrun.LATER, "minutes": 25, "interval_min": 25},
    "--not-returned": {"is_returned": False},
    "--at-container 4 --at-box 1 --boxes 3": {"at_container": 4, "at_box": 1, "boxes": 3},
    "--scoop 1 2 3 --measure 4 5 6": {"scoop": Minutes(1, 2, 3), "measure": Minutes(4, 5, 6)},
    "--arrive 0 3 9 --put-back 1 1 1": {
        "arrive": Minutes(0, 3, 9),
        "put_back": Minutes(1, 1, 1),
    },
}


@pytest.mark.parametrize("words", OPTIONS)
def test_every_option_reaches_the_core(capsys, monkeypatch, words):
    """The changes tried after it take most of the time, and no figure looked at here is theirs."""
    monkeypatch.setattr("nearmark.cli.day_plan.worth_of_changes", lambda _, **__: ())
    given = ["--pairs", "24", "--days", "2", "--json", *words.split()]
    found = json.loads(run(capsys, *given))["figures"]

    figures = day_bands(replace(DayOptions(pairs=24), **OPTIONS[words]).planned(), n_days=2).figures
    for name in ("wait_min", "end_min", "scale_busy", "cups", "late_start_min", "unfinished"):
        assert found[name]["usual"] == pytest.approx(getattr(figures, name).usual)


@pytest.mark.slow
def test_a_person_reads_the_end_waits_and_what_helps(capsys):
    out = run(capsys, "--pairs", "12", "--days", "3", "--start", "09:00")

    assert "The day ends at 09:30." in out
    assert "A pair waits" in out
    assert "Room 1, by who hands in the cup. First:" in out
    assert "What helps most, in this order" in out


def test_a_late_heat_that_is_not_there_is_refused(capsys):
    with pytest.raises(SystemExit) as ended:
        run(capsys, "--pairs", "12", "--late", "2", "1", "5")
    assert ended.value.code == 2
    assert "Heats are numbered 1 to 1" in capsys.readouterr().err
