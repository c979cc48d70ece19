"""The strip as SVG: what is where, that it can be told, and that nothing gets in."""

import math
import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from nearmark.charts import Mark, MarkKind, strip_svg
from nearmark.charts.strip import MARGIN
from nearmark.charts.tokens import BAND
from nearmark.errors import InputError
from nearmark.words.deviations import error_words

SVG = "{http://www.w3.org/2000/svg}"
HUNDREDTH = 0.011
"""px; positions are written to a hundredth."""


def parsed(marks, **options) -> ET.Element:
    return ET.fromstring(strip_svg(marks, **options))


def diamond_px(root: ET.Element) -> float:
    path = next(p for p in root.iter(f"{SVG}path") if "l6.5 8" in p.get("d"))
    return float(re.match(r"M([\d.]+)", path.get("d"))[1])


def texts(root: ET.Element) -> list[str]:
    return [t.text for t in root.iter(f"{SVG}text")]


def axis_px(ratio: float, width: float = 480) -> float:
    # By hand: half is at the left margin, double at the right, logarithms between.
    return MARGIN + (math.log(ratio) + math.log(2)) / (2 * math.log(2)) * (width - 2 * MARGIN)


@pytest.mark.parametrize("ratio", [0.5, 0.8, 1.0, 1.25, 2.0])
def test_a_mark_stands_at_its_log_ratio(ratio):
    root = parsed([Mark(ratio, kind=MarkKind.THIS)])

    assert diamond_px(root) == pytest.approx(axis_px(ratio), abs=HUNDREDTH)


def test_four_fifths_and_five_quarters_are_equally_far_from_the_key():
    # ln(4/5) = -ln(5/4): the axis is symmetric in ratio, not in percent.
    low, high = (diamond_px(parsed([Mark(r, kind=MarkKind.THIS)])) for r in (0.8, 1.25))

    assert 240 - low == pytest.approx(high - 240, abs=2 * HUNDREDTH)


def test_the_band_runs_from_90_to_110_percent():
    band = next(r for r in parsed([]).iter(f"{SVG}rect") if r.get("fill") == BAND)
    left, width = float(band.get("x")), float(band.get("width"))

    assert left == pytest.approx(axis_px(0.9), abs=HUNDREDTH)
    assert left + width == pytest.approx(axis_px(1.1), abs=2 * HUNDREDTH)


def test_the_interval_is_a_bracket_about_the_centre():
    path = next(
        p.get("d")
        for p in parsed([], interval=(0.98, 1.03)).iter(f"{SVG}path")
        if p.get("stroke-width") == "1.2"
    )
    left, right = re.match(r"M([\d.]+) .*H([\d.]+)V", path).groups()

    assert float(left) == pytest.approx(axis_px(0.98), abs=HUNDREDTH)
    assert float(right) == pytest.approx(axis_px(1.03), abs=HUNDREDTH)


@pytest.mark.parametrize("ratio", [0.0, 0.3, 2.4, 1e9])
def test_a_mark_beyond_the_axis_is_an_arrow_not_a_diamond(ratio):
    drawn = strip_svg([Mark(ratio, kind=MarkKind.THIS)])

    assert "l6.5 8" not in drawn
    assert f"l{'9.6' if ratio > 1 else '-9.6'} 6" in drawn


def test_a_crowd_beyond_the_axis_is_one_arrow_with_its_number():
    root = parsed([Mark(2.5), Mark(3), Mark(4), Mark(1.1)])

    assert "3" in texts(root)


def test_kinds_differ_in_shape():
    shapes = {
        kind: {
            (e.tag, re.sub(r"[\d.]+", "", e.get("d", "")))
            for e in parsed([Mark(1.3, kind=kind)]).iter()
            if e.tag in {f"{SVG}path", f"{SVG}circle"}
        }
        for kind in MarkKind
    }
    common = set.intersection(*shapes.values())

    own = [shapes[kind] - common for kind in MarkKind]
    assert all(own)
    assert not set.intersection(*own)


