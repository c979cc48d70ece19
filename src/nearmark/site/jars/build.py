"""Pouring and drawing jars in a process of its own, so that the server answers meanwhile.

``python -m nearmark.site.jars.build FOLDER`` reads ``ask.json`` (what to pour) or ``jar`` in the
folder, tells its progress as a share per line, and writes the files beside it.
"""

import contextlib
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np

from nearmark.errors import InputError, MeasurementError, NearmarkError
from nearmark.kit import Vessel, material, trial_pour
from nearmark.words.kit_plans import trial_words

NICENESS: Final = 10
"""Entries come first."""

MAX_S: Final = 1800
_REFUSALS: Final = {"InputError": InputError, "MeasurementError": MeasurementError}


@dataclass(frozen=True, slots=True)
class Exhibit:
    """A jar made ready for the page."""

    # Jar file; what is sent before the answer.
    jar: bytes
    shell: bytes
    told: dict[str, Any]  # ``count, layer, layers, fill_height_cm, what``


def pour(band: str, shape: str | None, seed: int, *, step: Callable[[int, int], None]) -> Exhibit:
    """Pour a drawn jar.

    ``band``: small, medium or large. ``shape`` (code or None): ``None``: drawn. ``step`` (callable
    (done, all)): told every step; what it raises stops the work.
    """
    with _asked({"band": band, "shape": shape, "seed": seed}) as folder:
        _run(folder, "exhibit", step)
        return _exhibit(folder)


@dataclass(frozen=True, slots=True)
class Trial:
    """A planned container as it was poured on the computer."""

    words: str
    # Of ``nearmark.kit.Walls`` (relative).
    share: float
    share_u: float
    pictures: bytes  # PNG, from above and from the side


def try_out(
    pieces: int,
    material: str,
    vessel: Vessel,
    *,
    piece_mass_g: float | None,
    step: Callable[[int, int], None],
) -> Trial:
    """Pour a planned container on the computer.

    ``material``: code in the catalogue. ``piece_mass_g``: of the event's own lot. ``step``
    (callable (done, all)): told every step; what it raises stops the work.
    """
    ask = {"pieces": pieces, "material": material, "piece_mass_g": piece_mass_g}
    with _asked(ask | {"vessel": asdict(vessel)}) as folder:
        _run(folder, "trial", step)
        return Trial(**_result(folder), pictures=(folder / "pictures").read_bytes())


def exhibit(content: bytes) -> Exhibit:
    """Make a jar file ready."""
    with tempfile.TemporaryDirectory(prefix="nearmark-jar-") as name:
        folder = Path(name)
        (folder / "jar").write_bytes(content)
        _run(folder, "exhibit", _untold)
        return _exhibit(folder)


def pictures(content: bytes) -> tuple[bytes, bytes]:
    """The still pictures of a jar file, from above and from the side, as PNG."""
    with tempfile.TemporaryDirectory(prefix="nearmark-jar-") as name:
        folder = Path(name)
        (folder / "jar").write_bytes(content)
        _run(folder, "pictures", _untold)
        return (folder / "top").read_bytes(), (folder / "side").read_bytes()


def _untold(n_done: int, n_all: int) -> None:
    """Nobody waits for the progress."""


@contextlib.contextmanager
def _asked(ask: dict[str, Any]) -> Iterator[Path]:
    """A folder for one piece of work, with what is asked for."""
    with tempfile.TemporaryDirectory(prefix="nearmark-jar-") as name:
        folder = Path(name)
        (folder / "ask.json").write_text(json.dumps(ask), encoding="utf-8")
        yield folder


def _result(folder: Path) -> dict[str, Any]:
    told: dict[str, Any] = json.loads((folder / "told.json").read_text(encoding="utf-8"))
    return told


def _exhibit(folder: Path) -> Exhibit:
    return Exhibit((folder / "jar").read_bytes(), (folder / "shell").read_bytes(), _result(folder))


