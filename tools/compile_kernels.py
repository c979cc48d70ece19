"""Compile the kernels of the packing engine and of the pictures into their cache.

``./dev test`` runs this beside the static checks: two workers would otherwise compile the same
kernels at the same time.
"""

import numpy as np

from nearmark.charts.jar_exhibit import jar_facts
from nearmark.charts.jar_picture import both_png
from nearmark.coaching.jar_choice import drawn_request
from nearmark.packing import settle

SHAPES = ("sphere", "bean", "nut")
"""Of one part, of several in a row, and of several in a ring."""


def main() -> None:
    """Pour one small jar of each kind and look at it."""
    for shape in SHAPES:
        jar = settle(drawn_request("small", np.random.default_rng(1), shape=shape))
        jar_facts(jar)
    both_png(jar)


if __name__ == "__main__":
    main()
