"""Shared fixtures: one small but complete invented event, and its folder."""

import gc
import shutil
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import settings

from nearmark.contest.event import (
    Adjudication,
    AnswerReading,
    AnswerStatus,
    BoxReading,
    ContainerWeighing,
    CountedSample,
    Cup,
    Event,
    HandCount,
    Item,
    KeyDecision,
    Material,
    Pair,
    PairStatus,
    Side,
)
from nearmark.event_folder import write_event
from nearmark.measurement.instruments import Instrument
from nearmark.station import Station

# The same cases on every run, so that a red test always means this change; the random search is a
# command of its own, see CONTRIBUTING.md.  No deadline: how long a case takes is no law.
settings.register_profile("ci", derandomize=True, database=None, deadline=None)
settings.register_profile("search", max_examples=1000, deadline=None)
settings.load_profile("ci")

MARKED_FOLDERS = {"browser", "fault"}

# To collect thousands of tests makes millions of objects that stay to the end.  Nobody looks for
# garbage among them meanwhile, nor later: that was a quarter of the time of collecting.
gc.disable()

SCALE = "bench scale"
RULER = "steel ruler"
SIDES_CM = {Side.LENGTH: "12.4", Side.WIDTH: "8.0", Side.HEIGHT: "6.5"}


def pytest_itemcollected(item: pytest.Item) -> None:
    """Mark what drives a browser or injects a failure, which is what lies in those folders.

    Here and not when all are collected: what ``-m`` leaves out is left out before that.
    """
    folder = item.path.relative_to(Path(__file__).parent).parts[0]
    if folder in MARKED_FOLDERS:
        item.add_marker(folder)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The slow tests come first, so that no process is left with a long one at the end."""
    items.sort(key=_turn)


def _turn(item: pytest.Item) -> int:
    """Which tests come first; among the same, the order stays."""
    slow = ("browser", "fault", "slow")
    return next((n for n, mark in enumerate(slow) if item.get_closest_marker(mark)), len(slow))


def pytest_collection_finish() -> None:
    """Look for garbage from now on, but not among the tests themselves."""
    gc.freeze()
    gc.enable()


def _answers() -> tuple[AnswerReading, ...]:
    """Two blind readings of three pairs' answers; P2 left B1 blank, and its C1 was misread once."""
    written = {
        ("P1", "M1"): ("106.3", "1"),
        ("P1", "C1"): ("440", ""),
        ("P1", "B1"): ("650", ""),
        ("P2", "M1"): ("120.9", "2"),
        ("P2", "C1"): ("371", ""),
        ("P2", "B1"): (None, ""),
        ("P3", "M1"): ("98.0", "3"),
        ("P3", "C1"): ("500", ""),
        ("P3", "B1"): ("600", ""),
    }
    readings = []
    for (pair, item), (number, cup) in written.items():
        status = AnswerStatus.BLANK if number is None else AnswerStatus.ANSWERED
        for reading, clerk in ((1, "clerk Ash"), (2, "clerk Birch")):
            misread = (pair, item, reading) == ("P2", "C1", 2)
            value = None if number is None else Decimal("317" if misread else number)
            readings.append(AnswerReading(pair, item, reading, clerk, status, value, cup))
    return tuple(readings)


@pytest.fixture(scope="session")
def small_event() -> Event:
    """Three pairs, one item per station, every kind of record at least once."""
    return Event(
        name="Larkspur Valley Estimation Day",
        day=date(2027, 5, 8),
        venue="Larkspur Valley hall (invented)",
        seed=20270508,
        instruments=(
            Instrument(SCALE, "g", 0.1, gain_u=0.0002, capacity=6000.0),
            Instrument(RULER, "cm", 0.1),
        ),
        materials=(
            Material("chickpea", "Chickpeas", Decimal("0.18"), Decimal("0.001"), ("never taste",)),
            Material("split-pea", "Split peas"),
        ),
        items=(
            Item("M1", Station.MASS, "100 g of split peas", "split-pea"),
            Item("C1", Station.COUNT, "jar of chickpeas", "chickpea", Decimal("1.5")),
            Item("B1", Station.VOLUME, "tea box"),
        ),
        samples=tuple(
            CountedSample("C1", 150, Decimal(mass), SCALE) for mass in ("64.0", "61.9", "63.2")
        ),
        containers=(ContainerWeighing("C1", Decimal("273.2"), Decimal("96.4"), SCALE),),
        hand_counts=(HandCount("C1", 421, "Rowan"),),
        box_readings=tuple(
            BoxReading("B1", side, Decimal(reading), RULER)
            for side, reading in SIDES_CM.items()
            for _ in range(2)
        ),
        cups=tuple(
            Cup(number, Decimal(tare), SCALE, "thin")
            for number, tare in (("1", "8.6"), ("2", "8.5"), ("3", "8.7"))
        ),
        pairs=(
            Pair("P1", "Fernhollow", ("Ada", "Bo"), heat="heat 1"),
            Pair("P2", "Quillbank", ("Cleo", "Dov")),
            Pair("P3", "Quillbank", ("Esi",), PairStatus.GUEST),
        ),
        answers=_answers(),
        adjudications=(
            Adjudication(
                "P2",
                "C1",
                "clerk Cedar",
                AnswerStatus.ANSWERED,
                Decimal(371),
                "",
                "the seven is crossed on the sheet",
            ),
        ),
        key_decisions=(KeyDecision("C1", None, "lead Juniper", "no fourth sample in time"),),
    )


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory, small_event: Event) -> Path:
    """The small event's folder, written once: to copy, not to change."""
    path = tmp_path_factory.mktemp("written") / "event"
    write_event(small_event, path)
    return path


@pytest.fixture
def folder(tmp_path: Path, written: Path) -> Path:
    """The small event's folder, to change at will."""
    return Path(shutil.copytree(written, tmp_path / "event"))


@pytest.fixture
def edit(folder: Path) -> Callable[[str, str, str], None]:
    """Change one piece of text of one file of the folder, as a person would in an editor."""

    def change(file: str, old: str, new: str) -> None:
        text = (folder / file).read_text(encoding="utf-8")
        assert old in text, f"{old!r} is not in {file}"
        (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8", newline="")

    return change
