"""A jar as bytes and back: a short heading, then twelve bytes a piece.

Layout, little-endian: ``NMJAR`` and a version byte; length of the heading (4 bytes); the heading
as JSON; for each piece x, y, z as uint16 over the heading's corners, size as uint16 over 0.5 to
1.5, and the turn in 32 bits (which of four components is largest, then the other three in ten bits
each); CRC-32 of all before.
"""

import dataclasses
import json
import zlib
from typing import Any, Final

import numpy as np

from nearmark.errors import InputError
from nearmark.packing.jar import Jar, Rest
from nearmark.packing.request import PackingRequest, check_request
from nearmark.packing.shapes import grain_shape
from nearmark.packing.vessels import JarVessel, box, cup, cylinder, rounded_jar

MAGIC: Final = b"NMJAR\x01"
BYTES_A_PIECE: Final = 12
_PIECE = np.dtype([("at", "<u2", 3), ("size", "<u2"), ("turn", "<u4")])
_HALF = 511.5 * np.sqrt(2.0)
_HEADING_LIMIT = 10_000
MAX_ABOVE_RIM: Final = 4
"""Widths of a piece that the heap may be higher than the vessel."""


def jar_bytes(jar: Jar) -> bytes:
    """Write a jar.

    >>> from nearmark.packing import PackingRequest, cylinder, grain_shape, settle
    >>> jar = settle(PackingRequest(grain_shape("rice"), 20, 5.0, cylinder(5.0, 8.0)))
    >>> jar_from_bytes(jar_bytes(jar)).request == jar.request
    True
    """
    low, high = jar.centres_cm.min(axis=0), jar.centres_cm.max(axis=0)
    span = np.maximum(high - low, 1e-9)
    pieces = np.empty(len(jar.sizes), _PIECE)
    pieces["at"] = np.rint((jar.centres_cm - low) / span * 65535)
    pieces["size"] = np.rint((jar.sizes - 0.5) * 65535)
    pieces["turn"] = packed_turns(jar.turns)
    request = dataclasses.asdict(jar.request) | {"shape": jar.request.shape.code}
    heading = {
        "engine": jar.version,
        "request": request,
        "rest": dataclasses.asdict(jar.rest),
        "low_cm": low.tolist(),
        "span_cm": span.tolist(),
    }
    text = json.dumps(heading, separators=(",", ":")).encode()
    body = MAGIC + len(text).to_bytes(4, "little") + text + pieces.tobytes()
    return body + zlib.crc32(body).to_bytes(4, "little")


def packed_turns(turns: np.ndarray) -> np.ndarray:
    """Quaternions in 32 bits each, as uint32.

    >>> import numpy as np
    >>> _unpacked_turns(packed_turns(np.array([[1.0, 0.0, 0.0, 0.0]]))).round(2).tolist()
    [[1.0, 0.0, 0.0, 0.0]]

    Parameters
    ----------
    turns : unit quaternions w x y z, shape (n, 4)
    """
    rows = np.arange(len(turns))
    largest = np.abs(turns).argmax(axis=1)
    signed = turns * np.where(turns[rows, largest] < 0, -1.0, 1.0)[:, None]
    others = np.array([[1, 2, 3], [0, 2, 3], [0, 1, 3], [0, 1, 2]])[largest]
    steps = np.rint(signed[rows[:, None], others] * _HALF).astype(np.int64) + 512
    steps = np.clip(steps, 0, 1023).astype(np.uint32)
    packed: np.ndarray = (
        (largest.astype(np.uint32) << np.uint32(30))
        | (steps[:, 0] << np.uint32(20))
        | (steps[:, 1] << np.uint32(10))
        | steps[:, 2]
    )
    return packed


def _unpacked_turns(packed: np.ndarray) -> np.ndarray:
    """The inverse of ``packed_turns``, to about 1.5 thousandths of a radian.

    Unit quaternions w x y z, shape (n, 4).
    """
    bits = packed.astype(np.int64)
    largest = bits >> 30
    three = np.stack([(bits >> s & 1023) - 512 for s in (20, 10, 0)], axis=1) / _HALF
    turns = np.empty((len(bits), 4))
    others = np.array([[1, 2, 3], [0, 2, 3], [0, 1, 3], [0, 1, 2]])[largest]
    rows = np.arange(len(bits))
    turns[rows[:, None], others] = three
    turns[rows, largest] = np.sqrt(np.maximum(0.0, 1 - (three**2).sum(axis=1)))
    unit: np.ndarray = turns / np.linalg.norm(turns, axis=1)[:, None]
    return unit


