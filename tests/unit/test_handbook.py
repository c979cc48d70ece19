"""The handbook says what the product says: its commands, numbers, names of pages and papers."""

import math
import re
import shlex
from itertools import pairwise
from pathlib import Path
from statistics import mean

import pytest
from scipy.stats import chi2, t

from nearmark.contest.rules import RuleSet
from nearmark.contest.scoring import score
from nearmark.kit import BANDS, Sample, count_by_weighing, grams_to_pour, material, materials
from nearmark.kit.catalogue_files import read_catalogue
from nearmark.kit.vessels import vessel
from nearmark.measurement.instruments import Instrument, Reading
from nearmark.printing.handbook import chapter_names
from nearmark.words.handout import HandoutPart, part_lines, part_title

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "docs" / "handbook"
FILES = sorted(FOLDER.glob("*.md"))
SHOWN = re.compile(
    r"^```sh\n(?P<command>[^`]*)^```\n\n```text\n(?P<output>[^`]*)^```$", re.MULTILINE
)


def text_of(name: str) -> str:
    return (FOLDER / f"{name}.md").read_text(encoding="utf-8")


def table_after(name: str, heading: str) -> list[dict[str, str]]:
    """The first table below a heading (any text of the chapter)."""
    _, _, below = text_of(name).partition(heading)
    lines = re.search(r"(?:^\|.*\n)+", below, re.MULTILINE)
    assert lines, heading
    rows = [[c.strip() for c in line.strip("|").split("|")] for line in lines[0].splitlines()]
    return [dict(zip(rows[0], row, strict=True)) for row in rows[2:]]


def test_every_file_is_a_chapter_and_every_chapter_a_file():
    assert sorted([*chapter_names(FOLDER), "README"]) == [file.stem for file in FILES]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_link_leads_to_a_file(file):
    links = re.findall(r"\]\(([^)#]+)", file.read_text(encoding="utf-8"))

    assert [link for link in links if not (file.parent / link).is_file()] == []


@pytest.mark.slow
@pytest.mark.parametrize(
    ("command", "output"),
    [
        pytest.param(match["command"], match["output"], id=f"{file.stem}:{number}")
        for file in FILES
        for number, match in enumerate(SHOWN.finditer(file.read_text(encoding="utf-8")))
    ],
)
def test_what_a_command_is_shown_to_print_is_what_it_prints(command, output, run):
    words = shlex.split(command.replace("\\\n", " "))
    status, printed, err = run(*words[1:])
    assert status == 0, err

    lines = [line.rstrip() for line in printed.splitlines()]
    places = [lines.index(line) for line in output.splitlines()]
    assert places == sorted(places)


# Names of the screen and of papers


def said_on_the_site() -> str:
    """Everything that pages, forms, papers and words say, in lower case on one line."""
    files = [
        file
        for folder, ending in (("site", "html"), ("site", "py"), ("words", "py"))
        for file in (ROOT / "src" / "nearmark" / folder).rglob(f"*.{ending}")
    ]
    text = " ".join(file.read_text(encoding="utf-8") for file in files)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", "", text)).lower()


def test_every_name_in_bold_is_on_the_site_or_on_paper():
    said = said_on_the_site()
    named = {
        name for file in FILES for name in re.findall(r"\*\*(.+?)\*\*", file.read_text("utf-8"))
    } - {"bold"}
    assert len(named) > 40

    assert sorted(name for name in named if name.lower() not in said) == []


# Readability


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_sentences_are_short(file):
    text = re.sub(r"```.*?```", "", file.read_text(encoding="utf-8"), flags=re.DOTALL)
    text = re.sub(r"^[#|].*$", "", text, flags=re.MULTILINE)
    text = re.sub(r"\]\([^)]*\)", "]", text)
    parts = re.split(r"(?<=[.?!:])\s+|\n\s*\n|\n(?=[-\d])", text)
    counted = [len(words) for part in parts if len(words := re.findall(r"[^\W_]+", part)) > 1]

    assert mean(counted) < 15
    assert max(counted) <= 30


# Materials and containers


def test_the_worked_examples_are_those_of_the_catalogue():
    rows = table_after("materials-and-containers", "## Three worked examples")
    assert {row["band"] for row in rows} == set(BANDS)
    for row in rows:
        into = vessel(row["container"])
        pour = grams_to_pour(
            int(row["pieces"]), material(row["material"]), scale_step_g=0.1, vessel=into
        )
        low, high = BANDS[row["band"]]

        assert low <= pour.pieces <= high
        assert row["g to pour"] == f"{pour.mass_g:f}"
        assert row["fill"] == f"{100 * pour.fill:.0f} %"
        assert row["fill height"] == f"{pour.height_cm:.1f} cm"
        assert set(re.findall(r"\d+\.\d", row["inner size"])) == {
            f"{size:.1f}" for size in into.sizes_cm
        }


def test_the_bands_are_those_of_the_pour_planner():
    rows = table_after("materials-and-containers", "## The three bands")

    assert {row["band"]: row["pieces"] for row in rows} == {
        band: f"{low:,}-{high:,}" for band, (low, high) in BANDS.items()
    }


def test_the_boxes_hold_what_is_said():
    for row in table_after("materials-and-containers", "## Boxes"):
        sides = [float(side) for side in re.findall(r"\d+\.\d", row["size"])]
        volume = int(row["volume"].removesuffix(" cm3"))

        assert volume == round(math.prod(sides))
        assert 200 <= volume <= 4000


