"""The commands and the Python that README and docs show are run, in a folder with the demo event.

A block that cannot be run here says why, in a comment of the line above it:
``<!-- not run: it serves until somebody stops it -->``.
"""

import re
import shlex
from pathlib import Path
from typing import NamedTuple

import pytest

from nearmark.demo import larkspur_valley
from nearmark.event_folder import write_event

ROOT = Path(__file__).parents[2]
PAGES = [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *sorted(ROOT.glob("docs/**/*.md"))]
FENCE = re.compile(
    r"(?:^<!-- not run: (?P<why>[^>]+) -->\n)?^```(?P<kind>\w*)\n(?P<text>.*?)^```$",
    re.MULTILINE | re.DOTALL,
)


class Block(NamedTuple):
    """A block of code of a page."""

    place: str
    kind: str
    text: str
    why_not: str | None

    @property
    def commands(self) -> list[list[str]]:
        """The words of each line; a line that ends in a backslash goes on."""
        lines = self.text.replace("\\\n", " ").splitlines()
        return [words for line in lines if (words := shlex.split(line, comments=True))]


def blocks(*kinds: str) -> list[Block]:
    found = []
    for page in PAGES:
        text = page.read_text(encoding="utf-8")
        for match in FENCE.finditer(text):
            line = text.count("\n", 0, match.start("kind")) + 1
            place = f"{page.relative_to(ROOT)}:{line}"
            found.append(Block(place, match["kind"], match["text"], match["why"]))
    return [block for block in found if block.kind in kinds]


def of_nearmark(command: list[str]) -> list[str] | None:
    """The words for the command line of Nearmark, if the command calls it."""
    for start in (["nearmark"], ["./dev", "nearmark"]):
        if command[: len(start)] == start:
            return command[len(start) :]
    return None


def is_due(block: Block) -> bool:
    return block.why_not is None


SHELL = [b for b in filter(is_due, blocks("sh")) if any(map(of_nearmark, b.commands))]
PYTHON = [*filter(is_due, blocks("python"))]


@pytest.fixture
def desk(tmp_path, monkeypatch):
    """A folder to work in, with the demo event in it."""
    write_event(larkspur_valley(), tmp_path / "larkspur-valley")
    monkeypatch.chdir(tmp_path)


def test_there_are_commands_and_python_to_run():
    assert len(SHELL) >= 2
    assert len(PYTHON) >= 1


@pytest.mark.slow
@pytest.mark.parametrize("block", SHELL, ids=lambda block: block.place)
@pytest.mark.usefixtures("desk")
def test_every_command_shown_runs(block, run):
    for command in block.commands:
        words = of_nearmark(command)
        assert words, f"not a command of Nearmark: {command}"
        status, _, err = run(*words)
        assert status == 0, f"{shlex.join(command)}: {err}"


@pytest.mark.parametrize("block", PYTHON, ids=lambda block: block.place)
@pytest.mark.usefixtures("desk")
def test_all_python_shown_runs(block):
    exec(compile(block.text, block.place, "exec"), {"__name__": "docs"})


def test_a_block_without_a_kind_is_no_command():
    # It would be neither coloured by a reader of the page nor run here.
    plain = [b.place for b in blocks("") if any(map(of_nearmark, b.commands))]

    assert plain == []


def test_every_file_named_in_a_command_is_there():
    # Of the commands that are not run here, such as those of tools and benchmarks.
    missing = [
        f"{block.place}: {word}"
        for block in blocks("sh")
        for command in block.commands
        if not of_nearmark(command)
        for word in command
        if word.startswith(("./", "benchmarks/", "docs/", "src/", "tests/", "tools/"))
        if not (ROOT / word).exists()
    ]

    assert missing == []
