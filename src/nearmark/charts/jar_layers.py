"""A jar taken apart layer by layer from the top, to see what each layer really holds."""

from dataclasses import dataclass

import numpy as np

from nearmark.packing import Jar


@dataclass(frozen=True, slots=True, eq=False)
class Peel:
    """The pieces of a jar in level layers."""

    order: np.ndarray  # the highest layer first (indices of pieces)
    counts: tuple[int, ...]  # from the top; adds up to the count of the jar (pieces, one a layer)


def peel(jar: Jar, layers_seen: float) -> Peel:
    """Cut a jar into as many level layers as its side shows.

    ``layers_seen`` (layers): as the census counts them along the side. Returns: layers of equal
    height between the lowest and the highest centre; half a layer of the top is thinner than the
    rest where the surface is rough.

    >>> from nearmark.packing import PackingRequest, cylinder, grain_shape, settle
    >>> jar = settle(PackingRequest(grain_shape("sphere"), 60, 10.0, cylinder(5.0, 9.0)))
    >>> sum(peel(jar, 3.0).counts)
    60
    """
    n_layers = max(1, round(layers_seen))
    z = jar.centres_cm[:, 2]
    low, high = float(z.min()), float(np.quantile(z, 0.99))
    down = (high - z) / max(high - low, 1e-9) * n_layers
    which = np.clip(np.floor(down), 0, n_layers - 1).astype(np.int64)
    counts = np.bincount(which, minlength=n_layers)
    return Peel(np.lexsort((-z, which)), tuple(int(c) for c in counts))
