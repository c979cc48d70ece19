"""A jar made ready to be shown: its facts, what may be sent before the answer, its pictures."""

from dataclasses import dataclass

import numpy as np

from nearmark.charts.jar_picture import side_png, top_png
from nearmark.charts.jar_scene import shell_bytes
from nearmark.charts.jar_shell import seen_pieces
from nearmark.packing import Jar, census

_NAMES = {
    "sphere": "round pieces",
    "capsule": "short rounded pieces",
    "rice": "long grains",
    "bean": "beans",
    "oblate": "lentil-shaped pieces",
    "coin": "flat round pieces",
    "tube": "short tubes",
    "twist": "twists",
    "nut": "hex nuts",
}
_VESSELS = {
    "cylinder": "a straight glass",
    "box": "a square-cornered tub",
    "cup": "a cup that widens",
    "jar": "a jar",
}


@dataclass(frozen=True, slots=True, eq=False)
class JarFacts:
    """What the server keeps of a jar beside the jar itself."""

    seen: np.ndarray  # of ``seen_pieces`` (indices of pieces)
    shell: bytes  # of ``shell_bytes``
    count: int  # pieces
    layer: int  # seen from above (pieces)
    layers: float  # seen along the side (layers)
    fill_height_cm: float
    what: str  # in words; says nothing of the count

    def told(self) -> dict[str, object]:
        """All but the shell, as plain values."""
        return {
            "count": self.count,
            "layer": self.layer,
            "layers": round(self.layers, 2),
            "fill_height_cm": round(self.fill_height_cm, 3),
            "what": self.what,
        }


def jar_facts(jar: Jar) -> JarFacts:
    """Look at a jar once, for everything that is asked of it later."""
    found, seen = census(jar), seen_pieces(jar)
    return JarFacts(
        seen=seen,
        shell=shell_bytes(jar, seen, found.fill_height_cm),
        count=found.count,
        layer=found.surface_pieces,
        layers=found.layers,
        fill_height_cm=found.fill_height_cm,
        what=jar_name(jar),
    )


def jar_name(jar: Jar) -> str:
    """What is in which vessel, in words that say nothing of the count."""
    return f"{_NAMES[jar.request.shape.code]} in {_VESSELS[jar.request.vessel.form]}"


def jar_pictures(jar: Jar) -> tuple[bytes, bytes]:
    """The still pictures of a jar.

    Returns: from above and from the side, PNG.
    """
    return top_png(jar), side_png(jar)