def _broken(what: str, mend: str = "Get the file again from where it was made") -> InputError:
    return InputError(what, where="jar file", mend=mend)


def jar_from_bytes(content: bytes) -> Jar:
    """Read a jar and check it.

    >>> jar_from_bytes(b"hello")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    nearmark.errors.InputError: jar file: this is not a jar file. ...

    Raises
    ------
    InputError : if it is no jar file, of a later version, cut short, or changed
    """
    if content[:5] != MAGIC[:5]:
        raise _broken("this is not a jar file", "Give a file written by nearmark jar")
    if content[:6] != MAGIC:
        raise _broken("written by a later version", "Update nearmark")
    if len(content) < 14 or zlib.crc32(content[:-4]) != int.from_bytes(content[-4:], "little"):
        raise _broken("the file is cut short or was changed")
    length = int.from_bytes(content[6:10], "little")
    if length > _HEADING_LIMIT:
        raise _broken("the heading is too long")
    try:
        heading = json.loads(content[10 : 10 + length])
        return _jar(heading, content[10 + length : -4])
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError) as wrong:
        raise _broken(f"the heading does not fit ({wrong})") from wrong


def _jar(heading: dict[str, Any], body: bytes) -> Jar:
    asked = dict(heading["request"])
    asked["shape"] = grain_shape(asked["shape"])
    asked["vessel"] = _vessel(asked["vessel"])
    request = PackingRequest(**asked)
    if {type(n) for n in (request.n_grains, request.seed, request.taps)} != {int}:
        raise _broken("a whole number in the heading is none")
    check_request(request)
    if len(body) != BYTES_A_PIECE * request.n_grains:
        raise _broken("the number of pieces does not fit the length of the file")
    pieces = np.frombuffer(body, _PIECE)
    low, span = _corners(heading, request)
    rest = Rest(**heading["rest"])
    if not np.isfinite(dataclasses.astuple(rest)).all():
        raise _broken("how the pieces rest is not given in numbers")
    return Jar(
        request=request,
        version=int(heading["engine"]),
        centres_cm=low + pieces["at"] / 65535 * span,
        turns=_unpacked_turns(pieces["turn"]),
        sizes=pieces["size"] / 65535 + 0.5,
        rest=rest,
    )


def _vessel(asked: dict[str, Any]) -> JarVessel:
    """A vessel that can be: made again from its measures, it comes out the same."""
    given = JarVessel(**asked)
    made = {
        "cylinder": lambda v: cylinder(v.width_cm, v.height_cm),
        "box": lambda v: box(v.width_cm, v.depth_cm, v.height_cm),
        "cup": lambda v: cup(v.width_cm, v.top_cm, v.height_cm),
        "jar": lambda v: rounded_jar(v.width_cm, v.height_cm, v.edge_cm),
    }[given.form](given)
    if made != given:
        raise _broken(f"a {given.form} has no such measures")
    return made


def _corners(heading: dict[str, Any], request: PackingRequest) -> tuple[np.ndarray, np.ndarray]:
    """The lowest corner of the pieces' centres and the span to the highest, in the vessel."""
    low, span = np.array(heading["low_cm"], float), np.array(heading["span_cm"], float)
    if low.shape != (3,) or span.shape != (3,) or not np.isfinite([low, span]).all():
        raise _broken("the corners in the heading are not three finite numbers")
    vessel, piece_cm = request.vessel, request.width_mm / 10
    half = np.array([max(vessel.width_cm, vessel.top_cm), max(vessel.depth_cm, vessel.top_cm)]) / 2
    # Soft pieces lean into a wall a little, and the topmost may lie above the rim.
    floor = np.array([*(-half), 0.0])
    top = np.array([*half, vessel.height_cm + piece_cm * MAX_ABOVE_RIM])
    if (span < 0).any() or (low < floor - piece_cm).any() or (low + span > top + piece_cm).any():
        raise _broken("pieces lie outside the vessel")
    return low, span
