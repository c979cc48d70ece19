"""Many documents as one PDF: a bookmark for each, and fit for printing on both sides."""

import json
import re
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

import typst

from nearmark.charts import svg

_PAGE_SIZE = re.compile(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]")
"""How the typesetter writes the size of each page; a test compares the pages with a PDF reader."""

_TEMPLATE = """\
#let documents = json(bytes(sys.inputs.documents))
#set document(title: sys.inputs.title, date: auto)
#set page(margin: 0pt)
#for document in documents {
  for (number, (wide, high)) in document.pages.enumerate(start: 1) {
    page(width: wide * 1pt, height: high * 1pt, {
      if number == 1 { place(hide(heading(bookmarked: true, document.title))) }
      image(document.file, page: number, width: 100%, height: 100%, alt: document.title)
    })
    // What is cut has nothing behind it, and every document begins on the front of a leaf.
    let is-last = number == document.pages.len()
    if document.is_cut or (is-last and calc.odd(document.pages.len())) {
      page(width: wide * 1pt, height: high * 1pt, [])
    }
  }
}
"""


@dataclass(frozen=True, slots=True)
class BoundPart:
    """One document of a bound set."""

    title: str
    content: bytes  # a PDF of this typesetter
    is_cut: bool = False  # whether its pages are cut into cards, so that backs stay empty


def bound(parts: Sequence[BoundPart], *, title: str, day: date) -> bytes:
    """One PDF of all parts, in their order.

    Returns: a PDF; the text stays text, but its tags (headings, tables) are in the parts alone.
    """
    with tempfile.TemporaryDirectory() as folder:
        described = []
        for number, part in enumerate(parts):
            name = f"{number}.pdf"
            (Path(folder) / name).write_bytes(part.content)
            described.append(
                {
                    "file": name,
                    "title": svg.clean(part.title),
                    "pages": page_sizes_pt(part.content),
                    "is_cut": part.is_cut,
                }
            )
        source = Path(folder) / "bound.typ"
        source.write_text(_TEMPLATE, encoding="utf-8")
        return typst.compile(
            str(source),
            root=folder,
            format="pdf",
            ignore_system_fonts=True,
            sys_inputs={"documents": json.dumps(described), "title": svg.clean(title)},
            timestamp=datetime(day.year, day.month, day.day, tzinfo=UTC),
        )


def page_sizes_pt(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of each page of a PDF of this typesetter (pt)."""
    return [(float(wide), float(high)) for wide, high in _PAGE_SIZE.findall(pdf)]
