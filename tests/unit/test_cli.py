"""The command line as people and programs meet it: answers, JSON keys, refusals with a mend."""

import json
import re
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pytest

from nearmark.cli import main
from nearmark.cli.main import COMMANDS, cli

DOCS = Path(__file__).parents[2] / "docs" / "reference" / "command-line.md"
JAR = (
    "count --sample 150:61.2 --sample 150:61.9 --sample 150:61.5 "
    "--gross 2890.4 --tare 412.3 --resolution 0.1"
).split()
SCATTERED = (
    "count --sample 100:61.2 --sample 100:62.4 --sample 100:60.3 --sample 100:61.9 "
    "--sample 100:60.5 --gross 3914.2 --tare 212.4 --resolution 0.1"
)
BOX = "volume --length 12.4,12.5,12.4 --width 8.0,8.1,8.0 --height 6.5,6.4,6.5 --resolution 0.1"
CUP = "net --gross 131.2 --tare 24.1 --resolution 0.1"


@pytest.fixture
def run(capsys):
    """Run words of the command line; gives (exit status, standard output, standard error)."""

    def run_words(words):
        status = 0
        try:
            main(words.split() if isinstance(words, str) else words)
        except SystemExit as end:
            status = int(end.code or 0)
        out, err = capsys.readouterr()
        return status, out, err

    return run_words


@pytest.fixture
def told(run):
    """Run words with --json and give the object printed."""

    def run_json(words):
        status, out, err = run([*(words.split() if isinstance(words, str) else words), "--json"])
        assert status == 0, err
        return json.loads(out)

    return run_json


def test_a_jar_worked_by_hand(told):
    result = told(JAR)

    # m = 184.6 / 450 = 0.410222 g, G = 2478.1 g, N = 6040.9; s of the samples 0.3512 g. Bounded:
    # (2 * 0.3512^2 / 150 + (0.1 m)^2) / chi2(0.18, 3) = 3.32738e-3 / 0.922479, root 0.0600582 g,
    # times t(3) / 1.96 = 1.623727: 0.0975182 g a piece: 67.70 pieces; spread of the container with
    # chi2(0.10, 3) = 0.584374 14.3;
    # tare of the samples 2.8: u = 69.25, U = 1.96 u = 135.7
    assert result["value"] == pytest.approx(6040.87, abs=0.01)
    assert result["key"] == 6041
    assert result["standard_uncertainty"] == pytest.approx(69.25, abs=0.01)
    assert result["dof"] is None
    assert result["expanded_uncertainty"] == pytest.approx(135.7, abs=0.1)
    low, high = result["interval"]
    assert low < 6041 - 80
    assert high > 6041 + 80
    assert result["fit"] is False
    shares = {row["component"]: row["share"] for row in result["budget"]}
    assert sum(shares.values()) == pytest.approx(1)
    assert max(shares, key=shares.get) == "few samples, and stopping when fit"


def test_a_cup(told):
    result = told(CUP)

    assert result["value"] == pytest.approx(107.1)
    assert result["key"] == 107.1
    assert result["standard_uncertainty"] == pytest.approx(0.1 / 6**0.5)  # two readings of 0.1 g
    assert result["dof"] is None
    assert result["fit"] is True


def test_a_box(told):
    result = told(BOX)

    assert result["value"] == pytest.approx(37.3 / 3 * 24.1 / 3 * 19.4 / 3, rel=1e-9)
    assert result["unit"] == "cm3"
    assert result["interval"][0] < result["key"] < result["interval"][1]


@pytest.mark.parametrize(("estimate", "true", "score"), [(90, 100, 90), (110, 100, 90), (9, 3, 0)])
def test_points(told, estimate, true, score):
    assert told(f"points {estimate} {true}")["score"] == score


def test_a_certificate_stands_for_the_calibration(told):
    by_hand = told(f"{BOX} --gain-u 0.05")
    certified = told(f"{BOX} --certificate 0.03,2,30")

    assert certified["standard_uncertainty"] == by_hand["standard_uncertainty"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("--certificate 0.03,2", "needs three numbers"),
        ("--certificate 0.03,2,30 --gain-u 0.05", "beside --certificate"),
        ("--certificate 0.03,0,30", "must be above zero"),
    ],
)
def test_a_certificate_that_cannot_be_is_refused(run, words, says):
    status, _, err = run(f"{BOX} {words}")

    assert status != 0
    assert says in err


def test_a_worn_end_of_the_ruler_makes_a_box_less_sure(told, run):
    worn = told(f"{BOX} --zero-u 0.05")

    (row,) = (r for r in worn["budget"] if r["cause"] == "zero of the ruler")
    # 0.05 cm on each of three edges: 0.05 V (1/12.433 + 1/8.033 + 1/6.467)
    slope = sum(1 / edge for edge in (12.4 + 0.1 / 3, 8 + 0.1 / 3, 6.5 - 0.1 / 3))
    assert row["contribution"] == pytest.approx(0.05 * worn["value"] * slope)
    assert run(f"{CUP} --zero-u 0.05")[0] != 0  # of a scale it cancels


