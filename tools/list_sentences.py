"""Writes docs/reference/sentences.md: every sentence with an example, for a person to read.

Run it after a change of ``nearmark.words``; a test compares the page with what it would write.
"""

import importlib
import inspect
import sys
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

from sentence_examples import examples

PAGE = Path(__file__).parents[1] / "docs" / "reference" / "sentences.md"

HEAD = """\
# Sentences

What the product says, on pages, on paper and in the terminal, with example numbers.
`python tools/list_sentences.py` writes this page: it calls each function of `nearmark.words`.
Edit a sentence there.
A phrase without a capital or a full stop is said inside a sentence or behind its place.
"""


def page() -> str:
    """The whole page."""
    return HEAD + "".join(_sections())


def _sections() -> Iterator[str]:
    by_module = sorted(examples(), key=lambda one: one.say.__module__)
    for module, group in groupby(by_module, key=lambda one: one.say.__module__):
        title = _first_line(importlib.import_module(module))
        yield f"\n## {title.rstrip('.')}\n\n`{module}`\n\n"
        yield "| says | when | function |\n|---|---|---|\n"
        for say, rows in groupby(group, key=lambda one: one.say):
            said = "<br>".join(example.text for example in rows)
            yield f"| {said} | {_first_line(say)} | `{say.__name__}` |\n"


def _first_line(thing: object) -> str:
    return (inspect.getdoc(thing) or "").partition("\n")[0]


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    sys.stdout.write(f"{PAGE.name}: {len(examples())} sentences\n")
