"""``nearmark heats``: the plan on the terminal, as JSON, and saved."""

import json
from dataclasses import replace

import pytest

from nearmark.cli import main
from nearmark.contest.event import PairStatus
from nearmark.demo import larkspur_valley
from nearmark.event_folder import read_event, write_event


@pytest.fixture(scope="module")
def written_demo(tmp_path_factory):
    path = tmp_path_factory.mktemp("heats") / "event"
    write_event(larkspur_valley(), path)
    return path


@pytest.fixture
def demo(tmp_path, written_demo):
    write_event(read_event(written_demo), tmp_path / "event")
    return tmp_path / "event"


def told(capsys, *words):
    main([*map(str, words), "--json"])
    return json.loads(capsys.readouterr().out)


def test_the_plan_places_everybody_who_takes_part(capsys, demo):
    plan = told(capsys, "heats", demo, "--anew")

    here = [p for p in read_event(demo).pairs if p.status in {"entered", "guest"}]
    codes = [pair["code"] for heat in plan["heats"] for pair in heat["pairs"]]
    assert sorted(codes) == sorted(p.code for p in here)
    assert len(plan["heats"]) == 4
    assert plan["left_out"] == [
        p.code for p in read_event(demo).pairs if p.status is PairStatus.ABSENT
    ]


def test_without_write_the_folder_is_untouched(capsys, demo):
    before = {path: path.read_bytes() for path in demo.iterdir()}

    plan = told(capsys, "heats", demo, "--anew")

    assert plan["changed"] > 0
    assert not plan["written"]
    assert {path: path.read_bytes() for path in demo.iterdir()} == before


def test_with_write_the_heats_are_saved_and_kept_the_next_time(capsys, demo):
    plan = told(capsys, "heats", demo, "--anew", "--write")

    again = told(capsys, "heats", demo)
    assert again["heats"] == plan["heats"]
    assert again["changed"] == 0
    heats = {pair.code: pair.heat for pair in read_event(demo).pairs}
    assert all(heats[p["code"]] == h["name"] for h in plan["heats"] for p in h["pairs"])


def test_a_start_gives_every_heat_its_time(capsys, demo):
    plan = told(capsys, "heats", demo, "--anew", "--start", "09:00", "--interval", "35")

    assert [heat["start"][11:16] for heat in plan["heats"]] == ["09:00", "09:35", "10:10", "10:45"]
    assert plan["heats"][0]["end"].endswith("T09:30:00")


def test_the_terminal_shows_times_schools_and_what_to_do_next(capsys, demo):
    main(["heats", str(demo), "--anew", "--places", "10", "--start", "09:00"])

    shown = capsys.readouterr().out
    assert "5 heats of up to 10" in shown
    assert "09:30" in shown
    assert "In no heat (absent or withdrawn): P33" in shown
    assert "add --write" in shown


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--places", "0"], "places: must be above zero"),
        (["--places", "11"], "heat 1: has 11 places, 12 pairs are to stay in it"),
        (["--start", "09:00", "--minutes", "0"], "minutes of a heat: must be from 1"),
    ],
)
def test_a_plan_that_cannot_be_is_refused_and_not_written(capsys, demo, words, message):
    with pytest.raises(SystemExit) as stopped:
        main(["heats", str(demo), "--write", *words])

    assert stopped.value.code == 2
    assert message in capsys.readouterr().err
    assert read_event(demo) == larkspur_valley()


def test_the_rule_set_says_how_long_a_heat_is_and_how_many_go_together(capsys, demo):
    event = read_event(demo)
    rules = replace(event.rules, heat_minutes=25, heat_places=9)
    write_event(replace(event, rules=rules), demo)

    plan = told(capsys, "heats", demo, "--anew", "--start", "09:00")
    asked = told(
        capsys, "heats", demo, "--anew", "--start", "09:00", "--minutes", 20, "--places", 8
    )

    assert plan["heats"][0]["end"].endswith("T09:25:00")
    assert plan["places"] == 9
    assert max(len(heat["pairs"]) for heat in plan["heats"]) <= 9
    assert asked["heats"][0]["end"].endswith("T09:20:00")
    assert asked["places"] == 8
