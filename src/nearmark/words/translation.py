"""The one place that every message passes through, so that it can be translated.

A message is a whole sentence, or a phrase that is complete in itself, with named placeholders:
``say("{item} has no key", item="C1")``.  The messages are found in the source by their calls
(``KEYWORDS``), so each is written out in one of them, never put together.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from gettext import NullTranslations
from typing import Final

KEYWORDS: Final = {"say": None, "say_count": (1, 2), "message": None}
"""The functions that hold messages, as a program that extracts messages wants to know them."""


@dataclass(frozen=True, slots=True)
class Language:
    """A language, and its messages."""

    code: str  # as the Unicode locale data write it, such as ``es``
    messages: NullTranslations  # from the English message to its own
    decimal_mark: str = "."


ENGLISH: Final = Language("en", NullTranslations())

_LANGUAGE: ContextVar[Language] = ContextVar("language", default=ENGLISH)

_NUMBER: Final = re.compile(r"([-+]?\d{1,3}(?:,\d{3})*|[-+]?[\d\xa0]+)(?:\.(\d+))?( %)?", re.ASCII)
"""As English writes it: the decimal mark is a point, thousands are set apart."""


def message(text: str, /) -> str:
    """A message of a table, to be said later: ``say(TABLE[kind])``.

    >>> message("one edge halved")
    'one edge halved'
    """
    return text


def say(text: str, /, **facts: object) -> str:
    """A message in the language in force, its placeholders filled.

    A fact that is nothing but a number is written as the language writes numbers.

    >>> say("{item} has no key", item="C1")
    'C1 has no key'
    """
    return _LANGUAGE.get().messages.gettext(text).format(**_written(facts))


def say_count(one: str, many: str, n: int, /, **facts: object) -> str:
    """A message about ``n`` things, in the form that the language in force has for that number.

    >>> [say_count("{n} sheet is read", "{n} sheets are read", n) for n in (1, 2)]
    ['1 sheet is read', '2 sheets are read']
    """
    form = _LANGUAGE.get().messages.ngettext(one, many, n)
    return form.format(n=n, **_written(facts))


def _written(facts: dict[str, object]) -> dict[str, object]:
    if _LANGUAGE.get().decimal_mark == ".":
        return facts
    return {name: digits(fact) if isinstance(fact, str) else fact for name, fact in facts.items()}


def digits(text: str) -> str:
    """A number that is written in figures, with the decimal mark of the language in force.

    ``text``: what is not a number is given back as it is. Where the decimal mark is no point,
    a space that no line breaks at sets the thousands apart.

    >>> with spoken_in(Language("es", NullTranslations(), ",")):
    ...     digits("-12.50"), digits("12.5 %"), digits("C1.2"), digits("12.5.26")
    ('-12,50', '12,5 %', 'C1.2', '12.5.26')
    """
    mark = _LANGUAGE.get().decimal_mark
    if mark == "." or not (found := _NUMBER.fullmatch(text)):
        return text
    whole = found[1].replace(",", "\N{NO-BREAK SPACE}")
    rest = f"{mark}{found[2]}" if found[2] else ""
    return f"{whole}{rest}{found[3] or ''}"


def language_in_force() -> Language:
    """The language in which messages are said now."""
    return _LANGUAGE.get()


def speak(language: Language) -> None:
    """Say every message in a language from here on, until the block around it ends."""
    _LANGUAGE.set(language)


@contextmanager
def spoken_in(language: Language) -> Iterator[None]:
    """Say every message in another language inside the block."""
    before = _LANGUAGE.set(language)
    try:
        yield
    finally:
        _LANGUAGE.reset(before)
