"""The share that pieces of each shape take up in a heap, for ``nearmark.packing.stand_in``.

python tools/heap_fractions.py [SHAPE ...]   three heaps a shape, some minutes in all
"""

import math
import sys

import numpy as np

from nearmark.packing import SHAPES, PackingRequest, census, cylinder, grain_shape, settle, solid

N_PIECES, N_HEAPS = 6000, 3


def heap_fraction(code: str, seed: int, n_pieces: int = N_PIECES) -> float:
    """Share away from walls, floor and surface, in a heap as high as it is wide."""
    shape = grain_shape(code)
    across_cm = (n_pieces * solid(shape).volume / 0.5 * 4 / math.pi) ** (1 / 3)
    request = PackingRequest(shape, n_pieces, 10.0, cylinder(across_cm, 1.8 * across_cm), seed)
    found = census(settle(request)).bulk_fraction
    assert found is not None
    return found


if __name__ == "__main__":
    for each in sys.argv[1:] or SHAPES:
        seen = [heap_fraction(each, seed) for seed in range(N_HEAPS)]
        print(
            f"{each:8} {np.mean(seen):.4f} (between heaps {np.std(seen, ddof=1):.4f})", flush=True
        )
