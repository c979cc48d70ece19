"""What a page is sent to draw a jar, and the still pictures."""

import io
import json

import numpy as np
import pytest
from PIL import Image

from nearmark.charts.jar_exhibit import jar_facts, jar_pictures
from nearmark.charts.jar_layers import peel
from nearmark.charts.jar_mesh import LEVELS, depth_inside, piece_mesh
from nearmark.charts.jar_scene import PAD_TO, PIECE, whole_bytes
from nearmark.charts.jar_shell import looking, seen_pieces, trace
from nearmark.charts.ready_jars import READY_FOLDER, ready_jars
from nearmark.coaching.jar_choice import BANDS, drawn_request
from nearmark.packing import SHAPES, cylinder, grain_shape, jar_from_bytes, solid
from nearmark.packing.jar import Jar, Rest
from nearmark.packing.request import PackingRequest, check_request

STILL = Rest(0.0, 0.0, 0.0, 0.0, 0.0, 0, 0.0)

SMOOTHED = {"coin": 0.2, "oblate": 0.12, "tube": 0.14, "twist": 0.05}
"""Widths by which the smooth body drawn may miss the capsules that touch; else a hundredth."""


@pytest.fixture(scope="module")
def beans() -> Jar:
    return jar_from_bytes(ready_jars()[1].jar)


def heading(content: bytes) -> dict:
    length = int.from_bytes(content[:4], "little")
    return json.loads(content[4 : 4 + length])


def sent_pieces(content: bytes) -> np.ndarray:
    start = 4 + int.from_bytes(content[:4], "little")
    return np.frombuffer(content, PIECE, heading(content)["pieces"], start)


@pytest.mark.slow
@pytest.mark.parametrize("code", SHAPES)
@pytest.mark.parametrize("level", range(1, len(LEVELS)))
def test_a_mesh_lies_on_the_skin_of_its_piece_and_faces_outwards(code, level):
    mesh = piece_mesh(code, level)

    deep, _ = depth_inside(solid(grain_shape(code)), mesh.points)
    corners = mesh.points[mesh.faces]
    facing = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    agree = (facing * mesh.normals[mesh.faces].mean(axis=1)).sum(axis=1)
    assert np.abs(deep).max() <= SMOOTHED.get(code, 0.01)
    assert (agree > 0).all()


def placed(*centres_cm: tuple[float, float, float]) -> Jar:
    ask = PackingRequest(grain_shape("sphere"), len(centres_cm), 10.0, cylinder(8.0, 12.0))
    n = len(centres_cm)
    return Jar(ask, 1, np.array(centres_cm), np.tile([1.0, 0, 0, 0], (n, 1)), np.ones(n), STILL)


def test_a_traced_ball_has_the_area_and_the_depth_of_a_circle():
    look = looking(-90.0, 0.0)
    picture = trace(placed((0, 0, 2.0)), look, pixels_a_cm=100.0, window_cm=(-1, 1, 1, 3))

    # pi r^2 with r = 50 pixels; the front of the ball is a radius before its centre.
    assert (picture.pieces == 0).sum() == pytest.approx(np.pi * 50**2, rel=0.005)
    assert picture.depth.max() == pytest.approx(50.0, abs=0.05)


def test_the_nearer_ball_hides_the_farther():
    jar = placed((0, 1.5, 2.0), (0, -1.5, 2.0))
    window = (-1.0, 1.0, 1.0, 3.0)
    front = trace(jar, looking(-90.0, 0.0), pixels_a_cm=40.0, window_cm=window)
    back = trace(jar, looking(90.0, 0.0), pixels_a_cm=40.0, window_cm=window)

    assert set(np.unique(front.pieces)) == {-1, 1}
    assert set(np.unique(back.pieces)) == {-1, 0}


def test_a_ball_walled_in_on_all_sides_is_not_sent():
    side = np.arange(-3, 4) * 0.9
    cube = [(x, y, z + 4.0) for x in side for y in side for z in side]
    middle = cube.index((0.0, 0.0, 4.0))

    seen = seen_pieces(placed(*cube))

    assert middle not in seen
    assert {0, len(cube) - 1} <= set(seen.tolist())


def test_what_is_sent_before_the_answer_does_not_give_the_count_away(beans):
    facts = jar_facts(beans)
    head, pieces = heading(facts.shell), sent_pieces(facts.shell)

    assert head["pieces"] % PAD_TO == 0
    assert head["layers"] is None
    assert beans.request.n_grains not in json.dumps(head).split(",")
    assert (pieces["size"] > 0).sum() == len(facts.seen)
    # The empty places lie among the others, not at the end.
    assert (pieces["size"][:200] == 0).any()


def test_of_a_large_jar_most_pieces_stay_at_home():
    ready = ready_jars()[-1]

    sent = (sent_pieces(ready.shell)["size"] > 0).sum()

    assert 11_000 <= ready.told["count"] <= 20_000
    assert sent < 0.6 * ready.told["count"]


def test_after_the_answer_every_piece_is_there_layer_by_layer(beans):
    told = ready_jars()[1].told
    taken = peel(beans, told["layers"])
    content = whole_bytes(beans, taken, told["fill_height_cm"])
    head, pieces = heading(content), sent_pieces(content)

    assert head["layers"] == list(taken.counts)
    assert sum(taken.counts) == len(pieces) == told["count"]
    n = taken.counts[0]
    heights = pieces["at"][:, 2]
    assert heights[:n].min() >= heights[n:].max() - 1


@pytest.mark.slow
def test_the_ready_jars_are_what_the_engine_says_of_them_today():
    for ready in ready_jars()[:3]:
        facts = jar_facts(jar_from_bytes(ready.jar))
        assert facts.told() == ready.told, "run python tools/ready_jars.py --facts"


def test_the_ready_jars_cover_all_bands_and_stay_small():
    counts = [jar.told["count"] for jar in ready_jars()]
    sizes = [file.stat().st_size for file in READY_FOLDER.iterdir()]

    for band in BANDS.values():
        assert sum(band.least <= n <= band.most for n in counts) >= 2
    assert max(sizes) < 500_000
    assert sum(sizes) < 2_000_000


@pytest.mark.slow
def test_still_pictures_are_crisp_pngs_of_one_scale(beans):
    top, side = (Image.open(io.BytesIO(p)) for p in jar_pictures(beans))

    assert top.format == side.format == "PNG"
    assert top.width == side.width == 1400
    assert len(side.convert("RGB").getcolors(10**7)) > 60


@pytest.mark.parametrize("band", BANDS)
@pytest.mark.parametrize("shape", SHAPES)
def test_a_drawn_jar_can_be_poured_and_lies_in_its_band(band, shape):
    for seed in range(8):
        ask = drawn_request(band, np.random.default_rng(seed), shape=shape)
        check_request(ask)
        assert BANDS[band].least <= ask.n_grains <= BANDS[band].most
