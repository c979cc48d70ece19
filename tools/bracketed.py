"""A language that is none: every message in brackets, so that what was not translated is seen."""

import re
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser
from pathlib import Path

from babel import Locale
from babel.messages.catalog import Catalog
from babel.messages.pofile import write_po

CODE = "mi"
"""A language of the locale data that neither Nearmark nor Django is translated to."""

OPEN, CLOSE = (
    "\N{MATHEMATICAL LEFT WHITE SQUARE BRACKET}",
    "\N{MATHEMATICAL RIGHT WHITE SQUARE BRACKET}",
)

TOLD = {"alt", "aria-label", "aria-roledescription", "placeholder", "title", "data-label"}
"""Attributes that a person reads or hears."""

SILENT = {"script", "style", "template"}
VOID = {"input", "br", "meta", "link", "img", "hr", "path", "rect", "line", "circle"}


def bracketed(text: str) -> str:
    """A message in brackets."""
    return f"{OPEN}{text}{CLOSE}"


def write_catalogue(template: Catalog, folder: Path) -> None:
    """The catalogue in which every message is itself, in brackets."""
    catalogue = Catalog(locale=CODE)
    catalogue.update(template)
    for message in catalogue:
        if message.id:
            one, *many = (message.id,) if isinstance(message.id, str) else message.id
            forms = tuple(bracketed(form) for form in (one, *many))
            message.string = forms[0] if isinstance(message.id, str) else forms
    catalogue.fuzzy = False
    with (folder / f"{CODE}.po").open("wb") as out:
        write_po(out, catalogue)


class _Told(HTMLParser):
    """Collects what a page tells: its text in one run, and each attribute that is read aloud."""

    def __init__(self) -> None:
        super().__init__()
        self.text: list[str] = []
        self.attributes: list[str] = []
        self._silent = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._silent += tag in SILENT
        self.attributes += [value for name, value in attrs if name in TOLD and value]
        if tag == "input" and ("type", "submit") in attrs:
            self.attributes += [value for name, value in attrs if name == "value" and value]

    def handle_endtag(self, tag: str) -> None:
        self._silent -= tag in SILENT

    def handle_data(self, data: str) -> None:
        if not self._silent:
            self.text.append(data)


def _outside(text: str) -> str:
    """What stands outside every bracket."""
    depth, kept = 0, []
    for sign in text:
        depth += sign == OPEN
        kept.append(" " if depth else sign)
        depth -= sign == CLOSE
    return "".join(kept)


def untranslated(page: str, data: Iterable[str]) -> list[str]:
    """Words of a page that are neither in brackets nor data.

    ``data``: texts that somebody typed in, such as names; they are looked for as a whole.
    """
    told = _Told()
    told.feed(page)
    return list(_words_of([" ".join(told.text), *told.attributes], data))


def untranslated_text(text: str, data: Iterable[str]) -> list[str]:
    """The same of plain text, such as that of a PDF."""
    return list(_words_of([text], data))


def _words_of(texts: Iterable[str], data: Iterable[str]) -> Iterator[str]:
    months = [name.casefold() for name in _month_names()]
    longest_first = sorted({*data, *MARKS}, key=len, reverse=True)
    for text in texts:
        left = re.sub(r"\s+", " ", _outside(text).replace("\N{ZERO WIDTH SPACE}", ""))
        for known in longest_first:
            left = left.replace(known, " ")
        for word in re.findall(r"[^\W\d_]{2,}", left):
            if word.casefold() not in months:
                yield word


def _month_names() -> set[str]:
    months = Locale.parse(CODE).months["format"]
    return {word for width in months.values() for name in width.values() for word in name.split()}


MARKS = ("Nearmark", "SHA-256", "English", "Español", "cm³", "cm3", " kg", " cm", " mm")
"""What is the same in every language, or named in its own."""
