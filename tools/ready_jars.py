"""Pour the jars that come with the package, or only look at them anew.

python tools/ready_jars.py          pours all nine (half an hour)
python tools/ready_jars.py --facts  keeps the jars, writes shells and facts anew
"""

import json
import sys

import numpy as np

from nearmark.charts.jar_exhibit import jar_facts
from nearmark.charts.ready_jars import FACTS_FILE, READY_FOLDER
from nearmark.coaching.jar_choice import drawn_request
from nearmark.packing import PackingRequest, jar_bytes, jar_from_bytes, settle

PLAN = (
    ("small", "sphere", "jar", 20270500),
    ("small", "bean", "cup", 20270600),
    ("small", "nut", "box", 20270700),
    ("medium", "tube", "cylinder", 20270800),
    ("medium", "coin", "jar", 20270900),
    ("medium", "twist", "box", 20271000),
    ("medium", "oblate", "cup", 20271100),
    ("large", "rice", "jar", 20271200),
    ("large", "sphere", "cylinder", 20271300),
)
"""Band, shape, form of the vessel, first seed tried; the first draw with that form is taken."""


def request_of(band: str, shape: str, form: str, seed: int) -> PackingRequest:
    """The first draw from this seed on whose vessel has the form."""
    while True:
        request = drawn_request(band, np.random.default_rng(seed), shape=shape)
        if request.vessel.form == form:
            return request
        seed += 1


def main() -> None:
    """Pour, or only look anew."""
    facts = {}
    for band, shape, form, seed in PLAN:
        name = f"{band}-{shape}"
        file = READY_FOLDER / f"{name}.jar"
        if "--facts" not in sys.argv:
            file.write_bytes(jar_bytes(settle(request_of(band, shape, form, seed))))
        if not file.exists():
            continue
        seen = jar_facts(jar_from_bytes(file.read_bytes()))
        (READY_FOLDER / f"{name}.shell").write_bytes(seen.shell)
        facts[name] = seen.told()
        print(name, facts[name], len(seen.shell), flush=True)
    FACTS_FILE.write_text(json.dumps(facts, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