@pytest.mark.parametrize("words", [JAR, BOX, CUP])
def test_the_documented_keys_of_a_measurement_are_the_real_ones(told, words):
    section = DOCS.read_text(encoding="utf-8").split("## JSON of count, volume, net")[1]
    rows = [r for r in section.split("## JSON")[0].splitlines() if r.startswith("| `")]
    documented = {key for row in rows for key in re.findall(r"`(\w+)`", row.split("|")[1])}

    assert set(told(words)) == documented


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_helps_with_the_line_the_table_shows(run, name):
    status, out, _ = run([name, "--help"])

    assert status == 0
    assert "--json" in out
    command = cli.get_command(None, name)
    assert command.help.split("\n")[0] == COMMANDS[name][1]


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_is_documented(name):
    text = DOCS.read_text(encoding="utf-8") + (DOCS.parents[1] / "README.md").read_text("utf-8")

    assert f"nearmark {name}" in text or f"JSON of {name}" in text


def test_a_purchase_list_has_a_line_a_material_with_its_cautions(told):
    words = "buy --scoop split-pea:900 --scoop hex-nut-m6:2400 --places 12 --pairs 80"

    lines = told(words)["purchases"]

    assert [line["material"] for line in lines] == ["split-pea", "hex-nut-m6"]
    assert all(line["packages"] > 0 and line["cautions"] for line in lines)


def test_a_pour_into_a_vessel_says_how_high_it_stands(told):
    poured = told("pour --material chickpea --count 400 --piece-mass 0.42 --vessel jar-500")

    assert poured["mass_g"] == 168.0
    assert 0 < poured["height_cm"] < 10
    assert 0 < poured["fill"] < 1


def test_the_same_seed_draws_the_same_count(told):
    words = "pour --material rice --band large --seed 4 --piece-mass 0.021"

    assert told(words)["pieces"] == told(words)["pieces"]
    assert 11_000 <= told(words)["pieces"] <= 20_000


def jar_with(**changes):
    options = {"--gross": "2890.4", "--tare": "412.3", "--resolution": "0.1"} | {
        f"--{name}": value for name, value in changes.items() if name != "samples"
    }
    samples = changes.get("samples", ["150:61.2", "150:61.9", "150:61.5"])
    return [
        "count",
        *(word for sample in samples for word in ("--sample", sample)),
        *(word for pair in options.items() for word in pair),
    ]


BAD = {
    "gross below tare": jar_with(gross="100", tare="412.3"),
    "zero mass": jar_with(samples=["150:0", "150:61.9"]),
    "negative mass": jar_with(samples=["150:-61.2", "150:61.9"]),
    "negative tare": jar_with(tare="-3"),
    "not a number": jar_with(gross="nan"),
    "infinite": jar_with(gross="inf"),
    "huge": jar_with(gross="1e99"),
    "decimal comma": jar_with(gross="2890,4"),
    "no number": jar_with(gross="heavy"),
    "one sample": jar_with(samples=["150:61.2"]),
    "kilograms": jar_with(samples=["150:0.0612", "150:0.0619"]),
    "everything in kilograms": jar_with(
        samples=["150:0.0612", "150:0.0619"], gross="2.8904", tare="0.4123", resolution="0.0001"
    ),
    "container in kilograms": jar_with(gross="2.9", tare="0.4"),
    "wild samples": jar_with(samples=["150:61.2", "150:612", "150:61.5"]),
    "no colon": jar_with(samples=["150", "150:61.9"]),
    "half a piece": jar_with(samples=["150.5:61.2", "150:61.9"]),
    "no pieces": jar_with(samples=["0:61.2", "150:61.9"]),
    "no resolution": jar_with(resolution="0"),
    "limit over all": jar_with(limit="300"),
    "box of nothing": "volume --length 0 --width 8 --height 6 --resolution 0.1".split(),
    "box with a slip": "volume --length 12,124,12 --width 8 --height 6 --resolution 0.1".split(),
    "cup under its tare": "net --gross 20 --tare 24.1 --resolution 0.1".split(),
    "cup without tare": "net --gross 131.2 --resolution 0.1".split(),
    "true value of zero": ["points", "5", "0"],
    "negative estimate": ["points", "-5", "10"],
    "words for points": ["points", "five", "10"],
    "plan without a piece": "plan --count 5000 --resolution 0.1".split(),
    "unknown material": "plan --count 5000 --resolution 0.1 --material moon-dust".split(),
    "lead shot": "pour --material lead-shot --count 500".split(),
    "no such band": "pour --material rice --band huge".split(),
    "count and band": "pour --material rice --band large --count 5".split(),
    "buy without a package": "buy --scoop split-pea --places 12 --pairs 80".split(),
    "price without a colon": "buy --scoop rice:9 --places 2 --pairs 8 --price rice".split(),
    "too heavy a box": "buy --scoop split-pea:9 --places 2 --pairs 8 --carry 30".split(),
    "bucket of nothing": "buy --scoop split-pea:9 --places 2 --pairs 8 --bucket x".split(),
    "no such folder": ["score", "no-such-folder"],
    "unknown option": ["count", "--weight", "5"],
}


