"""How many pieces of a layer seen from above are really in it: poured jars, by shape and vessel.

python tools/layer_trims.py [JARS]   pours JARS jars of each shape and vessel (2: half an hour)

The shares go into ``src/nearmark/coaching/layer_trims.json``; ``coaching/layer_trims.py`` reads it.
"""

import json
import math
import sys

import numpy as np

from nearmark.coaching.jar_choice import FORMS, drawn_request
from nearmark.coaching.layer_trims import TRIMS_FILE
from nearmark.errors import NearmarkError
from nearmark.packing import SHAPES, PackingRequest, census, settle

MAX_PIECES = 450
"""Enough for some ten layers; a large jar of round pieces differs by a percent."""

FIRST_SEED = 20_280_000


def share_kept(request: PackingRequest) -> float:
    """Pieces of the jar over surface times layers."""
    seen = census(settle(request))
    return seen.count / seen.product


def requests(shape: str, form: str, n_jars: int) -> list[PackingRequest]:
    """The first draws with that vessel."""
    found: list[PackingRequest] = []
    seed = FIRST_SEED
    while len(found) < n_jars:
        request = drawn_request("small", np.random.default_rng(seed), shape=shape)
        if request.vessel.form == form and 250 <= request.n_grains <= MAX_PIECES:
            found.append(request)
        seed += 1
    return found


def main() -> None:
    """Pour and write."""
    n_jars = int(sys.argv[1]) if len(sys.argv) > 1 else 2
    table: dict[str, dict[str, list[float]]] = {}
    for shape in SHAPES:
        for form in FORMS:
            shares = []
            for request in requests(shape, form, n_jars):
                try:
                    shares.append(round(share_kept(request), 3))
                except NearmarkError as refusal:  # one that does not come to rest
                    print(shape, form, refusal)
            table.setdefault(shape, {})[form] = shares
            middle = math.exp(np.mean(np.log(shares))) if shares else math.nan
            print(f"{shape:8s} {form:8s} {middle:.3f} {shares}", flush=True)
            TRIMS_FILE.write_text(json.dumps(table, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
