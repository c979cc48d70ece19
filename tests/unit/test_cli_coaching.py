"""The coaching commands as people and programs meet them."""

import math
import re
from pathlib import Path

import pytest

DOCS = (Path(__file__).parents[2] / "docs" / "reference" / "command-line.md").read_text(
    encoding="utf-8"
)
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
    assert all(0 <= option["p_near"] <= 1 for option in count["options"])
    assert count["decides"] == count["options"][0]["mode"]


def test_a_log_without_pairs_says_how_to_name_them(run, tmp_path):
    bare = tmp_path / "bare.csv"
    bare.write_text(LOG.replace(",P1,", ",,"), encoding="utf-8")

    status, _, err = run("pairs", str(bare))

    assert status == 2
    assert "Write the pair's code" in err


@pytest.mark.parametrize("name", ["pupil", "pairs"])
def test_names_are_printed_as_they_are(run, tmp_path, name):
    path = tmp_path / "odd.csv"
    path.write_text(LOG.replace("Ada", "[/Ada] [red]"), encoding="utf-8")

    status, out, _ = run(name, str(path))

    assert status == 0
    assert "[/Ada] [red]" in out


def test_a_pair_of_one_is_told_what_is_missing(run, tmp_path):
    path = tmp_path / "one.csv"
    path.write_text(LOG.replace("Bo,P1", "Bo,"), encoding="utf-8")

    status, _, err = run("pairs", str(path))

    assert status == 2
    assert "no pair has attempts of both" in err


def test_a_pair_of_three_is_refused(run, tmp_path):
    path = tmp_path / "three.csv"
    path.write_text(LOG + "2027-02-10,Cleo,P1,volume,tea box,,650,648,,,,\n", encoding="utf-8")

    status, _, err = run("pairs", str(path))

    assert status == 2
    assert "pair P1: has 3 pupils (got Ada, Bo, Cleo)" in err


def test_what_a_pupil_should_do_next_has_its_reason(told, log):
    ada = told("pupil", log)["pupils"][0]

    # Never tried comes first: Ada has counted only.
    assert {item["station"] for item in ada["next"][:2]} == {"mass", "volume"}
    assert ada["next"][0]["reason"] == "not tried yet"
    assert ada["next"][0]["worth"] > 0


LOW_LAYERS = (
    "day,pupil,station,thing,estimate,true,layer,layers,layer_true,layers_true\n"
    + "".join(
        f"2027-02-{day:02},Ada,count,jar {day},{30 * n},{42 * n},30,{n},42,{n}\n"
        for day, n in enumerate([10, 9, 12, 8, 11], start=1)
    )
)


def test_advice_stands_with_its_gain(told, run, tmp_path):
    path = tmp_path / "low.csv"
    path.write_text(LOW_LAYERS, encoding="utf-8")

    (advice,) = told("pupil", str(path))["pupils"][0]["advice"]

    assert [step["act"] for step in advice["steps"]] == ["count the layer again"]
    # 30 of 42 each time: 71.4 points, all of it the layer (worked by hand).
    assert advice["before"] == pytest.approx(100 * 30 / 42)
    assert advice["after"] == pytest.approx(100)
    assert advice["sureness"] == "sure"
    assert "71 points become about 100." in run("pupil", str(path))[1]


PARTS = """day,pupil,station,thing,estimate,true,length_cm,width_cm,height_cm,cup_g,density_g_cm3
2027-02-03,Ada,volume,tea box,4800,500,12,8,5,,
2027-02-03,Ada,mass,rice,95,100,,,,8,0.8
2027-02-03,Ada,mass,rice,70,100,,,,60,0.8
2027-02-10,Ada,mass,rice,60,100,,,,90,0.8
2027-02-10,Ada,mass,rice,97,100,,,,5,0.8
"""


