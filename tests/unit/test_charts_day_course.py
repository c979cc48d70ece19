"""The course of a day as a picture: bands where the figures are, in words as well."""

import re
from dataclasses import replace
from datetime import time
from xml.etree import ElementTree as ET

import pytest

from nearmark.charts import svg
from nearmark.charts.day_course import NARROWEST_PX, day_course_svg
from nearmark.contest.day_flow.bands import Band
from nearmark.contest.day_flow.options import DayOptions
from nearmark.contest.day_flow.over_time import BandLine, RoomOverTime, Spot, SpotOverTime
from nearmark.contest.day_flow.summary import day_bands
from nearmark.errors import InputError

SVG = "{http://www.w3.org/2000/svg}"


def sure(*values):
    return BandLine(values, values, values)


COURSE = RoomOverTime(
    times_min=(5.0, 15.0),
    spots=(
        SpotOverTime(
            Spot.SCALES,
            1,
            BandLine((0, 0), (1, 0), (1, 1)),
            BandLine((1, 0), (3, 0), (4, 0)),
        ),
        SpotOverTime(Spot.BOXES, 4, sure(2, 4), sure(0, 0)),
    ),
    starts_min=(Band(0, 0, 0), Band(10, 10, 10)),
    end_min=Band(18, 19, 20),
)


def picture(course=COURSE, **options):
    return ET.fromstring(day_course_svg(course, title="Room 1", **options))


def points(path):
    return [tuple(map(float, p.split())) for p in re.findall(r"[-\d.]+ [-\d.]+", path.get("d"))]


def test_lines_go_where_the_figures_are():
    bands = [p for p in picture().iter(f"{SVG}path") if p.get("opacity")]
    lines = [p for p in picture().iter(f"{SVG}path") if p.get("fill") == "none"]
    assert len(bands) == len(lines) == 4  # work and queue of two stations

    busy, queue, *_ = map(points, lines)
    # 20 min over 720 - 44 - 10 px; the base line is where nobody works and nobody waits
    assert [x for x, _ in busy] == pytest.approx([44 + 666 * t / 20 for t in (5, 15)], abs=0.06)
    base = busy[1][1]
    assert queue[1][1] == base
    px = base - busy[0][1]  # one pair
    assert queue[0][1] - base == pytest.approx(3 * px, abs=0.3)
    upper = points(bands[1])
    assert upper[0][1] - base == pytest.approx(4 * px, abs=0.3)


def test_the_end_is_a_band():
    (end,) = picture().iter(f"{SVG}rect")

    assert float(end.get("x")) == pytest.approx(44 + 666 * 18 / 20, abs=0.01)
    assert float(end.get("width")) == pytest.approx(666 * 2 / 20, abs=0.01)


@pytest.mark.parametrize(("start", "first"), [(time(9), "09:00"), (None, "0:00")])
def test_the_axis_says_the_time_of_day_where_it_is_known(start, first):
    texts = [each.text for each in picture(start=start).iter(f"{SVG}text")]

    assert first in texts
    assert {"1", "2", "Scales", "Boxes", "at work", "waiting", "end of the day"} <= set(texts)


def test_it_can_be_read_aloud():
    said = picture(start=time(9)).find(f"{SVG}desc")

    assert said is not None
    assert said.text == (
        "Scales: at most 1 of 1 at work; most wait at 09:05: 3 (1 to 4). "
        "Boxes: at most 4 of 4 at work, and hardly anybody waits. "
        "The day ends between 09:18 and 09:20."
    )


@pytest.mark.parametrize("width", [NARROWEST_PX, 340, 720])
@pytest.mark.parametrize("pairs", [1, 80, 400])
def test_every_text_lies_in_the_picture(width, pairs):
    course = day_bands(DayOptions(pairs=pairs).planned(), n_days=2).rooms[0].over_time
    svg = picture(course, width_px=width, start=time(9))

    for text in svg.iter(f"{SVG}text"):
        wide = 6.0 * len(text.text or "")
        x = float(text.get("x"))
        left = {"end": x - wide, "middle": x - wide / 2}.get(text.get("text-anchor", ""), x)
        assert left >= -1
        assert left + wide <= width + 6
        assert 0 < float(text.get("y")) <= float(svg.get("height"))


def test_a_day_that_ends_at_one_moment_is_drawn():
    course = replace(COURSE, end_min=Band(20, 20, 20))

    (end,) = picture(course).iter(f"{SVG}rect")
    assert float(end.get("width")) == 1


def test_a_picture_too_narrow_is_refused():
    with pytest.raises(InputError) as refused:
        day_course_svg(COURSE, title="Room 1", width_px=NARROWEST_PX - 1)
    assert refused.value.where == "width of the course"


def test_the_same_picture_in_two_sizes_has_ids_of_its_own():
    names = [
        set(
            re.findall(
                r' id="([^"]*)"', svg.drawing([], width=w, height=9, title="a", description="b")
            )
        )
        for w in (340, 720)
    ]

    assert len(names[0]) == 2
    assert not names[0] & names[1]
