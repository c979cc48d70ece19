"""The coaching commands as people and programs meet them."""

import json
import math
import re
from pathlib import Path

import pytest

from nearmark.cli import main

DOCS = (Path(__file__).parents[2] / "docs" / "command-line.md").read_text(encoding="utf-8")
LOG = """day,pupil,pair,station,thing,size,estimate,true,layer,layers,layer_true,layers_true
2027-02-03,Ada,P1,count,jar of beans,,380,420,38,10,42,10
2027-02-03,Bo,P1,count,jar of beans,,3800,420,,,,
2027-02-10,Ada,P1,count,jar of peas,,900,1010,,,,
2027-02-10,Bo,P1,count,jar of peas,,1010,1010,,,,
2027-02-10,Bo,P1,volume,tea box,,650,648,,,,
"""


@pytest.fixture
def log(tmp_path):
    path = tmp_path / "season.csv"
    path.write_text(LOG, encoding="utf-8")
    return str(path)


@pytest.fixture
def run(capsys):
    """Run words of the command line; gives (exit status, standard output, standard error)."""

    def run_words(*words):
        status = 0
        try:
            main(words)
        except SystemExit as end:
            status = int(end.code or 0)
        return status, *capsys.readouterr()

    return run_words


@pytest.fixture
def told(run):
    """Run words with --json and give the object printed."""

    def run_json(*words):
        status, out, err = run(*words, "--json")
        assert status == 0, err
        return json.loads(out)

    return run_json


def documented(name):
    section = DOCS.split(f"## JSON of {name}\n")[1].split("\n## ")[0]
    return set(re.findall(r"`(\w+)`", section))


def keys_of(told):
    """Every key of a JSON document."""
    if isinstance(told, dict):
        return set(told) | {key for value in told.values() for key in keys_of(value)}
    return {key for part in told for key in keys_of(part)} if isinstance(told, list) else set()


def test_a_lean(told):
    found = told("lean", "--sigma", "0.3")

    assert found["shift"] == pytest.approx(-0.08593, abs=5e-6)  # model notes, section 1
    assert found["gain"] == pytest.approx(0.946, abs=5e-4)
    assert found["factor"] == pytest.approx(math.exp(found["shift"]))


def test_an_expected_score(told):
    found = told("expected", "--bias", "0.15", "--scatter", "0.3")

    assert found["score"] == pytest.approx(69.188780, abs=5e-7)  # model notes, section 1
    assert set(found) == {"score", "sd", "p90"}


def test_a_negative_bias_is_an_option_value(told):
    assert told("expected", "--bias", "-0.1", "--scatter", "0.2")["score"] < 84


def test_the_pupils_of_a_log(told, log):
    pupils = told("pupil", log)["pupils"]

    assert [each["pupil"] for each in pupils] == ["Ada", "Bo"]
    assert [s["station"] for s in pupils[1]["stations"]] == ["count", "volume"]
    assert [slip["estimate"] for slip in pupils[1]["stations"][0]["slips"]] == [3800]


def test_one_pupil_alone(told, log):
    assert [p["pupil"] for p in told("pupil", log, "--pupil", "Bo")["pupils"]] == ["Bo"]


def test_an_unknown_pupil_is_met_with_the_nearest(run, log):
    status, _, err = run("pupil", log, "--pupil", "Adda")

    assert status == 2
    assert "Did you mean Ada?" in err


def test_the_pairs_of_a_log(told, log):
    (pair,) = told("pairs", log)["pairs"]

    assert (pair["pair"], pair["first"], pair["second"]) == ("P1", "Ada", "Bo")
    (count,) = pair["stations"]  # Ada has not practised volumes
    assert sum(option["p_best"] for option in count["options"]) == pytest.approx(1)
    assert count["decides"] == count["options"][0]["mode"]


def test_a_log_without_pairs_says_how_to_name_them(run, tmp_path):
    bare = tmp_path / "bare.csv"
    bare.write_text(LOG.replace(",P1,", ",,"), encoding="utf-8")

    status, _, err = run("pairs", str(bare))

    assert status == 2
    assert "Write the pair's code" in err


def test_a_pair_of_three_is_refused(run, tmp_path):
    path = tmp_path / "three.csv"
    path.write_text(LOG + "2027-02-10,Cleo,P1,volume,tea box,,650,648,,,,\n", encoding="utf-8")

    status, _, err = run("pairs", str(path))

    assert status == 2
    assert "pair P1: has 3 pupils (got Ada, Bo, Cleo)" in err


@pytest.mark.parametrize(
    "words", [("lean", "--sigma", "0.2"), ("expected", "--bias", "0", "--scatter", "1")]
)
def test_documented_keys_are_the_real_ones(told, words):
    assert keys_of(told(*words)) <= documented(words[0])


@pytest.mark.parametrize("name", ["pupil", "pairs"])
def test_documented_keys_of_a_log_are_the_real_ones(told, log, name):
    assert keys_of(told(name, log)) <= documented(name)


@pytest.mark.parametrize("name", ["pupil", "pairs"])
def test_words_for_people(run, log, name):
    status, out, _ = run(name, log)

    assert status == 0
    assert "Ada" in out


@pytest.mark.parametrize(
    "words",
    [
        ("lean", "--sigma", "30"),
        ("lean", "--sigma", "much"),
        ("lean",),
        ("expected", "--bias", "0", "--scatter", "-1"),
        ("pupil", "no-such.csv"),
        ("pairs", "no-such.csv"),
    ],
)
def test_bad_input_is_refused_with_a_mend(run, words):
    status, out, err = run(*words)

    assert status == 2
    assert out == ""
    assert "Traceback" not in err
    assert len(err.strip()) > 20
