"""``nearmark day-plan``: the same figures as the core's, in words and as JSON."""

import json
from dataclasses import replace

import pytest

from nearmark.cli import main
from nearmark.contest.day_flow import Break, Choice, Day, Late, day_bands, usual_room
from nearmark.contest.day_flow.room import equal_heats


def run(capsys, *words):
    main(["day-plan", *words])
    return capsys.readouterr().out


def test_json_holds_the_figures_of_the_core(capsys):
    found = json.loads(run(capsys, "--pairs", "24", "--interval", "20", "--days", "5", "--json"))

    expected = day_bands(Day(equal_heats(24), 20), usual_room(), n_days=5).figures
    assert found["figures"]["wait_min"]["usual"] == pytest.approx(expected.wait_min.usual)
    assert found["heats"] == [12, 12]
    assert found["changes"][0]["is_worth_it"] is True
    assert found["changes"][0]["words"].startswith("Room for 3 pairs at each container")


def test_late_pairs_and_breaks_are_taken(capsys):
    found = json.loads(
        run(
            capsys, "--pairs", "24", "--late", "2", "3", "10", "--break", "5", "15",
            "--next", "printed", "--days", "2", "--json",
        )
    )  # fmt: skip

    room = replace(usual_room(), choice=Choice.ORDER, breaks=(Break(5, 15),))
    expected = day_bands(Day((12, 12), 30, (Late(2, 3, 10),)), room, n_days=2).figures
    assert found["figures"]["end_min"]["usual"] == pytest.approx(expected.end_min.usual)
    assert found["figures"]["scale_wait_min"]["usual"] == pytest.approx(
        expected.scale_wait_min.usual
    )


def test_a_person_reads_waits_the_end_and_what_helps(capsys):
    out = run(capsys, "--pairs", "12", "--days", "3", "--start", "09:00")

    assert "A pair waits" in out
    assert "The last pair leaves at 09:30 or earlier." in out
    assert "Tried on the same days" in out


def test_a_late_heat_that_is_not_there_is_refused(capsys):
    with pytest.raises(SystemExit) as ended:
        run(capsys, "--pairs", "12", "--late", "2", "1", "5")
    assert ended.value.code == 2
    assert "Heats are numbered 1 to 1" in capsys.readouterr().err
