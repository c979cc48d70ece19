"""What to leave out of a layer, by poured jars of one kind, against the jars of the package.

The nine ready jars were poured for another purpose, from other draws: they took no part in the
shares.
"""

import math

import numpy as np
import pytest

from nearmark.charts.ready_jars import ready_jars
from nearmark.coaching.layer_trims import usual_trim
from nearmark.errors import InputError
from nearmark.packing import census, cylinder, grain_shape, jar_from_bytes, settle, solid
from nearmark.packing.request import PackingRequest
from nearmark.packing.views import top_view


def off_without_and_with() -> tuple[list[float], list[float]]:
    """ln(surface x layers / count) of every ready jar, as it is and trimmed."""
    bare, trimmed = [], []
    for ready in ready_jars():
        request = jar_from_bytes(ready.jar).request
        off = math.log(ready.told["layer"] * ready.told["layers"] / ready.told["count"])
        bare.append(off)
        trimmed.append(off + math.log(usual_trim(request.shape.code, request.vessel.form)))
    return bare, trimmed


@pytest.mark.slow
def test_the_shares_bring_surface_times_layers_nearer_to_the_count():
    bare, trimmed = off_without_and_with()

    assert np.sqrt(np.mean(np.square(trimmed))) < 0.6 * np.sqrt(np.mean(np.square(bare)))
    assert max(map(abs, trimmed)) < 0.2


@pytest.mark.slow
def test_a_jar_poured_now_has_about_its_share():
    request = PackingRequest(grain_shape("sphere"), 120, 8.0, cylinder(4.6, 12.0), seed=5)
    seen = census(settle(request))

    assert seen.count / seen.product == pytest.approx(usual_trim("sphere", "cylinder"), rel=0.2)


@pytest.mark.parametrize(("shape", "form"), [("pear", "jar"), ("bean", "bag")])
def test_an_unknown_kind_is_refused(shape, form):
    with pytest.raises(InputError, match="no such kind"):
        usual_trim(shape, form)


@pytest.mark.slow
def test_no_tower_stands_on_a_heap():
    """A column of five coins once stood two reaches and more above the highest twentieth."""
    towers = {}
    for ready in ready_jars():
        jar = jar_from_bytes(ready.jar)
        seen = top_view(jar)
        front = seen.front[seen.pieces >= 0]
        above = float(front.max() - np.quantile(front, 0.95)) / solid(jar.request.shape).reach
        if above > 2:
            towers[ready.name] = above

    assert towers == {}
