"""The one place that every message passes through, so that it can be translated.

A message is a whole sentence, or a phrase that is complete in itself, with named placeholders:
``say("{item} has no key", item="C1")``.  The messages are found in the source by their calls
(``KEYWORDS``), so each is written out in one of them, never put together.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from gettext import NullTranslations
from typing import Final

KEYWORDS: Final = {"say": None, "say_count": (1, 2), "message": None}
"""The functions that hold messages, as a program that extracts messages wants to know them."""

_LANGUAGE: ContextVar[NullTranslations] = ContextVar("language")

_AS_WRITTEN: Final = NullTranslations()


def message(text: str, /) -> str:
    """A message of a table, to be said later: ``say(TABLE[kind])``.

    >>> message("one edge halved")
    'one edge halved'
    """
    return text


def say(text: str, /, **facts: object) -> str:
    """A message in the language in force, its placeholders filled.

    >>> say("{item} has no key", item="C1")
    'C1 has no key'
    """
    return _LANGUAGE.get(_AS_WRITTEN).gettext(text).format(**facts)


def say_count(one: str, many: str, n: int, /, **facts: object) -> str:
    """A message about ``n`` things, in the form that the language in force has for that number.

    >>> [say_count("{n} sheet is read", "{n} sheets are read", n) for n in (1, 2)]
    ['1 sheet is read', '2 sheets are read']
    """
    return _LANGUAGE.get(_AS_WRITTEN).ngettext(one, many, n).format(n=n, **facts)


@contextmanager
def spoken_in(language: NullTranslations) -> Iterator[None]:
    """Say every message in another language inside the block."""
    before = _LANGUAGE.set(language)
    try:
        yield
    finally:
        _LANGUAGE.reset(before)
