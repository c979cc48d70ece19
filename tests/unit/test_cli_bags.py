"""Bags, home sheets, the plan of a pair over all stations, and what the demo writes."""

import re
from pathlib import Path

import pytest

from nearmark.demo_season import practice_season
from nearmark.event_folder.practice_log_writer import practice_log_text

DOCS = (Path(__file__).parents[2] / "docs" / "reference" / "command-line.md").read_text(
    encoding="utf-8"
)


@pytest.fixture
def season(tmp_path):
    path = tmp_path / "season.csv"
    path.write_text(practice_log_text(practice_season()), encoding="utf-8")
    return str(path)


def documented(name):
    section = DOCS.split(f"## JSON of {name}\n")[1].split("\n## ")[0]
    return set(re.findall(r"`(\w+)`", section))


def keys_of(found):
    if isinstance(found, dict):
        return set(found) | {key for value in found.values() for key in keys_of(value)}
    return {key for part in found for key in keys_of(part)} if isinstance(found, list) else set()


def test_a_bag_by_hand(told):
    (bag,) = told("bags", "chickpea", "--piece-mass", "chickpea=0.41")["bags"]

    assert bag["pieces"] == 244  # 100 / 0.41 = 243.9
    # 1 % of the mass of a piece, the spread over sqrt(244) pieces, 0.1 g of 100 g: about 1.5 %
    assert 0.02 < bag["relative_expanded_uncertainty"] < 0.04
    assert any("Raw" in caution for caution in bag["cautions"])


def test_everybody_has_every_bag_before_one_comes_again(told, season):
    turns = told("bags", "rice", "chickpea", "elbow-pasta", "--log", season, "--sessions", "6")

    by_pupil: dict[str, list[str]] = {}
    for turn in turns["rotation"]:
        for row in turn["bags"]:
            by_pupil.setdefault(row["pupil"], []).append(row["material"])
    assert len(by_pupil) == 6
    for own in by_pupil.values():
        assert len(set(own[:3])) == len(set(own[3:])) == 3
    assert keys_of(turns) <= documented("bags")


def test_labels_are_written(told, tmp_path):
    found = told("bags", "rice", "--labels", str(tmp_path / "new" / "labels.pdf"), "--letter")

    assert Path(found["labels"]).read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("words", "what"),
    [
        (("bags", "no-such-thing"), "no-such-thing"),
        (("bags", "rice", "rice", "--pupil", "Ada"), "twice"),
        (("bags", "rice", "--piece-mass", "0.02"), "--piece-mass"),
        (("bags", "rice", "--piece-mass", "beans=0.02"), "rice=0.41"),
        (("bags", "rice", "--grams", "0"), "mass"),
        (("pairs", "SEASON", "--items", "taste=3"), "--items"),
        (("pairs", "SEASON", "--items", "count=0"), "--items"),
        (("pairs", "SEASON", "--minutes", "20"), "belong together"),
        (("pairs", "SEASON", "--alone", "0", "--both", "4", "--minutes", "9"), "above zero"),
        (("pairs", "SEASON", "--alone", "2", "--both", "4", "--minutes", "9"), "12 min"),
    ],
)
def test_bad_input_is_refused_with_a_mend(run, season, words, what):
    status, out, err = run(*(season if word == "SEASON" else word for word in words))

    assert status == 2
    assert out == ""
    assert what in err
    assert "Traceback" not in err


@pytest.mark.slow
def test_a_pair_has_one_plan_over_all_stations(told, season):
    free, short = (
        told("pairs", season, *more)["pairs"][0]["together"]
        for more in ((), ("--alone", "2", "--both", "4", "--minutes", "18"))
    )

    assert [row["station"] for row in free["modes"]] == ["count", "mass", "volume"]
    assert short["minutes"] <= 18
    assert short["mean_score"] <= free["mean_score"] + 1e-9
    # together with six items each at 90 or more: small even for a good pair (model notes, 4)
    assert 0 < free["p_all_90"] < 0.3
    assert keys_of(free) <= documented("pairs")


def test_twelve_minutes_leave_six_items_to_one_alone_each(told, season):
    plan = told("pairs", season, "--alone", "2", "--both", "4", "--minutes", "12")["pairs"][0]

    assert {row["mode"] for row in plan["together"]["modes"]} <= {"first", "second"}


@pytest.mark.slow
def test_a_home_sheet_is_written_for_everybody(told, season, tmp_path):
    found = told("pupil", season, "--sheets", str(tmp_path / "sheets"))

    names = [Path(path).name for path in found["sheets"]]
    assert names[0] == "home-sheet-01-Juno.pdf"
    assert len(names) == 6
    assert all(Path(path).read_bytes().startswith(b"%PDF") for path in found["sheets"])
    assert keys_of(found) <= documented("pupil")


def test_a_name_cannot_leave_the_folder(told, tmp_path):
    log = tmp_path / "log.csv"
    log.write_text(
        "day,pupil,station,thing,estimate,true\n2027-02-03,../../Ada,count,jar,380,420\n", "utf-8"
    )

    (path,) = told("pupil", str(log), "--sheets", str(tmp_path / "sheets"))["sheets"]

    assert Path(path).parent == tmp_path / "sheets"


def test_as_many_items_as_asked_for(told, season):
    assert len(told("pupil", season, "--items", "7")["pupils"][0]["next"]) == 7


HAND = """reference,reading_cm
thumb,1.8
joint,2.4
pinky,4.8
index,6.6
palm,6.9
fist,7.4
hand,15.2
"""


@pytest.mark.slow
def test_two_or_three_references_to_teach(told, tmp_path):
    hand = tmp_path / "hand.csv"
    hand.write_text(HAND, encoding="utf-8")

    def found(n):
        return told("measure-plan", "--references", str(hand), "12", "--teach", n)

    assert len(found("2")["teach"]) == 2
    # a small and a middle one (model notes, section 5: thumb and index, about 2.6 % over 3-25 cm)
    assert "thumb" in found("2")["teach"]
    assert 0.02 < found("2")["teach_rms"] < 0.04
    assert found("3")["teach_rms"] < found("2")["teach_rms"] <= found("2")["teach_worst"]
    assert keys_of(found("3")) <= documented("measure-plan")


@pytest.mark.slow
def test_the_demo_writes_the_season_beside_the_event(told, tmp_path):
    found = told("demo", str(tmp_path / "demo"), "--no-pages")

    assert len(told("pupil", found["season"])["pupils"]) == 6
    assert len(told("pairs", found["season"])["pairs"]) == 3
    assert "season" in documented("demo, print and sheets")