def test_sums_and_cups_are_looked_at(told, run, tmp_path):
    path = tmp_path / "parts.csv"
    path.write_text(PARTS, encoding="utf-8")

    mass, volume = told("pupil", str(path))["pupils"][0]["stations"]

    assert volume["sums"][0]["slip"] == "a factor of ten"
    assert mass["cup"]["p_tare"] > 0.8
    assert keys_of(told("pupil", str(path))) <= documented("pupil")
    assert "A factor of ten: 12 x 8 x 5 is 480 cm3." in run("pupil", str(path))[1]


HAND = """reference,reading_cm,day
palm,6.9,2027-02-03
palm,7.0,2027-02-03
palm,6.8,2027-02-03
joint,2.4,2027-02-10
joint,2.4,2027-02-10
thumb,1.8,
"""


@pytest.fixture
def hand(tmp_path):
    path = tmp_path / "hand.csv"
    path.write_text(HAND, encoding="utf-8")
    return str(path)


def test_a_plan_for_a_length(told, hand):
    found = told("measure-plan", "--references", hand, "11.7")

    assert next(step["reference"] for step in found["steps"]) == "palm"
    laid = sum(
        step["placements"] * {"palm": 6.9, "joint": 2.4, "thumb": 1.8}[step["reference"]]
        for step in found["steps"]
    )
    last = {"palm": 6.9, "joint": 2.4, "thumb": 1.8}[found["steps"][-1]["reference"]]
    assert laid + found["fraction"] * last == pytest.approx(11.7)
    assert found["remeasure_by"] == "2027-03-10"
    assert keys_of(found) <= documented("measure-plan")


def test_a_plan_in_words(run, hand):
    status, out, _ = run("measure-plan", "--references", hand, "11.7")

    assert status == 0
    assert "Mark nothing on the hand." in out


@pytest.mark.parametrize(
    ("row", "what"),
    [
        ("palm,69mm,", "holds more than the number"),
        ("palm,900,", "0.2 to 300 cm"),
        (",6.9,", "is empty"),
        ("palm,6.9,yesterday", "is not a date"),
    ],
)
def test_a_bad_reference_is_named_by_row(run, tmp_path, row, what):
    path = tmp_path / "hand.csv"
    path.write_text(HAND + row + "\n", encoding="utf-8")

    status, _, err = run("measure-plan", "--references", str(path), "10")

    assert status == 2
    assert "hand.csv, row 8" in err
    assert what in err


def test_a_length_out_of_reach_says_what_to_add(run, hand):
    status, _, err = run("measure-plan", "--references", hand, "80")

    assert status == 2
    assert "Add a longer reference" in err


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


def test_a_meeting_of_those_who_are_here(told, log):
    found = told(
        "meeting", log, "--here", "Ada", "--minutes", "12", "--thing", "volume,shoe box",
        "--thing", "mass,rice",
    )  # fmt: skip

    assert keys_of(found) <= documented("meeting")
    assert [part["minutes"] for part in found["parts"]] == [2, 4, 4, 2]
    places = [place for part in found["parts"] for place in part["places"] or ()]
    # Ada has seen both jars, and the tea box of Bo only by name: her box may be either.
    assert {place["thing"]["station"] for place in places} == {"mass", "volume"}
    assert {place["pupil"] for place in places} == {"Ada"}
    assert [each["station"] for each in found["refills"]] == ["count"]
    assert found["scales"] == 1


def test_a_club_that_never_scored_is_taught_in_the_given_order(told):
    found = told("meeting", "--here", "Ada,Bo")
    later = told("meeting", "--here", "Ada,Bo", "--held", "4")

    lessons = [part["title"] for part in found["parts"] if part["kind"] == "lesson"]
    assert lessons[:3] == ["Hold 100 g", "Count one layer", "Count the layers"]
    kinds = [part["kind"] for part in later["parts"]]
    assert kinds == ["warm-up", "lesson", "lesson", "stations", "stations", "closing"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "is nobody"),
        (("--here", "Ada", "--thing", "weight,x"), "count,small,jar of beans"),
        (("--here", "Ada,Ada"), "is there twice"),
    ],
)
def test_a_meeting_that_cannot_be_planned_is_refused(run, words, said):
    status, _, err = run("meeting", *words)

    assert status == 2
    assert said in err