@pytest.mark.parametrize("words", BAD.values(), ids=BAD)
def test_bad_input_is_refused_with_a_mend_and_nothing_else(run, words):
    status, out, err = run(words)

    assert status == 2
    assert out == ""
    assert "Traceback" not in err
    assert len(err.strip()) > 20


@pytest.mark.parametrize("words", list(BAD.values())[:6], ids=list(BAD)[:6])
def test_a_refusal_is_json_too(run, words):
    status, out, _ = run([*words, "--json"])

    error = json.loads(out)["error"]
    assert status == 2
    assert error["what"]
    assert error["mend"]


def test_a_number_the_scale_cannot_show_is_warned_about(told):
    result = told(jar_with(gross="2890.43"))

    assert any("2890.43" in warning for warning in result["warnings"])


def test_help_imports_nothing_heavy():
    # The group's own help must start at once: it is held by a benchmark, and here by its cause.
    code = (
        "import sys\n"
        "from nearmark.cli import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "heavy = {'numpy', 'scipy', 'rich', 'typst'} & set(sys.modules)\n"
        "sys.exit(f'imported {heavy}' if heavy else 0)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr


PEAS = (
    "count --sample 75:18.91 --sample 75:18.84 --sample 75:18.97 "
    "--gross 712.4 --tare 145.2 --resolution 0.01"
)


@pytest.mark.parametrize(
    ("words", "ask"),
    [
        (f"{PEAS} --material green-pea", "Did you count 100 pieces?"),
        (
            "volume --length 6.4 --width 4.8 --height 3.3 --resolution 0.1",
            "Was the ruler read in inches? That would be 1660 cm3.",
        ),
        ("net --gross 1043 --tare 8.6 --resolution 0.1", "wrong place: 104.3 g?"),
        ("net --gross 104.3 --tare 86 --resolution 0.1", "wrong place: 8.6 g?"),
    ],
)
def test_a_slip_is_asked_about_in_text_and_in_json(run, told, words, ask):
    assert ask in run(words)[1]
    (doubt,) = told(words)["doubts"]
    assert doubt["ask"].endswith(ask)


@pytest.mark.parametrize(
    ("words", "slip"),
    [
        (f"{SCATTERED} --piece-cv 0.15", "the samples scatter as if"),
        (BOX.replace("12.5,12.4", "14.2,12.5"), "14.2 cm"),
    ],
)
def test_what_is_asked_as_a_doubt_is_not_said_again_as_a_warning(run, told, words, slip):
    out = run(words)[1]
    look = [line for line in out.split("Look:")[1:] if slip in " ".join(line.split())]

    assert len(look) == 1
    # programs get both: the warning belongs to the value, the doubt to the reading
    assert told(words)["warnings"]


def test_a_sound_reading_is_not_asked_about_and_no_material_means_no_comparison(run, told):
    assert told(PEAS)["doubts"] == []
    assert "chickpea" in run(f"{PEAS} --material chickpee")[2]


def test_a_purchase_list_has_costs_cups_and_boxes_for_the_car(told):
    words = (
        "buy --scoop split-pea:900 --scoop hex-nut-m6:2400 --places 12 --pairs 80 --kept"
        " --price split-pea:1.10 --heavy 25 --bucket 2.5 --carry 9"
    )
    found = told(words)
    peas, nuts = found["purchases"]

    assert (peas["cost"], nuts["cost"]) == (f"{Decimal('1.10') * peas['packages']}", None)
    assert found["total"] == peas["cost"]
    # 833 g/L: 2.1 kg fit into the bucket, so 3340 g a place are two fills (test_kit_balance).
    assert peas["refills"] == 1
    assert found["cups"] == 88
    assert all(box["mass_kg"] <= 9 for box in found["boxes"])


def test_a_container_without_a_package_says_what_to_add(run):
    status, _, err = run(
        "buy --scoop split-pea:900 --places 12 --pairs 48 --container chickpea:500"
    )

    assert status == 2
    assert "has no package (got chickpea). Add --scoop chickpea:GRAMS" in err


def test_a_mass_less_the_mean_of_some_cups_is_said_to_a_milligram(run):
    _, said, _ = run("net --gross 108.3 --batch-tare 8.6,8.5,8.65 --resolution 0.05")

    assert "net mass: 99.717 g" in said  # 108.3 - 25.75 / 3 = 99.71666...