def _run(folder: Path, task: str, step: Callable[[int, int], None]) -> None:
    command = [sys.executable, "-m", "nearmark.site.jars.build", task, str(folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:  # noqa: S603 - our own module
        try:
            for line in process.stdout or ():
                step(round(100 * float(line)), 100)
        except BaseException:
            process.kill()
            raise
        status = process.wait(MAX_S)
    refusal = folder / "refusal.json"
    if refusal.exists():
        told = json.loads(refusal.read_text(encoding="utf-8"))
        kind = _REFUSALS.get(told.pop("kind"), NearmarkError)
        raise kind(told.pop("what"), **told)
    if status != 0:
        raise MeasurementError(
            "the jar could not be made ready",
            where="jar",
            mend="Try again; the terminal where Nearmark runs says more",
        )


def main(task: str, folder: Path) -> None:
    """Do the work in this process. ``task``: exhibit, pictures or trial."""
    with contextlib.suppress(AttributeError, OSError):  # not on every system
        os.nice(NICENESS)
    try:
        _WORK[task](folder)
    except NearmarkError as refused:
        told = {
            "kind": type(refused).__name__,
            "what": refused.what,
            "where": refused.where,
            "value": None if refused.value is None else str(refused.value),
            "mend": refused.mend,
        }
        (folder / "refusal.json").write_text(json.dumps(told), encoding="utf-8")


def _make_exhibit(folder: Path) -> None:
    from nearmark.charts.jar_exhibit import jar_facts  # noqa: PLC0415 - only in this process
    from nearmark.coaching.jar_choice import drawn_request  # noqa: PLC0415
    from nearmark.packing import jar_bytes, jar_from_bytes, settle  # noqa: PLC0415

    if (folder / "ask.json").exists():
        ask = json.loads((folder / "ask.json").read_text(encoding="utf-8"))
        request = drawn_request(ask["band"], np.random.default_rng(ask["seed"]), shape=ask["shape"])
        poured = settle(request, progress=lambda done: print(0.95 * done, flush=True))
        (folder / "jar").write_bytes(jar_bytes(poured))
    # As it is read back: what is shown is what is kept.
    facts = jar_facts(jar_from_bytes((folder / "jar").read_bytes()))
    (folder / "shell").write_bytes(facts.shell)
    (folder / "told.json").write_text(json.dumps(facts.told()), encoding="utf-8")
    print(1.0, flush=True)


def _make_pictures(folder: Path) -> None:
    from nearmark.charts.jar_exhibit import jar_pictures  # noqa: PLC0415 - only in this process
    from nearmark.packing import jar_from_bytes  # noqa: PLC0415

    jar = jar_from_bytes((folder / "jar").read_bytes())
    top, side = jar_pictures(jar)
    (folder / "top").write_bytes(top)
    (folder / "side").write_bytes(side)


def _make_trial(folder: Path) -> None:
    from nearmark.charts.jar_picture import both_png  # noqa: PLC0415 - only in this process

    ask = json.loads((folder / "ask.json").read_text(encoding="utf-8"))
    chosen = material(ask["material"]).with_own(piece_mass_g=ask["piece_mass_g"])
    vessel = Vessel(**ask["vessel"] | {"sizes_cm": tuple(ask["vessel"]["sizes_cm"])})
    seen = trial_pour(
        ask["pieces"], chosen, vessel, progress=lambda done: print(0.95 * done, flush=True)
    )
    told = {"words": trial_words(seen), "share": seen.walls.share, "share_u": seen.walls.relative_u}
    (folder / "pictures").write_bytes(both_png(seen.jars[0]))
    (folder / "told.json").write_text(json.dumps(told), encoding="utf-8")
    print(1.0, flush=True)


_WORK: Final = {"exhibit": _make_exhibit, "pictures": _make_pictures, "trial": _make_trial}

if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
