"""Jars that come with the package, poured by the engine, ready to be put on the shelf.

``python tools/ready_jars.py`` pours them; their counts stand in the package, so they are for
practice only.
"""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

READY_FOLDER: Final = Path(__file__).parent / "ready_jars"
FACTS_FILE: Final = READY_FOLDER / "facts.json"


@dataclass(frozen=True, slots=True)
class ReadyJar:
    """One of them."""

    name: str
    jar: bytes
    shell: bytes
    told: dict[str, Any]  # as ``JarFacts.told``


def ready_jars() -> tuple[ReadyJar, ...]:
    """The jars of the package, small ones first."""
    facts = json.loads(FACTS_FILE.read_text(encoding="utf-8"))
    return tuple(
        ReadyJar(
            name,
            (READY_FOLDER / f"{name}.jar").read_bytes(),
            (READY_FOLDER / f"{name}.shell").read_bytes(),
            told,
        )
        for name, told in facts.items()
    )
