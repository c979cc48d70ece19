import json
import zlib

import numpy as np
import pytest

from nearmark.errors import InputError
from nearmark.packing import (
    Jar,
    PackingRequest,
    Rest,
    cylinder,
    grain_shape,
    jar_bytes,
    jar_from_bytes,
)


def drawn_jar(n, code="rice"):
    """A jar of the right form but never settled: only the file matters here."""
    rng = np.random.default_rng(5)
    request = PackingRequest(grain_shape(code), n, 2.0, cylinder(12.0, 20.0), seed=9)
    q = rng.normal(size=(n, 4))
    return Jar(
        request, 1, rng.uniform([-6, -6, 0], [6, 6, 12], (n, 3)),
        q / np.linalg.norm(q, axis=1)[:, None],
        rng.uniform(0.9, 1.1, n), Rest(1e-7, 0.001, 0.0004, 5.0, 0.0, 900, 27.0),
    )  # fmt: skip


def test_a_jar_comes_back_within_the_stated_steps():
    jar = drawn_jar(3000)
    back = jar_from_bytes(jar_bytes(jar))
    turn_rad = 2 * np.arccos(np.clip(np.abs((back.turns * jar.turns).sum(axis=1)), 0, 1))

    assert back.request == jar.request
    assert back.rest == jar.rest
    assert np.abs(back.centres_cm - jar.centres_cm).max() <= 12 / 65535
    assert np.abs(back.sizes - jar.sizes).max() <= 1 / 65535
    assert turn_rad.max() < 0.005


def test_twenty_thousand_pieces_take_less_than_half_a_megabyte():
    assert len(jar_bytes(drawn_jar(20_000))) < 500_000


def test_writing_what_was_read_gives_the_same_pieces():
    content = jar_bytes(drawn_jar(50))
    again = jar_bytes(jar_from_bytes(content))

    assert again[-604:-4] == content[-604:-4]


@pytest.mark.parametrize("at", [0, 5, 8, 40, 900, -1])
def test_a_changed_byte_is_noticed(at):
    content = bytearray(jar_bytes(drawn_jar(50)))
    content[at] ^= 0x55

    with pytest.raises(InputError, match="jar file"):
        jar_from_bytes(bytes(content))


@pytest.mark.parametrize("length", [0, 5, 12, 200, -13])
def test_a_file_cut_short_is_refused(length):
    with pytest.raises(InputError, match="jar file"):
        jar_from_bytes(jar_bytes(drawn_jar(50))[:length])


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'"rice"', b'"cube"'),
        (b'"n_grains":50', b'"n_grains":51'),
        (b'"engine"', b'"motors"'),
        (b'"form":"cylinder"', b'"mold":"cylinder"'),
        (b'"width_mm":2.0', b'"width_mm":NaN'),
    ],
)
def test_a_heading_that_does_not_fit_is_refused_even_with_a_right_check_sum(old, new):
    body = jar_bytes(drawn_jar(50))[:-4]
    assert old in body
    forged = body.replace(old, new.ljust(len(old)))

    with pytest.raises(InputError):
        jar_from_bytes(forged + zlib.crc32(forged).to_bytes(4, "little"))


def test_a_later_version_is_told_apart():
    content = jar_bytes(drawn_jar(5))

    with pytest.raises(InputError, match="later version"):
        jar_from_bytes(content[:5] + b"\x02" + content[6:])


def with_heading(change) -> bytes:
    """A jar file with a changed heading and the right checksum: made by hand."""
    content = jar_bytes(drawn_jar(20))
    length = int.from_bytes(content[6:10], "little")
    heading = json.loads(content[10 : 10 + length])
    change(heading)
    text = json.dumps(heading).encode()
    body = content[:6] + len(text).to_bytes(4, "little") + text + content[10 + length : -4]
    return body + zlib.crc32(body).to_bytes(4, "little")


def vessel(**measures):
    return lambda heading: heading["request"]["vessel"].update(measures)


def request(**more):
    return lambda heading: heading["request"].update(more)


@pytest.mark.parametrize(
    "change",
    [
        vessel(form="x"),
        vessel(form=["box"]),
        vessel(form="cup", top_cm=1.0),
        vessel(height_cm=-3.0),
        vessel(height_cm="tall"),
        vessel(depth_cm=2.0),
        vessel(edge_cm=50.0),
        vessel(height_cm=float("nan")),
        request(n_grains=20.0),
        request(n_grains=True),
        request(seed=1.5),
        request(width_mm=None),
        request(shape="brick"),
        lambda heading: heading.update(low_cm=[-600.0, -6.0, 0.0]),
        lambda heading: heading.update(span_cm=[1e9, 1.0, 1.0]),
        lambda heading: heading.update(span_cm=[-1.0, 1.0, 1.0]),
        lambda heading: heading.update(span_cm=["a", 1.0, 1.0]),
        lambda heading: heading["rest"].update(steps="many"),
        lambda heading: heading["rest"].update(kinetic=float("inf")),
        lambda heading: heading.pop("rest"),
        lambda heading: heading.update(engine=[1]),
        lambda heading: heading.update(engine=float("inf")),
    ],
)
def test_a_heading_that_no_jar_has_is_refused(change):
    with pytest.raises(InputError) as refused:
        jar_from_bytes(with_heading(change))

    assert refused.value.mend


def test_a_heading_of_no_change_is_taken():
    assert jar_from_bytes(with_heading(dict)).request == drawn_jar(20).request
