"""The bar of a budget: shares that add up, names beside them, parts told apart without colour."""

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from nearmark.charts import budget_bar_svg, budget_bar_text
from nearmark.charts.shares import apportioned, segments
from nearmark.charts.spread import spread
from nearmark.errors import InputError
from nearmark.measurement.budget import Budget, Component

SVG = "{http://www.w3.org/2000/svg}"


def budget(*contributions: float) -> Budget:
    rows = tuple(Component(f"row {i}", 1.0, "g", u) for i, u in enumerate(contributions))
    return Budget("net mass", 100.0, "g", rows)


def test_shares_are_of_squares_largest_first():
    # 3-4-5: squares 9 and 16 of 25.
    assert [(s.name, s.percent) for s in segments(budget(3, 4))] == [("row 1", 64), ("row 0", 36)]


def test_small_shares_are_joined_as_other():
    # squares 100, 1, 1, 1 of 103: each of the three is below 3 %.
    named, other = segments(budget(10, 1, 1, 1))

    assert (named.name, named.percent) == ("row 0", 97)
    assert (other.name, other.percent, other.joined) == ("other, 3 together", 3, True)


def test_one_small_share_alone_keeps_its_name():
    assert [s.name for s in segments(budget(10, 1))] == ["row 0", "row 1"]


def test_percents_add_up_to_a_hundred():
    assert [s.percent for s in segments(budget(1, 1, 1))] == [34, 33, 33]


def test_a_component_that_cancels_is_not_drawn():
    assert [s.name for s in segments(budget(1, 0))] == ["row 0"]


@pytest.mark.parametrize(
    ("shares", "whole", "given"),
    # Largest remainders, by hand: quotas 4.7, 2.85, 1.45, 1.0 of ten -> the two largest gain.
    [([0.47, 0.285, 0.145, 0.1], 10, (5, 3, 1, 1)), ([], 10, ()), ([0, 0], 10, (0, 0))],
)
def test_apportioning_gives_out_the_whole(shares, whole, given):
    assert apportioned(shares, whole) == given


def test_the_bar_is_as_long_as_the_shares():
    root = ET.fromstring(budget_bar_svg(budget(3, 4)))
    heights = [float(r.get("height")) for r in root.iter(f"{SVG}rect")]
    whole, first, second = heights[:3]

    assert first / whole == pytest.approx(0.64, abs=1e-3)  # heights are written to 0.01 px
    assert second / whole == pytest.approx(0.36, abs=1e-3)


def test_every_part_has_its_own_pattern_without_colour():
    drawn = budget_bar_svg(budget(4, 3, 2.5, 2, 0.9, 0.9))
    without_fill = re.sub(r' fill="#\w+"', "", drawn)
    root = ET.fromstring(without_fill)
    painted = {e.get("stroke-width") for e in root.iter(f"{SVG}path")}

    assert {"1.1", "0.6"} <= painted  # slanted and level lines
    assert list(root.iter(f"{SVG}circle"))  # dots


def test_names_do_not_touch():
    root = ET.fromstring(budget_bar_svg(budget(10, 2.2, 2.1, 2, 1, 1)))
    lines = sorted({float(t.get("y")) for t in root.iter(f"{SVG}text")})

    assert len(lines) == 5
    assert all(b - a >= 16 for a, b in pairwise(lines))


def test_a_long_name_is_shortened_to_the_width():
    rows = (Component("x" * 300, 1.0, "g", 1.0),)
    drawn = budget_bar_svg(Budget("net mass", 1.0, "g", rows), width_px=200)

    name = [t.text for t in ET.fromstring(drawn).iter(f"{SVG}text")][1]
    assert name.endswith("…")
    assert len(name) < 30


def test_a_screen_reader_hears_the_shares():
    root = ET.fromstring(budget_bar_svg(budget(3, 4)))

    assert root.find(f"{SVG}desc").text == "64 % row 1; 36 % row 0."


def test_a_budget_of_nothing_says_so():
    assert "no component contributes" in budget_bar_svg(budget(0, 0))
    assert budget_bar_text(budget(0, 0)) == "no component contributes"


@pytest.mark.parametrize("width", [20, 33, 61, 100])
def test_the_text_bar_fills_its_width(width):
    bar, *names = budget_bar_text(budget(4, 3, 2, 0.9, 0.9), width).splitlines()

    assert len(bar) == width
    assert [line[0] for line in names] == sorted(set(bar), key=bar.index)


def test_the_text_bar_in_ascii():
    assert budget_bar_text(budget(4, 3, 2, 2, 0.3, 0.3), ascii_only=True).isascii()


def test_too_narrow_is_refused():
    with pytest.raises(InputError, match="20 columns"):
        budget_bar_text(budget(1), 19)
    with pytest.raises(InputError, match="160 px"):
        budget_bar_svg(budget(1), width_px=159)


def test_spreading_keeps_the_order_and_the_line():
    placed = spread([50, 51, 52, 99], [10, 10, 10, 10], 0, 100)

    assert all(b - a >= 10 for a, b in pairwise(placed))
    assert placed[-1] == 95


def test_spreading_too_many_starts_at_the_low_end():
    assert spread([5, 5, 5], [10, 10, 10], 0, 20) == (5, 15, 25)
