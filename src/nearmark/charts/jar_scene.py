"""What a page is sent to draw a jar: the vessel, the pieces to be seen, the mesh of a piece.

Before the answer these are the places of the pieces that can be seen, for without them the jar
could not be turned.  A program that reads them instead of looking counts those pieces: of a small
jar all, of a large one the outer ones.  The rows that fill up the file hide the count from whoever
reads its length only.  Where an answer should count as evidence, a drill shows pictures.

Layout, little-endian: length of the heading (4 bytes); the heading as JSON, padded with blanks to
four bytes; the pieces as in a jar file; then for each mesh, coarse first, its points in
1/8192 width and normals in 1/127 (x, y, z, 0 each; int16, then int8) and its faces (uint16), each
padded to four bytes.
"""

import json
import zlib
from typing import Any, Final

import numpy as np

from nearmark.charts.jar_layers import Peel
from nearmark.charts.jar_mesh import LEVELS, Mesh, piece_mesh
from nearmark.packing import Jar
from nearmark.packing.jar_file import packed_turns

POINTS_A_WIDTH: Final = 8192
PAD_TO: Final = 1024
"""Pieces are filled up with nothing to a multiple of this: the length tells no count."""

TWIN_SIZES: Final = (0.94, 0.99)
"""Of a piece that fills an empty row, against the piece it hides in: small enough to be hidden in
any shape, a nut or a tube too, whose holes become that much narrower."""

MAX_NUDGE: Final = 8
"""1/65535 of the heap; some hundredths of a millimetre."""

PIECE: Final = np.dtype([("at", "<u2", 3), ("size", "<u2"), ("turn", "<u4")])

COLOURS: Final = {
    "sphere": "#7f9a4e",
    "capsule": "#a8743c",
    "rice": "#e2d6b4",
    "bean": "#8e4038",
    "oblate": "#c9793f",
    "coin": "#b99645",
    "tube": "#dfb867",
    "twist": "#e0ad58",
    "nut": "#8d979d",
}
"""The materials' own colours, no part of the look: peas, rice, beans, pasta, brass, steel."""


def shell_bytes(jar: Jar, seen: np.ndarray, fill_height_cm: float) -> bytes:
    """What may be known before the answer: the pieces that can be seen, in no order.

    ``seen`` (indices of pieces): of ``seen_pieces``.
    """
    rng = np.random.default_rng(jar.request.seed)
    rows = np.zeros(-(-len(seen) // PAD_TO) * PAD_TO, PIECE)
    places = rng.permutation(len(rows))[: len(seen)]
    corners = _corners(jar)
    rows[np.sort(places)] = _rows(jar, corners)[rng.permutation(seen)]
    return _packed(jar, rows, corners, fill_height_cm, layers=None)


def filled_shell(shell: bytes) -> bytes:
    """A shell whose rows of nothing hold pieces too, so that counting rows gives no count.

    Each empty row becomes a slightly smaller twin inside a piece that is there, which nobody sees.
    Whoever merges what lies in one place finds the seen pieces all the same.

    ``shell``: of ``shell_bytes``. Returns: the same for the same shell: two copies laid side by
    side tell no more than one.
    """
    start = 4 + int.from_bytes(shell[:4], "little")
    n = json.loads(shell[4:start])["pieces"]
    rows = np.frombuffer(shell, PIECE, n, start).copy()
    empty, there = np.flatnonzero(rows["size"] == 0), np.flatnonzero(rows["size"])
    rng = np.random.default_rng(zlib.crc32(shell))
    twins = rows[rng.choice(there, len(empty))]
    nudge = rng.integers(-MAX_NUDGE, MAX_NUDGE, twins["at"].shape, endpoint=True)
    twins["at"] = np.clip(twins["at"].astype(np.int64) + nudge, 0, 65535)
    twins["size"] = np.rint(twins["size"] * rng.uniform(*TWIN_SIZES, len(empty)))
    rows[empty] = twins
    return shell[:start] + rows.tobytes() + shell[start + rows.nbytes :]


def whole_bytes(jar: Jar, peel: Peel, fill_height_cm: float) -> bytes:
    """What is shown after the answer: every piece, the highest layer first."""
    corners = _corners(jar)
    rows = _rows(jar, corners)[peel.order]
    return _packed(jar, rows, corners, fill_height_cm, layers=list(peel.counts))


def _corners(jar: Jar) -> tuple[np.ndarray, np.ndarray]:
    low = jar.centres_cm.min(axis=0)
    return low, np.maximum(jar.centres_cm.max(axis=0) - low, 1e-9)


def _rows(jar: Jar, corners: tuple[np.ndarray, np.ndarray]) -> np.ndarray:
    low, span = corners
    rows = np.empty(len(jar.sizes), PIECE)
    rows["at"] = _whole((jar.centres_cm - low) / span * 65535)
    rows["size"] = _whole(np.clip(jar.sizes, 0.5, 1.5) * 32768)
    rows["turn"] = packed_turns(jar.turns)
    return rows


def _packed(
    jar: Jar,
    rows: np.ndarray,
    corners: tuple[np.ndarray, np.ndarray],
    fill_height_cm: float,
    *,
    layers: list[int] | None,
) -> bytes:
    vessel, code = jar.request.vessel, jar.request.shape.code
    meshes = [piece_mesh(code, level) for level in range(len(LEVELS))]
    heading: dict[str, Any] = {
        "form": vessel.form,
        "height": vessel.height_cm,
        "width": vessel.width_cm,
        "depth": vessel.depth_cm,
        "top": vessel.top_cm,
        "edge": vessel.edge_cm,
        "piece": jar.request.width_mm / 10,
        "colour": COLOURS[code],
        "fill": round(fill_height_cm, 3),
        "low": [float(x) for x in corners[0]],
        "span": [float(x) for x in corners[1]],
        "pieces": len(rows),
        "layers": layers,
        "meshes": [[len(mesh.points), len(mesh.faces)] for mesh in meshes],
    }
    text = json.dumps(heading, separators=(",", ":")).encode()
    text += b" " * (-len(text) % 4)
    body = b"".join(_mesh_bytes(mesh) for mesh in meshes)
    return len(text).to_bytes(4, "little") + text + rows.tobytes() + body


def _mesh_bytes(mesh: Mesh) -> bytes:
    n = len(mesh.points)
    points = np.zeros((n, 4), "<i2")
    points[:, :3] = _whole(mesh.points * POINTS_A_WIDTH)
    normals = np.zeros((n, 4), "<i1")
    normals[:, :3] = _whole(mesh.normals * 127)
    faces = mesh.faces.astype("<u2").tobytes()
    return points.tobytes() + normals.tobytes() + faces + b"\0" * (-len(faces) % 4)


def _whole(values: np.ndarray) -> np.ndarray:
    """Round to whole steps, alike on machines whose sines differ in the last bit.

    A half is exact in the geometry of a mesh (a cosine of 60 degrees), and one bit would decide it.
    """
    steps: np.ndarray = np.rint(values.round(7))
    return steps
