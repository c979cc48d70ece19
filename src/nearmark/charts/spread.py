"""Labels pushed apart along a line just far enough not to touch."""

from collections.abc import Sequence


def spread(
    centres: Sequence[float], sizes: Sequence[float], low: float, high: float
) -> tuple[float, ...]:
    """New centres, in the same order, that keep labels from touching and inside the line.

    ``centres`` (px, ascending): where the labels would like to be. ``sizes`` (px): extent of each
    label, gap included. ``low``, ``high`` (px): ends of the line; when the labels together are
    longer, they keep ``low`` and pass ``high``. Returns: in px.

    >>> spread([10, 12, 80], [10, 10, 10], 0, 100)
    (10, 20.0, 80)
    >>> spread([95, 98], [10, 10], 0, 100)
    (85.0, 95.0)
    """
    placed: list[float] = []
    edge = low
    for centre, size in zip(centres, sizes, strict=True):
        placed.append(max(centre, edge + size / 2))
        edge = placed[-1] + size / 2
    edge = high
    for i in reversed(range(len(placed))):
        placed[i] = min(placed[i], edge - sizes[i] / 2)
        edge = placed[i] - sizes[i] / 2
    too_long = low - (placed[0] - sizes[0] / 2) if placed else 0.0
    return tuple(p + too_long for p in placed) if too_long > 0 else tuple(placed)
