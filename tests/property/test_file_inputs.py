"""Every file that a command reads, changed in every way: no traceback, nothing half-written."""

import os

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nearmark.cli import jars

N_DRAWN = int(os.environ.get("NEARMARK_DRAWN_INPUTS", "30"))

EVENT = (
    "key event",
    "score event --draws 100 --export new",
    "check event",
    "verify event",
    "heats event --places 4 --anew --write",
    "pairs-import list.csv event --write",
)
SEASON = ("pupil season.csv", "pairs season.csv", "bags chickpea --log season.csv")
READ_BY = {
    "event": EVENT,
    "released": ("verify released",),
    "season.csv": SEASON,
    "hand.csv": ("measure-plan 30 --references hand.csv",),
    "list.csv": ("pairs-import list.csv event --write",),
    "list.xlsx": ("pairs-import list.xlsx event --write",),
    "proof.txt": ("verify --pair-proof proof.txt",),
    "library": ("jars make --count 1 --out library",),
    "small-bean.jar": ("cards small-bean.jar --to new",),
    "site": ("backup new.backup --data site", "doctor --data site"),
    "old.backup": ("restore old.backup --data site --yes", "restore old.backup --data new --yes"),
}
"""What is changed -> the commands that read it."""


@pytest.mark.slow
@settings(
    max_examples=N_DRAWN,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(st.data())
def test_no_file_breaks_a_command_that_reads_it(monkeypatch, command_line, changed, odd, data):
    monkeypatch.setattr(jars, "_make", lambda *_, **__: 0)
    box = command_line.fresh()
    kind = data.draw(st.sampled_from([*["event"] * 8, *["season.csv"] * 3, "old.backup", *READ_BY]))
    source = box / kind
    files = sorted(p for p in source.rglob("*") if p.is_file()) if source.is_dir() else [source]
    for file in data.draw(st.lists(st.sampled_from(files), min_size=1, max_size=2, unique=True)):
        file.write_bytes(changed(data.draw, file.suffix, file.read_bytes(), odd))
        event = data.draw(st.sampled_from(["", "", "", "", "", "", "gone", "folder", "link"]))
        if event:
            file.rename(box / "aside")
        if event == "folder":
            file.mkdir()
        elif event == "link":
            file.symlink_to(box / "aside")
    words = data.draw(st.sampled_from(READ_BY[kind])).split()
    if data.draw(st.booleans()):
        words.append("--json")

    assert command_line.faults(words) == [], words