# The true value: the sums by hand against the product

SCALE = Instrument("bench scale", "g", 0.1)


def by_hand(samples: list[float], each: int, net: float, factors: tuple[float, float]):
    """The eleven steps of the chapter: value, U as a share of it."""
    n, m = len(samples), mean(samples)
    value = net * n * each / sum(samples)
    p = sum((x - m) ** 2 for x in samples) + m * m / (100 * each)
    a, b = factors
    parts = (a * p / n / m / m, b * p * each / m / m / value, 0.32 * 0.1 * 0.1 / m / m)
    return value, math.sqrt(sum(parts)), parts


def factors_of(n: int) -> tuple[float, float]:
    row = next(
        row for row in table_after("true-value", "give or take 150") if row["samples"] == str(n)
    )
    return float(row["A"]), float(row["B"])


def test_the_table_of_factors_is_the_rule_of_the_budget():
    # Upper bounds by chi-square, widened by Student's t: the definition in kit/sample_scatter.py,
    # computed here by scipy.stats.
    for row in table_after("true-value", "give or take 150"):
        n = int(row["samples"])
        assert float(row["A"]) == pytest.approx(t.ppf(0.975, n) ** 2 / chi2.ppf(0.18, n), abs=6e-3)
        assert float(row["B"]) == pytest.approx(1.96**2 / chi2.ppf(0.10, n), abs=6e-3)


@pytest.mark.parametrize("n", [6, 8])
def test_the_count_by_hand_is_that_of_the_product(n):
    rows = table_after("true-value", "Eight samples were weighed")
    samples = [float(row["g"]) for row in rows][:n]
    assert {row["pieces"] for row in rows} == {"300"}
    found = count_by_weighing(
        [Sample(300, each) for each in samples],
        Reading((1210.6,), SCALE),
        Reading((110.2,), SCALE),
    )

    value, share, _ = by_hand(samples, 300, 1210.6 - 110.2, factors_of(n))

    assert found.key == round(value) == 15248
    assert share == pytest.approx(found.budget.relative_expanded_uncertainty, rel=0.003)


def test_the_steps_by_hand_show_the_right_numbers():
    samples = [float(row["g"]) for row in table_after("true-value", "Eight samples were weighed")]
    value, share, parts = by_hand(samples, 300, 1100.4, factors_of(8))
    text = text_of("true-value")
    m = mean(samples)

    for shown in (
        f"Add the samples: {sum(samples):.1f} g",
        f"= {value:.2f}.",
        f"÷ 8 = {m:.2f} g",
        f"S = {sum((x - m) ** 2 for x in samples):.2f}",
        f"{m * m / 30000:.6f}",
        f"Add the three: {sum(parts):.7f}",
        f"U is {share:.5f} of the value",
        f"which is {100 * share:.2f} %",
        *(f"{part:.7f}" for part in parts),
    ):
        assert shown in text, shown
    assert f"x 15248 = {share * value:.0f}" in text


def test_the_box_by_hand_is_that_of_the_command():
    # The command's own words are held by the block beneath; here only the sums.
    sides = [
        [float(x) for x in row["readings, cm"].split()]
        for row in table_after("true-value", "## A box")
    ]
    means = [mean(side) for side in sides]
    squares = sum((x - mean(side)) ** 2 for side in sides for x in side)
    step = squares / 12 / 5 * sum(1 / m / m for m in means)
    share = 2.18 * math.sqrt(step)
    text = text_of("true-value")

    assert [len(side) for side in sides] == [5, 5, 5]
    for shown in (
        f"= {math.prod(means):.2f}",
        f"fifteen: {squares:.3f}",
        f"÷ 12 ÷ 5 = {squares / 60:.6f}",
        f"multiplied by itself: {math.sqrt(step):.5f}",
        f"which is {100 * share:.2f} %",
    ):
        assert shown in text, shown
    assert t.ppf(0.975, 12) == pytest.approx(2.18, abs=0.005)
    assert t.ppf(0.975, 6) == pytest.approx(2.45, abs=0.005)


# Cautions


def test_the_cautions_name_all_that_is_refused():
    text = text_of("cautions").lower()

    for entry in read_catalogue("cautions")["never"]:
        assert any(word in text for word in entry["words"]), entry["words"]


def test_the_cautions_name_every_allergen_of_the_catalogue():
    text = text_of("cautions")
    assert all(allergen in text for each in materials() for allergen in each.allergens)


# Coaches


def test_the_handout_holds_all_that_the_page_of_the_site_says():
    text = text_of("coaches-handout")

    for part in HandoutPart:
        assert f"## {part_title(part)}\n" in text
        assert [line for line in part_lines(part) if f"- {line}\n" not in text] == []


def test_the_examples_of_points_are_those_of_the_usual_rule():
    rows = table_after("coaches-handout", "## How points work")
    assert len(rows) == 3
    for row in rows:
        true, answer = (int(re.match(r"\d+", row[name])[0]) for name in ("true", "answer"))
        assert row["points"] == f"{float(score(answer, true, RuleSet())):.2f}"
        assert row["off"] == f"{100 * abs(answer - true) / true:.0f} %"


def test_the_hour_has_sixty_minutes_without_a_gap():
    rows = table_after("coaches-hour", "## Minute by minute")
    ends = [tuple(map(int, row["minute"].split("-"))) for row in rows]

    assert (ends[0][0], ends[-1][1]) == (0, 60)
    assert all(before[1] == after[0] for before, after in pairwise(ends))
