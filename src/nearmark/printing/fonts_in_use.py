"""The fonts of a page, and which signs they have: never an empty box in silence.

Our own fonts come first, behind them those inside the compiler, then a folder that somebody named.
Whether a word prints is asked of the typesetter itself: under a standard for archives it refuses a
page on which a sign is in no font (PDF/A-2b: ISO 19005-2, from memory).
"""

import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, lru_cache
from pathlib import Path
from typing import Final

import typst

from nearmark.charts import svg, tokens
from nearmark.errors import InputError

OWN_FONTS: Final = Path(__file__).parent / "fonts"

FONTS_FOLDER: Final = "fonts"
"""Where a site looks for more fonts, in the folder of its data."""

ENDINGS: Final = {".ttf", ".otf", ".ttc", ".otc"}

_FOLDER: ContextVar[str] = ContextVar("fonts")
_USUAL: Final = {"folder": ""}
"""Where no block says otherwise; a program that runs for long sets it once, for all threads."""

_PROBE: Final = b"""\
#set text(font: sys.inputs.font)
#for word in json(bytes(sys.inputs.words)) [#word #parbreak()]
"""


@contextmanager
def fonts_from(folder: Path | None) -> Iterator[None]:
    """Use the fonts of a folder too, inside the block; ``None``: only those that ship.

    Raises InputError if there is no font in it.
    """
    if folder is None:
        yield
        return
    if not has_fonts(folder):
        raise InputError(
            "holds no font",
            where="fonts",
            value=str(folder),
            mend=f"Name a folder with font files ({', '.join(sorted(ENDINGS))})",
        )
    before = _FOLDER.set(str(folder.resolve()))
    try:
        yield
    finally:
        _FOLDER.reset(before)


def has_fonts(folder: Path) -> bool:
    """Whether a folder is there and holds a font file."""
    return folder.is_dir() and any(f.suffix.lower() in ENDINGS for f in folder.iterdir())


def use_fonts_of(folder: Path) -> None:
    """Use the fonts of a folder from now on, in every thread; one without fonts changes nothing."""
    if has_fonts(folder):
        _USUAL["folder"] = str(folder.resolve())


def _folder() -> str:
    return _FOLDER.get(_USUAL["folder"])


def fonts() -> typst.Fonts:
    """The fonts in use.

    Never a font of the machine that nobody named: the same data must give the same page everywhere.
    """
    return _loaded(_folder())


@cache
def _loaded(folder: str) -> typst.Fonts:
    paths = [str(OWN_FONTS), *([folder] if folder else [])]
    return typst.Fonts(include_system_fonts=False, font_paths=paths)


def unprintable(words: Iterable[str]) -> dict[str, str]:
    """The words that do not print whole, each with its signs that no font has.

    A word of ASCII signs always prints.
    """
    folder = _folder()
    asked = sorted({word for word in words if word and not word.isascii()})
    if not asked or _all_print(tuple(asked), folder):
        return {}
    return {
        word: "".join(sign for sign in dict.fromkeys(word) if not _all_print((sign,), folder))
        or word
        for word in asked
        if not _all_print((word,), folder)
    }


@lru_cache(maxsize=4096)
def _all_print(words: tuple[str, ...], folder: str) -> bool:
    try:
        typst.compile(
            _PROBE,
            format="pdf",
            font_paths=_loaded(folder),
            ignore_system_fonts=True,
            sys_inputs={"font": tokens.FONT, "words": json.dumps([svg.clean(w) for w in words])},
            pdf_standards=["a-2b"],
        )
    except typst.TypstError:
        return False
    return True