def test_this_pair_is_painted_last():
    drawn = strip_svg([Mark(1.0, kind=MarkKind.THIS), Mark(1.0), Mark(1.0, kind=MarkKind.MEAN)])

    assert drawn.index("v-13") < drawn.index("<circle") < drawn.index("l6.5 8")


def test_a_screen_reader_gets_a_title_and_the_whole_story():
    root = parsed(
        [Mark(0.88, "P07", MarkKind.THIS), Mark(2.5)], interval=(0.99, 1.01), title="Jar C2"
    )
    ids = {e.get("id"): e for e in root.iter() if e.get("id")}

    assert root.get("role") == "img"
    told = [ids[name].text for name in root.get("aria-labelledby").split()]
    assert told[0] == "Jar C2"
    assert told[1] == "P07: 12 % low. 1 other, more than double. True value known within 1 %."


NASTY = "</text><script>alert(1)</script>\"'&\x00\x0b\ud800 مها 中文"


def test_a_label_cannot_break_out_or_break_the_xml():
    root = parsed([Mark(1.0, NASTY, MarkKind.THIS)], title=NASTY, width_px=900)

    assert not list(root.iter(f"{SVG}script"))
    assert any("<script>" in text and "中文" in text for text in texts(root))


def test_nothing_is_fetched_or_run():
    drawn = strip_svg([Mark(0.9, "P07", MarkKind.THIS), Mark(3)], interval=(0.99, 1.01))

    assert not re.search(r"<script|href|url\(|on\w+=|@import|<style", drawn)
    assert re.findall(r"https?://[^\"]+", drawn) == ["http://www.w3.org/2000/svg"]


@pytest.mark.parametrize("width", [160, 200, 240, 300, 360, 480, 700, 1200])
def test_axis_labels_never_touch(width):
    labels = [
        (float(t.get("x")), len(t.text) * 0.55 * 11 / 2)
        for t in parsed([], width_px=width).iter(f"{SVG}text")
    ]
    labels.sort()

    assert len(labels) >= 3
    for (x1, half1), (x2, half2) in pairwise(labels):
        assert x2 - half2 >= x1 + half1


def test_two_close_labels_stand_side_by_side():
    root = parsed([Mark(1.0, "P07", MarkKind.THIS), Mark(1.01, "mean", MarkKind.MEAN)])
    x = {t.text: float(t.get("x")) for t in root.iter(f"{SVG}text")}

    assert x["mean"] - x["P07"] > 20


def test_labels_that_do_not_fit_give_way_to_this_pairs():
    marks = [Mark(1 + i / 100, f"another pair {i}") for i in range(9)]
    root = parsed([*marks, Mark(0.8, "P07", MarkKind.THIS)], width_px=200)

    assert "P07" in texts(root)
    assert "another pair 8" not in texts(root)


def test_the_same_marks_give_the_same_bytes():
    assert strip_svg([Mark(0.9)]) == strip_svg([Mark(0.9)])


@pytest.mark.parametrize("ratio", [-0.1, math.nan, math.inf])
def test_a_ratio_that_is_none_is_refused(ratio):
    with pytest.raises(InputError, match="zero or more"):
        Mark(ratio, "P07")


@pytest.mark.parametrize("interval", [(1.1, 0.9), (math.nan, 1.0), (0.9, math.inf)])
def test_an_interval_out_of_order_is_refused(interval):
    with pytest.raises(InputError, match="low before high"):
        strip_svg([], interval=interval)


@pytest.mark.parametrize("width", [100, math.nan])
def test_a_strip_too_narrow_is_refused(width):
    with pytest.raises(InputError, match="160"):
        strip_svg([], width_px=width)


@pytest.mark.parametrize(
    ("ratio", "words"),
    [
        (1.0, "within 1 %"),
        (0.996, "within 1 %"),
        (0.99, "1 % low"),
        (0.5, "50 % low"),
        (2.0, "100 % high"),
        (0.0, "less than half"),
        (2.001, "more than double"),
    ],
)
def test_an_error_in_words(ratio, words):
    assert error_words(ratio) == words
