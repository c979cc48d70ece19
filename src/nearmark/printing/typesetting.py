"""From plain data and a template to the bytes of a PDF; nothing is fetched and no code comes in.

The data travel as one JSON text in ``sys.inputs`` and are shown as text, never read as markup: no
name can inject anything.  No template imports a package, so the compiler never asks the network.
"""

import json
from dataclasses import asdict
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import typst

from nearmark.charts import svg, tokens
from nearmark.errors import InputError
from nearmark.words.feedback_page import page_of_pages
from nearmark.words.translation import language_in_force

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

HERE = Path(__file__).parent
PAPERS = ("a4", "us-letter")


@cache
def _fonts() -> typst.Fonts:
    """Our font, and behind it only those inside the compiler, for names in other scripts.

    Never a font of the machine: the same data must give the same page everywhere.
    """
    return typst.Fonts(include_system_fonts=False, font_paths=[str(HERE / "fonts")])


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
        "view": _cleaned(asdict(view)),
        "tokens": _sized(large=large),
        "paper": paper,
        "language": language_in_force().code,
        "page_of": page_of_pages(),
    }
    compiler = typst.Compiler(
        root=str(HERE / "templates"), font_paths=_fonts(), ignore_system_fonts=True
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
