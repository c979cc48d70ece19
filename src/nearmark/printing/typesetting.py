"""From plain data and a template to the bytes of a PDF; nothing is fetched and no code comes in.

The data travel as one JSON text in ``sys.inputs`` and are shown as text, never read as markup: no
name can inject anything.  No template imports a package, so the compiler never asks the network.
"""

import json
import re
from collections.abc import Iterator
from dataclasses import asdict
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import typst

from nearmark.charts import svg, tokens
from nearmark.errors import InputError
from nearmark.printing.fonts_in_use import fonts, unprintable
from nearmark.words.feedback_page import page_of_pages
from nearmark.words.missing_signs import signs_missing
from nearmark.words.translation import language_in_force

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

HERE = Path(__file__).parent
PAPERS = ("a4", "us-letter")


def typeset(
    template: str, view: "DataclassInstance", *, day: date, paper: str, large: bool = False
) -> bytes:
    """Set one document.

    ``template``: name of a template, without ending. ``view`` (dataclass): what the template shows:
    text, numbers, truth values, sequences and records of them. ``day``: date of the document; the
    clock of the machine is not asked. ``paper``: ``a4`` or ``us-letter``. ``large``: large print.
    Returns: a PDF; the same view gives the same bytes. Raises InputError if the paper is not known.
    """
    if paper not in PAPERS:
        raise InputError(
            "is not a paper size known here",
            where="paper",
            value=paper,
            mend=f"Choose {' or '.join(PAPERS)}",
        )
    page = {
        "view": _printable(_cleaned(asdict(view))),
        "tokens": _sized(large=large),
        "paper": paper,
        "language": language_in_force().code,
        "page_of": page_of_pages(),
    }
    compiler = typst.Compiler(
        root=str(HERE / "templates"), font_paths=fonts(), ignore_system_fonts=True
    )
    pages = compiler.compile(
        input=str(HERE / "templates" / f"{template}.typ"),
        format="pdf",
        sys_inputs={"page": json.dumps(page, allow_nan=False)},
        timestamp=datetime(day.year, day.month, day.day, tzinfo=UTC),
    )
    return cast("bytes", pages)  # the format asked for gives one document


def _sized(*, large: bool) -> dict[str, object]:
    sizes = {"sizes_pt": dict(tokens.LARGE_SIZES_PT)} if large else {}
    return tokens.as_mapping() | sizes


def _cleaned(value: Any) -> Any:  # noqa: ANN401 - any JSON value
    """The same data with every text free of what no page can hold."""
    if isinstance(value, str):
        return svg.clean(value)
    if isinstance(value, dict):
        return {key: _cleaned(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_cleaned(inner) for inner in value]
    return value


def _printable(value: Any) -> Any:  # noqa: ANN401 - any JSON value
    """The same data, each word that no font has the signs for replaced by words that say so."""
    words = (w for text in _texts(value) if not text.isascii() for w in text.split())
    bad = unprintable(words)
    if not bad:
        return value
    longest_first = sorted(bad, key=len, reverse=True)
    whole = re.compile(rf"(?<!\S)(?:{'|'.join(map(re.escape, longest_first))})(?!\S)")
    return _replaced(value, whole, signs_missing())


def _texts(value: Any) -> Iterator[str]:  # noqa: ANN401 - any JSON value
    if isinstance(value, str):
        if not value.startswith("<svg"):  # a picture: its words are set by another program
            yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _texts(inner)


def _replaced(value: Any, whole: re.Pattern[str], words: str) -> Any:  # noqa: ANN401 - the same
    if isinstance(value, str):
        return whole.sub(words, value)
    if isinstance(value, dict):
        return {key: _replaced(inner, whole, words) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_replaced(inner, whole, words) for inner in value]
    return value
